import type { Criterion } from "../../model/facility.ts";
import { counted } from "../../model/number-words.ts";
import type { Finding } from "../../model/result.ts";
import { countPhrase, quantilePhrase } from "./measures.ts";
import { figuresOf, intervalPhrase, limitPhrase, withUnit } from "./rates.ts";

/**
 * What a finding shows, in one sentence: what was counted, the figure, its interval and the limit.
 *
 * `239 of 240 tags read: 99.5 % (97.1 to 99.9); 99 % asked.`
 */
export function findingSentence(
  finding: Finding,
  criterion: Pick<Criterion, "quantile"> | undefined = undefined,
): string {
  const { estimate, measure, sense, limit } = finding;
  const asked = limitPhrase(limit, measure, sense);
  if (estimate.n === 0) return `${nothingCounted(finding)}; ${asked}.`;
  const count = countPhrase(measure, estimate.k, estimate.n);
  const figures = figuresOf(estimate, measure, sense, limit);
  const interval = intervalPhrase(figures);
  if (measure !== "rssi-quantile") {
    return `${count}: ${withUnit(figures.value, figures.unit)} (${interval}); ${asked}.`;
  }
  const weakest = quantilePhrase(criterion?.quantile ?? null);
  const level =
    figures.value === "missed"
      ? `${weakest} fall on missed tags`
      : `${weakest} lie at or below ${withUnit(figures.value, figures.unit)}`;
  return `${count}: ${level} (${interval}); ${asked}.`;
}

function nothingCounted(finding: Finding): string {
  if (finding.measure === "idle-read-rate") {
    return finding.passes === 0
      ? "No timed pass was walked, so it is not known when nothing was presented"
      : "A pass was under way all the time";
  }
  return finding.passes === 0
    ? "No pass was walked that counts here"
    : `Nothing to count in ${counted(finding.passes, "pass", "passes")}`;
}

/**
 * The same figure with the void passes counted in; empty where there are none, and for what was heard between passes,
 * which a void pass is as little part of as a valid one.
 */
export function withVoidsSentence(finding: Finding): string {
  const { withVoids, measure, sense, limit } = finding;
  if (withVoids === null || withVoids.n === 0 || measure === "idle-read-rate") return "";
  const figures = figuresOf(withVoids, measure, sense, limit);
  const voids = counted(finding.voidPasses, "void pass", "void passes");
  return `With ${voids} counted in: ${countPhrase(measure, withVoids.k, withVoids.n)}, ${withUnit(
    figures.value,
    figures.unit,
  )} (${intervalPhrase(figures)}).`;
}
