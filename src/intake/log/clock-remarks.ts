import { bestShift } from "../../analysis/clock-shift.ts";
import { clockSentence } from "../describe/clock-sentence.ts";
import type { PassWindow, ReaderLogSpec, ReaderLogs } from "../reader/reader-log.ts";
import type { YamlReporter } from "../yaml/reporter.ts";

/**
 * Where most reads of a read point miss its passes and a constant shift would bring them in, says so, with the shift. It
 * suggests; nothing is shifted.
 */
export function remarkOnClocks(
  specs: ReaderLogSpec[],
  windows: PassWindow[],
  logs: ReaderLogs,
  report: YamlReporter,
): void {
  const points = new Set(logs.doubtfulSeconds.map(({ readPoint }) => readPoint));
  for (const point of points) {
    const shift = bestShift({
      windows: windows
        .filter(({ readPoint }) => readPoint === point)
        .map(({ fromUs, toUs }) => ({ fromS: fromUs / 1e6, toS: toUs / 1e6 })),
      reads: logs.doubtfulSeconds
        .filter(({ readPoint }) => readPoint === point)
        .map(({ second, reads }) => ({ atS: second + 0.5, count: reads })),
    });
    if (shift === null) continue;
    const index = specs.findIndex((spec) => serves(spec, point));
    const { found, expected, advice } = clockSentence(shift, specs[index]!.clockOffsetS);
    report.warning(["reader_logs", index], "clock-shifted", `at ${point}: ${found}`, expected, advice);
  }
}

function serves({ readPoint }: ReaderLogSpec, point: string): boolean {
  return readPoint.kind === "fixed"
    ? readPoint.readPoint === point
    : Object.values(readPoint.values).includes(point);
}
