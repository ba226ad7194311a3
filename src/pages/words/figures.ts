import { rounded } from "../../measures/rounding.ts";
import { decimalText, statedNumber, thinSpace } from "../../model/number-words.ts";

/** A difference of two rates as it is printed, in percentage points without their unit. */
export interface PointFigures {
  value: string;
  lower: string;
  upper: string;
}

const fewest = 1;
const most = 4;

/**
 * The figures of a difference in percentage points: the value rounded to the nearest step and the bounds outwards, so that
 * the printed interval never claims too much. One decimal, or up to four if a figure that is not 0 would be printed as 0.
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
    // The remainder of binary arithmetic is 0.
    if (!shown.some((one) => Math.abs(one[0]) > 1e-9 && vanishes(one))) return figures;
  }
  return written(most);
}

/** A change in percentage points as it was stated: `0.5 percentage points`. */
export function pointsText(figure: string): string {
  return `${figure}\u00a0percentage points`;
}

/** The level of a signal: `−61.5 dBm`. */
export function levelText(dbm: number): string {
  return `${decimalText(dbm, 1)}${thinSpace}dBm`;
}

/** Smaller values of p are not told apart. */
const smallest = 0.0001;

/** A p value with two figures, rounded up, so that no change looks surer than it is: `0.013`, `below 0.0001`, `1`. */
export function pText(p: number): string {
  if (p < smallest) return `below ${rounded(smallest, 4, "up")}`;
  const text = rounded(p, 1 - Math.floor(Math.log10(p)), "up");
  return Number(text) >= 1 ? "1" : text;
}

/** A risk in per cent, rounded up to a tenth. */
export function riskText(chance: number): string {
  const text = rounded(chance * 100, 1, "up");
  return Number(text) <= 0.1 ? `at most 0.1${thinSpace}%` : `${text}${thinSpace}%`;
}

/** A probability to the nearest tenth of a per cent: `90.6 %`; 0 or 100 only within a millionth. */
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
