import type { Estimate } from "../../model/estimate.ts";
import type { MeasureId } from "../../model/facility.ts";
import { countPhrase } from "./measures.ts";
import { figuresOf, intervalPhrase, usualSense, withUnit } from "./rates.ts";

/** What a rate shows where no limit is asked of it: `588 of 600 tags read: 98.0 % (96.5 to 98.9).` */
export function rateSentence(measure: MeasureId, estimate: Estimate): string {
  if (estimate.n === 0) return nothing(measure);
  const figures = figuresOf(estimate, measure, usualSense(measure));
  const count = countPhrase(measure, estimate.k, estimate.n);
  return `${count}: ${withUnit(figures.value, figures.unit)} (${intervalPhrase(figures)}).`;
}

function nothing(measure: MeasureId): string {
  switch (measure) {
    case "stray-pass-rate":
      return "Strays were not recorded.";
    case "bystander-read-rate":
      return "No bystander was placed.";
    case "complete-pass-rate":
      return "No pass presented a tag.";
    case "idle-read-rate":
      return "A pass was under way all the time.";
    default:
      return "No tag was presented.";
  }
}
