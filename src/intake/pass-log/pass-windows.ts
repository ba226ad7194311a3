import { max, min } from "simple-statistics";
import type { FullText } from "../problems/card/problem.ts";
import { passesOverlap, passOutsideLog, readerLogSilent } from "../problems/log-rules.ts";
import type { LogSpan, PassWindow, WalkSession } from "../reader-log/reader-log.ts";
import type { FacilityLogs } from "./read.ts";
import { isTimed, type LogPass } from "./rows/passes.ts";

/* When timed passes were under way: a read belongs to the pass whose window holds it. */

/** The stretch of time in which reads belong to a timed pass. */
export function passWindows({ passes, facility }: FacilityLogs): PassWindow[] {
  const { beforeS, afterS } = facility.passWindow;
  return passes.flatMap((pass) => {
    const readPoint = facility.readPoints[pass.readPoint]?.id;
    if (!isTimed(pass) || pass.startedAt === null || pass.endedAt === null || readPoint === undefined)
      return [];
    return [
      {
        pass: pass.number,
        readPoint,
        fromUs: pass.startedAt.time.epochUs - Math.round(beforeS * 1e6),
        toUs: pass.endedAt.time.epochUs + Math.round(afterS * 1e6),
      },
    ];
  });
}

/** When each round was walked at each read point, in their order: from its first window's start to its last one's end. */
export function walkSessions(
  windows: readonly PassWindow[],
  { passes, facility }: FacilityLogs,
): WalkSession[] {
  return facility.readPoints.flatMap((point, readPoint) =>
    facility.rounds.flatMap((_, round) => {
      const own = windows.filter(({ pass }) => {
        const walked = passes[pass]!;
        return walked.readPoint === readPoint && walked.round === round;
      });
      if (own.length === 0) return [];
      return [
        {
          readPoint: point.id,
          round,
          fromUs: min(own.map((window) => window.fromUs)),
          toUs: max(own.map((window) => window.toUs)),
          walkedUs: own.reduce((sum, window) => sum + window.toUs - window.fromUs, 0),
        },
      ];
    }),
  );
}

/** Objects to windows of one read point that overlap: a read in both would belong to two passes. */
export function checkOverlaps(windows: readonly PassWindow[], { passes }: FacilityLogs): void {
  const sorted = [...windows].sort((a, b) => a.fromUs - b.fromUs || a.toUs - b.toUs || a.pass - b.pass);
  const lastAt = new Map<string, PassWindow>();
  for (const window of sorted) {
    const before = lastAt.get(window.readPoint);
    if (before !== undefined && window.fromUs <= before.toUs) {
      const [pass, other] = [passes[window.pass]!, passes[before.pass]!];
      const facts = {
        pass: pass.id,
        startedAt: pass.startedAt!.time.local,
        endedAt: pass.endedAt!.time.local,
        other: other.id,
        otherEndedAt: other.endedAt!.time.local,
      };
      reportAtStart(pass, passesOverlap.with(facts));
    }
    if (before === undefined || window.toUs > before.toUs) lastAt.set(window.readPoint, window);
  }
}

/** Objects to timed passes that the reader's log does not cover: silence there does not mean that tags were missed. */
export function checkCovered(
  windows: PassWindow[],
  spans: readonly LogSpan[],
  { passes }: FacilityLogs,
): void {
  const spanOf = new Map(spans.map((span) => [span.readPoint, span]));
  for (const { pass: number, readPoint, fromUs, toUs } of windows) {
    const pass = passes[number]!;
    const span = spanOf.get(readPoint);
    if (span === undefined) reportAtStart(pass, readerLogSilent.with({ pass: pass.id, readPoint }));
    else if (toUs < span.fromUs || fromUs > span.toUs) {
      const [from, to] = [instant(span.fromUs), instant(span.toUs)];
      const facts = { pass: pass.id, startedAtUtc: pass.startedAt!.time.utc, from, to, readPoint };
      reportAtStart(pass, passOutsideLog.with(facts));
    }
  }
}

function instant(us: number): string {
  return new Date(Math.round(us / 1000)).toISOString();
}

function reportAtStart({ startedAt, file }: LogPass, problem: FullText): void {
  file.report.at({ record: startedAt!.at, field: file.header.fields.get("started_at")! }, problem);
}
