import type { Measure } from "../../measures/measure.ts";
import { figuresOf, intervalPhrase, withUnit } from "../../measures/scales.ts";
import type { Estimate } from "../../model/result.ts";

/** What a rate shows where no limit is required of it: `588 of 600 tags read: 98.0 % (96.5 to 98.9).` */
export function rateSentence({ words, scale, usualSense }: Measure, estimate: Estimate): string {
  if (estimate.n === 0) return words.nothing;
  const figures = figuresOf(estimate, { scale, sense: usualSense });
  return `${words.count(estimate.k, estimate.n)}: ${withUnit(figures.value, scale)} (${intervalPhrase(figures, scale)}).`;
}
