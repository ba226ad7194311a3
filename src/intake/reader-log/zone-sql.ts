import { Temporal } from "temporal-polyfill";

interface Stretch {
  /** Microseconds on the wall's clock, as if it were UTC. */
  fromUs: number;
  toUs: number;
  /** Null where the wall's clock shows a time twice, or never. */
  offsetUs: number | null;
}

/**
 * The step from a wall's clock to UTC as SQL: exact, without the database's own table of zones, so that reader logs and pass logs
 * go by the same one. Null where the hour was skipped or came twice.
 */
export function wallToUtc(wall: string, zone: string): string {
  if (zone === "UTC") return wall;
  const stretches = wallStretches(zone);
  return branch(stretches, 0, stretches.length - 1);

  // A search by halves: every row passes through seven or eight comparisons, however many changes a zone has.
  function branch(all: readonly Stretch[], from: number, to: number): string {
    if (from === to) {
      const { offsetUs } = all[from]!;
      return offsetUs === null ? "NULL" : `${wall} - ${offsetUs}`;
    }
    const middle = Math.ceil((from + to) / 2);
    return `CASE WHEN ${wall} < ${all[middle]!.fromUs} THEN ${branch(all, from, middle - 1)} ELSE ${branch(all, middle, to)} END`;
  }
}

/** The stretches of a zone's wall clock from 1990 to 2100. */
function wallStretches(zone: string): Stretch[] {
  let at = Temporal.Instant.from("1990-01-01T00:00:00Z").toZonedDateTimeISO(zone);
  const end = Temporal.Instant.from("2100-01-01T00:00:00Z").epochMilliseconds;
  const stretches: Stretch[] = [
    { fromUs: Number.MIN_SAFE_INTEGER, toUs: Number.MAX_SAFE_INTEGER, offsetUs: offsetUs(at) },
  ];
  for (;;) {
    const next = at.getTimeZoneTransition("next");
    if (next === null || next.epochMilliseconds >= end) return stretches;
    const last = stretches.at(-1)!;
    const [before, after] = [last.offsetUs!, offsetUs(next)];
    at = next;
    if (before === after) continue;
    const changeUs = next.epochMilliseconds * 1000;
    const fromUs = changeUs + Math.min(before, after);
    const toUs = changeUs + Math.max(before, after);
    last.toUs = fromUs;
    stretches.push({ fromUs, toUs, offsetUs: null });
    stretches.push({ fromUs: toUs, toUs: Number.MAX_SAFE_INTEGER, offsetUs: after });
  }
}

function offsetUs(at: Temporal.ZonedDateTime): number {
  return at.offsetNanoseconds / 1000;
}
