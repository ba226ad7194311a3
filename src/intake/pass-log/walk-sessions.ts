import type { PassWindow, WalkSession } from "../reader-log/reader-log.ts";
import type { LogContext } from "./log-context.ts";

/** When each round was walked at each read point, in their order: from the opening of its first window to the closing of its last. */
export function walkSessions(
  windows: readonly PassWindow[],
  { passes, facility }: LogContext,
): WalkSession[] {
  return facility.readPoints.flatMap((point, pointIndex) =>
    facility.rounds.flatMap((_, round) => {
      const own = windows.filter(({ pass }) => {
        const { readPoint, round: of } = passes.passes[pass]!;
        return readPoint === pointIndex && of === round;
      });
      if (own.length === 0) return [];
      return [
        {
          readPoint: point.id,
          round,
          fromUs: Math.min(...own.map((window) => window.fromUs)),
          toUs: Math.max(...own.map((window) => window.toUs)),
          walkedUs: own.reduce((sum, window) => sum + window.toUs - window.fromUs, 0),
        },
      ];
    }),
  );
}
