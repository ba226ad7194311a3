import { decimalText } from "../../model/number-words.ts";

/** Below this, how small p is says nothing more. */
const smallest = 0.0001;

/** A p value with two figures, rounded up, so that no change looks surer than it is: `0.013`, `below 0.0001`, `1`. */
export function pText(p: number): string {
  if (p < smallest) return `below ${decimalText(smallest, 4)}`;
  const digits = 1 - Math.floor(Math.log10(p));
  const scale = 10 ** digits;
  // A hair forgives binary arithmetic: 0.07 is 0.070, not 0.071.
  const rounded = Math.ceil(p * scale - 1e-9) / scale;
  return rounded >= 1 ? "1" : decimalText(rounded, digits);
}
