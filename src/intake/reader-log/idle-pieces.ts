import type { PassWindow, WalkSession } from "./reader-log.ts";

const minuteUs = 60_000_000;

/** A stretch of a clock minute outside the windows that lies wholly inside or wholly outside each session. */
export interface IdlePiece {
  readPoint: string;
  minute: number;
  /** Microseconds since 1970, both ends included. */
  fromUs: number;
  toUs: number;
}

/**
 * Idle reads are added up by clock minute. A minute in which a session begins or ends belongs to it only in part: such minutes are
 * cut there, and at the windows. All other minutes are in a session or out of it as they stand.
 */
export function idlePieces(sessions: readonly WalkSession[], windows: readonly PassWindow[]): IdlePiece[] {
  const pieces: IdlePiece[] = [];
  for (const readPoint of new Set(sessions.map((session) => session.readPoint))) {
    const isHere = (each: { readPoint: string }) => each.readPoint === readPoint;
    const borders = sessions.filter(isHere).flatMap(starts);
    const own = windows.filter(isHere);
    const minutes = new Set(
      borders.filter((us) => us % minuteUs !== 0).map((us) => Math.floor(us / minuteUs)),
    );
    for (const minute of minutes) {
      const [first, end] = [minute * minuteUs, (minute + 1) * minuteUs];
      const cuts = [...borders, ...own.flatMap(starts)].filter((us) => us > first && us < end);
      const from = [...new Set([first, ...cuts])].sort((a, b) => a - b);
      for (const [index, fromUs] of from.entries()) {
        const toUs = (from[index + 1] ?? end) - 1;
        if (!own.some((window) => fromUs >= window.fromUs && toUs <= window.toUs))
          pieces.push({ readPoint, minute, fromUs, toUs });
      }
    }
  }
  return pieces;
}

/** Where something else begins. */
function starts({ fromUs, toUs }: { fromUs: number; toUs: number }): [number, number] {
  return [fromUs, toUs + 1];
}
