import { quoted } from "../quotation.ts";
import type { LogSpan, PassWindow } from "../reader-log/reader-log.ts";
import type { LogContext } from "./log-context.ts";
import type { OpenPass } from "./pass-book.ts";

/** The stretch of time in which reads belong to a timed pass. */
export function windowsOf({ passes, facility }: LogContext): PassWindow[] {
  const { beforeS, afterS } = facility.passWindow;
  return passes.passes.flatMap((pass) => {
    if (pass.form !== "timed" || pass.startedAt === null || pass.endedAt === null) return [];
    return [
      {
        pass: pass.index,
        readPoint: facility.readPoints[pass.readPoint]!.id,
        fromUs: Math.round((pass.startedAt.epochMs - beforeS * 1000) * 1000),
        toUs: Math.round((pass.endedAt.epochMs + afterS * 1000) * 1000),
      },
    ];
  });
}

/** Objects to windows of one read point that overlap: a read in both would belong to two passes. */
export function checkOverlaps(windows: PassWindow[], context: LogContext): void {
  const sorted = [...windows].sort((a, b) => a.fromUs - b.fromUs || a.toUs - b.toUs || a.pass - b.pass);
  const lastAt = new Map<string, PassWindow>();
  for (const window of sorted) {
    const before = lastAt.get(window.readPoint);
    if (before !== undefined && window.fromUs <= before.toUs) {
      const [pass, other] = [context.passes.passes[window.pass]!, context.passes.passes[before.pass]!];
      report(
        pass,
        context,
        "passes-overlap",
        `pass ${quoted(pass.id)}, under way from ${pass.startedAt!.local} to ${pass.endedAt!.local}`,
        `a pass that begins after ${quoted(other.id)} at the same read point has ended (${other.endedAt!.local})`,
        "Correct the times, or make pass_window shorter: a read in both would belong to two passes.",
      );
    }
    if (before === undefined || window.toUs > before.toUs) lastAt.set(window.readPoint, window);
  }
}

/** Objects to timed passes of which the reader's log cannot say anything: silence there is no walk of misses. */
export function checkCovered(windows: PassWindow[], spans: LogSpan[], context: LogContext): void {
  const spanOf = new Map(spans.map((span) => [span.readPoint, span]));
  for (const window of windows) {
    const pass = context.passes.passes[window.pass]!;
    const span = spanOf.get(window.readPoint);
    if (span === undefined) {
      report(
        pass,
        context,
        "reader-log-silent",
        `pass ${quoted(pass.id)} at ${quoted(window.readPoint)}`,
        "a read point of which a reader log holds reads",
        "Add its log under reader_logs, or check which values of the log stand for this read point.",
      );
    } else if (window.toUs < span.fromUs || window.fromUs > span.toUs) {
      report(
        pass,
        context,
        "pass-outside-log",
        `pass ${quoted(pass.id)} at ${pass.startedAt!.utc} (UTC)`,
        `a time between ${instant(span.fromUs)} and ${instant(span.toUs)}, which the log of ${quoted(window.readPoint)} covers`,
        "Add the missing log, correct the times, or state the reader's clock_offset_s. A pass without a log is no walk of misses.",
      );
    }
  }
}

function instant(us: number): string {
  return new Date(Math.round(us / 1000)).toISOString();
}

function report(
  pass: OpenPass,
  { files }: LogContext,
  code: string,
  found: string,
  expected: string,
  advice: string,
): void {
  const file = files[pass.file]!;
  file.report.error(
    pass.startRecord,
    file.header.fields.get("started_at") ?? null,
    code,
    found,
    expected,
    advice,
  );
}
