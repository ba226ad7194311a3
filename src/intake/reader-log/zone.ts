import { Temporal } from "temporal-polyfill";

/** A stretch of a zone's wall clock. */
interface Stretch {
  /** Where it begins: microseconds on the wall clock, as if it were UTC. */
  fromUs: number;
  /** Null where the wall clock skips this time or shows it twice. */
  offsetUs: number | null;
}

/**
 * From wall clock to UTC, as SQL over microseconds; null where the clocks skipped that hour or showed it twice. Made of the table of zones
 * that pass logs go by, not of the database's own.
 */
export function wallToUtc(wallUs: string, zone: string): string {
  if (zone === "UTC") return wallUs;
  const stretches = wallStretches(zone);
  return `${wallUs} - (${offsetOf(0, stretches.length - 1)})`;

  /** A binary search: eight comparisons a row, however many changes a zone has. */
  function offsetOf(from: number, to: number): string {
    if (from === to) return String(stretches[from]!.offsetUs ?? "NULL");
    const middle = Math.ceil((from + to) / 2);
    return `CASE WHEN ${wallUs} < ${stretches[middle]!.fromUs} THEN ${offsetOf(from, middle - 1)} ELSE ${offsetOf(middle, to)} END`;
  }
}

/** The wall clock of a zone from 1990 to 2100. */
function wallStretches(zone: string): Stretch[] {
  let at = Temporal.Instant.from("1990-01-01T00:00:00Z").toZonedDateTimeISO(zone);
  const end = Temporal.Instant.from("2100-01-01T00:00:00Z").epochMilliseconds;
  const stretches: Stretch[] = [{ fromUs: Number.MIN_SAFE_INTEGER, offsetUs: offsetUs(at) }];
  for (;;) {
    const next = at.getTimeZoneTransition("next");
    if (next === null || next.epochMilliseconds >= end) return stretches;
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
