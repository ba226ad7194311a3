import { measures } from "../../measures/index.ts";
import { counted, countedInWords, countText, sentenceStart } from "../../model/number-words.ts";
import type { Finding } from "../../model/result.ts";

/** What would settle a finding that is undecided or untested; empty for one that is met or not met. */
export function settleSentence(finding: Finding): string {
  const { toSettle, estimate, passes } = finding;
  const { unit, words, betweenPasses } = measures.get(finding.measure);
  if (toSettle === null) return "";
  if ("furtherPasses" in toSettle) {
    const needed = countedInWords(toSettle.furtherPasses, "further pass is", "further passes are");
    return `${sentenceStart(needed)} needed before there can be a verdict.`;
  }
  if (toSettle.retune)
    return betweenPasses
      ? "No length of silence from here on will settle it in favour: the read point wants retuning, or clearing of what is parked in its field."
      : "No number of further passes will settle it in favour: the read point wants retuning.";
  const count = toSettle.furtherWithoutMiss;
  if (count === null)
    return betweenPasses
      ? "Silence alone is not known to settle it."
      : "Further passes alone are not known to settle it.";
  const further = sentenceStart(countedInWords(count, `further ${unit.one}`, `further ${unit.many}`));
  const sentence = `${further} without ${words.fault} would settle it`;
  if (unit.one === "pass" || betweenPasses || passes === 0 || estimate.n === 0) return `${sentence}.`;
  const likePasses = Math.ceil(count / (estimate.n / passes));
  return `${sentence}: about ${counted(likePasses, "more pass", "more passes")} like these.`;
}

/** The same in few words, for a table: `467 more without a miss`, `wants retuning`, `four passes short`. */
export function settleNote({ toSettle, measure }: Finding): string {
  const { words, betweenPasses } = measures.get(measure);
  if (toSettle === null) return "";
  if ("furtherPasses" in toSettle) return `${countedInWords(toSettle.furtherPasses, "pass", "passes")} short`;
  if (toSettle.retune) return "wants retuning";
  const count = toSettle.furtherWithoutMiss;
  if (count === null)
    return betweenPasses ? "silence alone may not settle it" : "more passes alone may not settle it";
  return betweenPasses
    ? `${counted(count, "silent minute", "silent minutes")} more`
    : `${countText(count)} more without ${words.fault}`;
}
