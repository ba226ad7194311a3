import { Temporal } from "temporal-polyfill";

/** A stretch of a zone's wall clock. */
interface Stretch {
  /** Where it begins: microseconds on the wall clock, as if it were UTC. */
  fromUs: number;
  /** Null where the wall clock skips this time or shows it twice. */
  offsetUs: number | null;
}

/** Some years, the first and the last included. */
export interface Years {
  first: number;
  last: number;
}

const dayUs = 86_400_000_000;

/**
 * From wall clock to UTC, as SQL over microseconds; null where the clocks skipped that time or showed it twice, and outside the years: each
 * change of the clocks makes the statement longer to plan. Made of the table of zones that pass logs go by, not of the database's own.
 */
export function wallToUtc(wallUs: string, zone: string, years: Years): string {
  if (zone === "UTC") return wallUs;
  const fromUs = Date.UTC(years.first, 0, 1) * 1000;
  const toUs = Date.UTC(years.last + 1, 0, 1) * 1000 - 1;
  // Two days more at either end, so that no offset leads out of the stretches.
  const stretches = wallStretches(zone, fromUs - 2 * dayUs, toUs + 2 * dayUs);
  return `CASE WHEN ${wallUs} BETWEEN ${fromUs} AND ${toUs} THEN ${wallUs} - (${offsetOf(0, stretches.length - 1)}) END`;

  /** A binary search: few comparisons a row, however many changes a zone has. */
  function offsetOf(from: number, to: number): string {
    if (from === to) return String(stretches[from]!.offsetUs ?? "NULL");
    const middle = Math.ceil((from + to) / 2);
    return `CASE WHEN ${wallUs} < ${stretches[middle]!.fromUs} THEN ${offsetOf(from, middle - 1)} ELSE ${offsetOf(middle, to)} END`;
  }
}

function wallStretches(zone: string, fromUs: number, toUs: number): Stretch[] {
  let at = Temporal.Instant.fromEpochMilliseconds(fromUs / 1000).toZonedDateTimeISO(zone);
  const stretches: Stretch[] = [{ fromUs: Number.MIN_SAFE_INTEGER, offsetUs: offsetUs(at) }];
  for (;;) {
    const next = at.getTimeZoneTransition("next");
    if (next === null || next.epochMilliseconds * 1000 > toUs) return stretches;
    const [before, after] = [offsetUs(at), offsetUs(next)];
    at = next;
    if (before === after) continue;
    const changeUs = next.epochMilliseconds * 1000;
    stretches.push({ fromUs: changeUs + Math.min(before, after), offsetUs: null });
    stretches.push({ fromUs: changeUs + Math.max(before, after), offsetUs: after });
  }
}

function offsetUs(at: Temporal.ZonedDateTime): number {
  return at.offsetNanoseconds / 1000;
}
