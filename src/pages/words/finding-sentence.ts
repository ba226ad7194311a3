import { measures } from "../../measures/index.ts";
import type { Parameters } from "../../measures/measure.ts";
import { type Figures, figuresOf, intervalPhrase, limitPhrase, withUnit } from "../../measures/scales.ts";
import { counted, countText } from "../../model/number-words.ts";
import type { Finding } from "../../model/result.ts";

/** What of a finding decides how its figures are printed. */
type Asked = Pick<Finding, "measure" | "sense" | "limit">;

/** The three figures of a finding, or of another estimate for the same limit. */
export function printedFigures({ measure, sense, limit }: Asked, estimate: Finding["estimate"]): Figures {
  return figuresOf(estimate, { scale: measures.get(measure).scale, sense, limit });
}

/** `99 % asked`, `−70 dBm asked`. */
export function limitOf({ measure, sense, limit }: Asked): string {
  return limitPhrase(limit, measures.get(measure).scale, sense);
}

/** `171 of 200`; what is counted over time has no such n: `3 in 31.7 min`. */
export function shortCount({ measure, estimate: { k, n } }: Pick<Finding, "estimate" | "measure">): string {
  return measures.get(measure).words.shortCount?.(k, n) ?? `${countText(k)} of ${countText(n)}`;
}

/**
 * What a finding shows, in one sentence: what was counted, the figure, its interval and the limit.
 *
 * `239 of 240 tags read: 99.5 % (97.1 to 99.9); 99 % asked.`
 */
export function findingSentence(finding: Finding, criterion: Parameters = {}): string {
  const { estimate, passes } = finding;
  const { words, scale } = measures.get(finding.measure);
  const asked = limitOf(finding);
  if (estimate.n === 0) return `${words.nothingCounted?.(passes) ?? nothingCounted(passes)}; ${asked}.`;
  const figures = printedFigures(finding, estimate);
  const figure = words.figure?.(figures, criterion) ?? withUnit(figures.value, scale);
  return `${words.count(estimate.k, estimate.n)}: ${figure} (${intervalPhrase(figures, scale)}); ${asked}.`;
}

function nothingCounted(passes: number): string {
  return passes === 0
    ? "No pass was walked that counts here"
    : `Nothing to count in ${counted(passes, "pass", "passes")}`;
}

/** Whether a finding's figures need words that a row of figures has no room for. */
export function needsSentence({ measure, estimate }: Finding): boolean {
  return estimate.n === 0 || measures.get(measure).words.figure !== undefined;
}

/** The same figure with the void passes counted in; empty where there are none, or where they alter nothing. */
export function withVoidsSentence(finding: Finding): string {
  const { withVoids } = finding;
  const { words, scale, betweenPasses } = measures.get(finding.measure);
  if (withVoids === null || withVoids.n === 0 || betweenPasses) return "";
  const figures = printedFigures(finding, withVoids);
  const voids = counted(finding.voidPasses, "void pass", "void passes");
  return `With ${voids} counted in: ${words.count(withVoids.k, withVoids.n)}, ${withUnit(
    figures.value,
    scale,
  )} (${intervalPhrase(figures, scale)}).`;
}
