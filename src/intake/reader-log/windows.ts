import type { LogDatabase } from "./database/database.ts";
import type { PassWindow, WalkSession } from "./reader-log.ts";

const minuteUs = 60_000_000;
const shortestBucketUs = 1_000_000;
/** Far more time buckets than any log has: it keeps the buckets of two read points apart, even of times before the first window. */
export const bucketBits = 40;
const bucketsPerPoint = 2 ** bucketBits;

/** A stretch of a clock minute outside all pass windows that lies wholly inside or outside each session, both ends included. */
interface IdleStretch {
  readPoint: string;
  minute: number;
  fromUs: number;
  toUs: number;
}

/** When the read points were walked. */
interface Walked {
  windows: readonly PassWindow[];
  sessions: readonly WalkSession[];
  /** The numbers of the read points. */
  points: ReadonlyMap<string, number>;
}

/**
 * Fills the tables `windows`, `idle_stretches` and `sessions`. Windows are cut at time buckets, so that a read finds its window by equality of bucket and
 * only its two ends are compared. A bucket is as long as a window on average, which keeps the table small.
 *
 * @returns SQL for whether a row of `windows` (by the name of `table`) holds a read with `point` at `t`, and the first place that is an idle stretch
 */
export async function fillWindows(
  database: LogDatabase,
  { windows, sessions, points }: Walked,
): Promise<{ inWindow(t: string, table: string): string; firstStretch: number }> {
  const stretches = idleStretches(sessions, windows);
  const firstStretch = windows.reduce((most, { pass }) => Math.max(most, pass), -1) + 1;
  const places = [
    ...windows.map(({ pass, ...window }) => ({ place: pass, ...window })),
    ...stretches.map((stretch, index) => ({ place: firstStretch + index, ...stretch })),
  ];
  const totalUs = places.reduce((sum, { fromUs, toUs }) => sum + toUs - fromUs, 0);
  const bucketUs = Math.max(shortestBucketUs, Math.ceil(totalUs / Math.max(1, places.length)));
  const baseUs = places.reduce((least, { fromUs }) => Math.min(least, fromUs), places[0]?.fromUs ?? 0);
  const rows: number[][] = [];
  for (const { place, readPoint, fromUs, toUs } of places) {
    const last = Math.floor((toUs - baseUs) / bucketUs);
    for (let bucket = Math.floor((fromUs - baseUs) / bucketUs); bucket <= last; bucket += 1)
      rows.push([points.get(readPoint)! * bucketsPerPoint + bucket, place, fromUs, toUs]);
  }
  await database.fill("windows", rows);
  await database.fill(
    "idle_stretches",
    stretches.map(({ readPoint, minute, fromUs }, index) => [
      firstStretch + index,
      points.get(readPoint)!,
      minute,
      fromUs,
    ]),
  );
  await database.fill(
    "sessions",
    sessions.map(({ readPoint, fromUs, toUs }, index) => [index, points.get(readPoint)!, fromUs, toUs]),
  );
  const inWindow = (t: string, table: string) =>
    `${table}.bucket = point * ${bucketsPerPoint} + (${t} - ${baseUs}) // ${bucketUs} AND ${t} BETWEEN ${table}.from_us AND ${table}.to_us`;
  return { inWindow, firstStretch };
}

/**
 * Idle reads are added up by clock minute. A minute in which a session begins or ends belongs to it only in part: it is cut there, and at the
 * windows. All other minutes lie in a session or outside it as they are.
 */
function idleStretches(sessions: readonly WalkSession[], windows: readonly PassWindow[]): IdleStretch[] {
  const stretches: IdleStretch[] = [];
  for (const readPoint of new Set(sessions.map((session) => session.readPoint))) {
    const isHere = (each: { readPoint: string }) => each.readPoint === readPoint;
    const borders = sessions.filter(isHere).flatMap(bordersOf);
    const own = windows.filter(isHere);
    const cutMinutes = borders.filter((us) => us % minuteUs !== 0).map((us) => Math.floor(us / minuteUs));
    for (const minute of new Set(cutMinutes)) {
      const [first, end] = [minute * minuteUs, (minute + 1) * minuteUs];
      const cuts = [...borders, ...own.flatMap(bordersOf)].filter((us) => us > first && us < end);
      const starts = [...new Set([first, ...cuts])].sort((a, b) => a - b);
      for (const [index, fromUs] of starts.entries()) {
        const toUs = (starts[index + 1] ?? end) - 1;
        if (!own.some((window) => fromUs >= window.fromUs && toUs <= window.toUs))
          stretches.push({ readPoint, minute, fromUs, toUs });
      }
    }
  }
  return stretches;
}

/** Where it begins, and where what follows begins. */
function bordersOf({ fromUs, toUs }: { fromUs: number; toUs: number }): [number, number] {
  return [fromUs, toUs + 1];
}
