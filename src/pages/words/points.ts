import { rounded } from "../../measures/rounding.ts";
import { thinSpace } from "../../model/number-words.ts";

/** A difference of two rates as it is printed, in percentage points without their unit. */
export interface PointFigures {
  value: string;
  lower: string;
  upper: string;
}

const fewest = 1;
const most = 4;

/**
 * The figures of a difference in percentage points: the value to the nearest step, the bounds outwards, so that what is
 * printed never claims more than was found. One decimal, and as many more, up to four, as keep a figure that is not
 * nought from being printed as nought.
 */
export function pointFigures(difference: { value: number; lower: number; upper: number }): PointFigures {
  const { value, lower, upper } = difference;
  const written = (digits: number): PointFigures => ({
    value: rounded(value * 100, digits, "nearest"),
    lower: rounded(lower * 100, digits, "down"),
    upper: rounded(upper * 100, digits, "up"),
  });
  for (let digits = fewest; digits < most; digits += 1) {
    const figures = written(digits);
    const vanishes = ([rate, text]: readonly [number, string]) => rate !== 0 && !/[1-9]/.test(text);
    const shown = [
      [value, figures.value],
      [lower, figures.lower],
      [upper, figures.upper],
    ] as const;
    // What binary arithmetic leaves of nought is nought.
    if (!shown.some((one) => Math.abs(one[0]) > 1e-9 && vanishes(one))) return figures;
  }
  return written(most);
}

/** A change in percentage points as it was stated: `0.5 percentage points`. */
export function pointsText(figure: string): string {
  return `${figure}${thinSpace}percentage points`;
}
