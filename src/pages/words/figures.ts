import { rounded } from "../../measures/rounding.ts";
import { statedNumber, thinSpace } from "../../model/number-words.ts";

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

/** Below this, how small p is says nothing more. */
const smallest = 0.0001;

/** A p value with two figures, rounded up, so that no change looks surer than it is: `0.013`, `below 0.0001`, `1`. */
export function pText(p: number): string {
  if (p < smallest) return `below ${rounded(smallest, 4, "up")}`;
  const text = rounded(p, 1 - Math.floor(Math.log10(p)), "up");
  return Number(text) >= 1 ? "1" : text;
}

/** A risk in per cent, rounded up to a tenth: never smaller in print than it is. */
export function riskText(chance: number): string {
  const text = rounded(chance * 100, 1, "up");
  return Number(text) <= 0.1 ? `at most 0.1${thinSpace}%` : `${text}${thinSpace}%`;
}

/** A chance to the nearest tenth of a per cent: `90.6 %`; 0 or 100 only where less than a millionth is lacking. */
export function chanceText(chance: number): string {
  const text = rounded(chance * 100, 1, "nearest");
  if (text === "0.0" && chance > 1e-6) return `under 0.1${thinSpace}%`;
  if (text === "100.0" && chance < 1 - 1e-6) return `over 99.9${thinSpace}%`;
  return `${text}${thinSpace}%`;
}

/** A true rate of a curve as a percentage, to four decimals at most. */
export function trueRateText(rate: number): string {
  return `${statedNumber(Number((rate * 100).toFixed(4)))}${thinSpace}%`;
}
