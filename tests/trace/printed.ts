import type { Interval } from "./independent-interval.ts";

export type Claim = "at least" | "at most";

/** Forgives binary arithmetic, so that 0.57 is 57.0 and not 56.9. */
const hair = 1e-9;

/** A percentage with one decimal, rounded against whoever makes the claim; nothing and everything stand bare. */
export function percent(rate: number, claim: Claim): string {
  if (rate === 0 || rate === 1) return String(100 * rate);
  const tenths = claim === "at least" ? Math.floor(rate * 1000 + hair) : Math.ceil(rate * 1000 - hair);
  return (tenths / 10).toFixed(1);
}

/** Lower, value, upper, as rows of tables and pictures hold them. */
export const flanked = ({ lower, value, upper }: Interval, claim: Claim) =>
  [lower, value, upper].map((rate) => percent(rate, claim)).join(" ");

/** Value (lower to upper), as sentences hold them. */
export const spoken = ({ lower, value, upper }: Interval, claim: Claim) =>
  `${percent(value, claim)} (${percent(lower, claim)} to ${percent(upper, claim)})`;

/** A signal with its decimals and a true minus; a bound on a missed tag is a word. */
export function dbm(value: number, decimals = 1, missed = "missed"): string {
  if (value === Number.NEGATIVE_INFINITY) return missed;
  return value.toFixed(decimals).replace("-", "−");
}

/** A difference in percentage points with one decimal: the value to the nearest, its bounds outwards. */
export function points({ lower, value, upper }: Interval): { lower: string; value: string; upper: string } {
  const text = (tenths: number) =>
    (tenths / 10)
      .toFixed(1)
      .replace(/^-(?!0\.0$)/, "−")
      .replace("-", "");
  return {
    lower: text(Math.floor(lower * 1000 + hair)),
    value: text(Math.round(value * 1000)),
    upper: text(Math.ceil(upper * 1000 - hair)),
  };
}

/** A p value with two figures, rounded up. */
export function surprise(p: number): string {
  const steps = 10 ** (1 - Math.floor(Math.log10(p)));
  const rounded = Math.ceil(p * steps - hair) / steps;
  return rounded >= 1 ? "1" : rounded.toFixed(Math.round(Math.log10(steps)));
}

const words = "no one two three four five six seven eight nine ten eleven twelve".split(" ");

/** Small numbers as running text spells them. */
export const spelled = (count: number) => words[count] ?? String(count);

const months = "January February March April May June July August September October November December".split(
  " ",
);

/** 2026-03-05 as the pages write it. */
export function longDate(date: string): string {
  const [year, month, day] = date.split("-").map(Number);
  return `${day} ${months[month! - 1]} ${year}`;
}
