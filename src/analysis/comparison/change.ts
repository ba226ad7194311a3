import type { Change } from "../../model/result.ts";

/**
 * What a difference amounts to.
 *
 * Better or worse where its interval excludes 0, however small it is; no change that matters where the interval lies
 * within plus and minus `smallestThatMatters` (0..1), ends included; else no change is shown, which is not the same:
 * there may be one that the walk was too short to show.
 * Example: 0.01 to 0.07 is better; -0.003 to 0.004 is no change that matters at 0.005; -0.01 to 0.02 shows none.
 */
export function changeOf(
  difference: { lower: number; upper: number },
  smallestThatMatters: number,
): Exclude<Change, "not-comparable"> {
  const { lower, upper } = difference;
  if (lower > 0) return "better";
  if (upper < 0) return "worse";
  return lower >= -smallestThatMatters && upper <= smallestThatMatters
    ? "no-change-that-matters"
    : "no-change-shown";
}
