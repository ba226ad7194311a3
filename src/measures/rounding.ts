import { decimalText, powerOfTen } from "../model/number-words.ts";

/**
 * The error of binary arithmetic that is forgiven, in units of the last printed digit: 0.57 is 57 %, though 0.57 * 100 is
 * 56.99999999999999.
 */
const hair = 1e-8;

/** A number with `digits` decimals. All figures on the pages and in the terminal are rounded here. */
export function rounded(value: number, digits: number, direction: "down" | "up" | "nearest"): string {
  const scale = powerOfTen(digits);
  const steps = value * scale;
  const nearest = Math.round(steps);
  if (direction === "nearest" || Math.abs(steps - nearest) < hair)
    return decimalText(nearest / scale, digits);
  return decimalText((direction === "down" ? Math.floor(steps) : Math.ceil(steps)) / scale, digits);
}

/** One end of a ratio, rounded outwards to two figures, five decimals at most: `12`, `3.1`, `0.41`, `0.0049`. */
export function ratioEnd(value: number, direction: "down" | "up"): string {
  if (value < 1e-5) return direction === "down" ? "0" : "0.00001";
  const digits = [9.95, 0.95, 0.095, 0.0095, 0.00095].filter((below) => value < below).length;
  return rounded(value, digits, direction);
}

/** `3.1 to 9.4`; `at least 3.1` without an upper end, or with one that tells nothing. */
export function ratioRange([lower, upper]: readonly [number, number | null]): string {
  const least = ratioEnd(lower, "down");
  return upper === null || upper >= 1000 ? `at least ${least}` : `${least} to ${ratioEnd(upper, "up")}`;
}

/** `3.1 to 9.4 times as often`. */
export function timesAsOften(ratio: readonly [number, number | null]): string {
  return `${ratioRange(ratio)} times as often`;
}
