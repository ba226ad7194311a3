import { type Figures, rateFigures } from "../../measures/scales.ts";
import type { Estimate } from "../../model/estimate.ts";
import { countText } from "../../model/number-words.ts";
import type { Comparison } from "../../model/result.ts";
import { changeSign } from "../pictures/signs.ts";
import { changeWords, testWords } from "../words/comparisons.ts";
import { type PointFigures, pointFigures, pText } from "../words/figures.ts";

/** A change as a page shows it: the shape and the word. */
export interface ChangeSign {
  change: Comparison["change"];
  word: string;
  /** SVG. */
  sign: string;
}

export function changeSignOf(change: Comparison["change"]): ChangeSign {
  return { change, word: changeWords[change], sign: changeSign(change) };
}

/** The figures of one comparison as the cells of a row. */
export interface ComparedCells {
  before: RateCell;
  after: RateCell;
  difference: PointFigures;
  p: string;
  test: string;
}

interface RateCell {
  /** Always empty: a rate that is compared has a figure. */
  nothing: string;
  count: string;
  figures: Figures;
}

/** Null where the rounds cannot be compared. */
export function comparedCells({ estimates, difference, p, test }: Comparison): ComparedCells | null {
  if (estimates === null || difference === null || p === null || test === null) return null;
  return {
    before: rateCell(estimates.before),
    after: rateCell(estimates.after),
    difference: pointFigures(difference),
    p: pText(p),
    test: testWords[test],
  };
}

function rateCell(estimate: Estimate): RateCell {
  return { nothing: "", count: countOf(estimate), figures: rateFigures(estimate, "at-least") };
}

export function countOf({ k, n }: Estimate): string {
  return `${countText(k)} of ${countText(n)}`;
}
