import type { ClockShift } from "./clock.ts";

/**
 * What to say of a reader's clock that is off by a constant, beyond any offset stated already: the words of a problem.
 * `shared`: the entry's log holds other readers too, whose clocks are not off by as much.
 */
export function clockSentence(
  shift: ClockShift,
  statedOffsetS = 0,
  shared = false,
): { found: string; expected: string; advice: string } {
  const { insideNow, insideShifted, total, shiftS } = shift;
  const size = Math.abs(shiftS).toFixed(1);
  const moved = shiftS < 0 ? `${size} s were subtracted from` : `${size} s were added to`;
  const offset = `clock_offset_s: ${(statedOffsetS + shiftS).toFixed(1)}`;
  const where = shared
    ? `put this reader's rows into a log and an entry of reader_logs of their own, with ${offset}: the other readers of this entry do not show the same difference`
    : `write ${offset} in this entry of reader_logs`;
  return {
    found: `${insideNow} of ${total} reads fall inside passes; ${insideShifted} would if ${moved} the reader's clock`,
    expected:
      "a reader log and a pass sheet that go by the same clock, or a stated difference between the two",
    advice:
      `Compare the two clocks: the figure is only good to about a second. If they are known to differ, ` +
      `${where}${zoneHint(shiftS)}. Nothing was shifted.`,
  };
}

/** Whole and half hours are rather a zone than a clock that runs wrong. */
function zoneHint(shiftS: number): string {
  const hours = Math.round(shiftS / 1800) / 2;
  if (hours === 0 || Math.abs(shiftS - hours * 3600) > 60) return "";
  return (
    `; so near to ${Math.abs(hours)} h it may be a time zone or summer time instead, ` +
    "which time: { zone: ... } puts right"
  );
}
