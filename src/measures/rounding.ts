import { decimalText } from "../model/number-words.ts";

/**
 * The error of binary arithmetic that is forgiven, in units of the last printed digit: 0.57 is 57 %, though 0.57 * 100 is
 * 56.99999999999999.
 */
const hair = 1e-8;

/** A number with `digits` decimals. All figures on the pages and in the terminal are rounded here. */
export function rounded(value: number, digits: number, direction: "down" | "up" | "nearest"): string {
  const scale = 10 ** digits;
  const steps = value * scale;
  const nearest = Math.round(steps);
  if (direction === "nearest" || Math.abs(steps - nearest) < hair)
    return decimalText(nearest / scale, digits);
  return decimalText((direction === "down" ? Math.floor(steps) : Math.ceil(steps)) / scale, digits);
}
