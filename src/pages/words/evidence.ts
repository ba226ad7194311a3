import { rounded } from "../../measures/rounding.ts";
import type { Suggestion } from "../../model/diagnosis/diagnosis.ts";
import { thinSpace } from "../../model/number-words.ts";
import { pText } from "./figures.ts";

/** A share as a whole percentage. */
export function wholePercent(share: number): string {
  return `${rounded(share * 100, 0, "nearest")}${thinSpace}%`;
}

/** How surely the suggestion holds; its sentence has the counts. */
export function evidenceText({ evidence: { p } }: Suggestion): string {
  return p === null ? "stated by the logs" : `p ${pText(p)}`;
}
