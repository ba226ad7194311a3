import type { ReaderLogSpec } from "../../model/facility.ts";
import { clockShifted } from "../problems/reader-log.ts";
import type { YamlReport } from "../problems/reports.ts";
import { bestShift, type ClockShift } from "../reader-log/clock.ts";
import { clockSentence } from "../reader-log/clock-sentence.ts";
import type { PassWindow, ReaderLogs } from "../reader-log/reader-log.ts";

/** Two shifts nearer to each other than this are of one clock: each is good to about a second. */
const sameClockS = 2;

/**
 * Where most reads of a read point miss its passes and a constant shift would bring them in, says so, with the shift. It
 * suggests; nothing is shifted.
 */
export function remarkOnClocks(
  specs: ReaderLogSpec[],
  windows: PassWindow[],
  logs: ReaderLogs,
  report: YamlReport,
): void {
  const shifts = new Map<string, ClockShift>();
  for (const point of new Set(logs.doubtfulSeconds.map(({ readPoint }) => readPoint))) {
    const shift = bestShift({
      windows: windows
        .filter(({ readPoint }) => readPoint === point)
        .map(({ fromUs, toUs }) => ({ fromS: fromUs / 1e6, toS: toUs / 1e6 })),
      reads: logs.doubtfulSeconds
        .filter(({ readPoint }) => readPoint === point)
        .map(({ second, reads }) => ({ atS: second + 0.5, count: reads })),
    });
    if (shift !== null) shifts.set(point, shift);
  }
  const walked = new Set(windows.map(({ readPoint }) => readPoint));
  for (const [point, shift] of shifts) {
    const index = specs.findIndex((spec) => pointsOf(spec).includes(point));
    const shared = pointsOf(specs[index]!).some(
      (other) => walked.has(other) && Math.abs((shifts.get(other)?.shiftS ?? 0) - shift.shiftS) > sameClockS,
    );
    const { found, expected, advice } = clockSentence(shift, specs[index]!.clockOffsetS, shared);
    report.value(["reader_logs", index], clockShifted.with({ readPoint: point, found, expected, advice }));
  }
}

/** The read points that an entry names. */
export function pointsOf({ readPoint }: ReaderLogSpec): string[] {
  return readPoint.kind === "fixed" ? [readPoint.readPoint] : Object.values(readPoint.values);
}
