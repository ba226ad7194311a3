import { rounded } from "../../measures/rounding.ts";

/** Below this, how small p is says nothing more. */
const smallest = 0.0001;

/** A p value with two figures, rounded up, so that no change looks surer than it is: `0.013`, `below 0.0001`, `1`. */
export function pText(p: number): string {
  if (p < smallest) return `below ${rounded(smallest, 4, "up")}`;
  const text = rounded(p, 1 - Math.floor(Math.log10(p)), "up");
  return Number(text) >= 1 ? "1" : text;
}
