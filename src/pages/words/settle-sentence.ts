import { counted, countedInWords, countText, sentenceStart } from "../../model/number-words.ts";
import type { Finding } from "../../model/result.ts";
import { faultWord } from "./measures.ts";

/** What would settle a finding that is undecided or untested; empty for one that is met or not met. */
export function settleSentence(finding: Finding): string {
  const { toSettle, measure, estimate, passes } = finding;
  if (toSettle === null) return "";
  if ("furtherPasses" in toSettle) {
    const needed = countedInWords(toSettle.furtherPasses, "further pass is", "further passes are");
    return `${sentenceStart(needed)} needed before there can be a verdict.`;
  }
  if (toSettle.retune && measure === "idle-read-rate") {
    return "No length of silence from here on will settle it in favour: the read point wants retuning, or clearing of what is parked in its field.";
  }
  if (toSettle.retune) {
    return "No number of further passes will settle it in favour: the read point wants retuning.";
  }
  const count = toSettle.furtherWithoutMiss;
  if (count === null)
    return toSettle.unit === "idle minutes"
      ? "Silence alone is not known to settle it."
      : "Further passes alone are not known to settle it.";
  const [one, many] = unitWords[toSettle.unit];
  const further = sentenceStart(countedInWords(count, `further ${one}`, `further ${many}`));
  const sentence = `${further} without ${faultWord(measure)} would settle it`;
  if (toSettle.unit === "passes" || toSettle.unit === "idle minutes" || passes === 0 || estimate.n === 0)
    return `${sentence}.`;
  const likePasses = Math.ceil(count / (estimate.n / passes));
  return `${sentence}: about ${counted(likePasses, "more pass", "more passes")} like these.`;
}

/** The same in few words, for a table: `467 more without a miss`, `wants retuning`, `four passes short`. */
export function settleNote({ toSettle, measure }: Finding): string {
  if (toSettle === null) return "";
  if ("furtherPasses" in toSettle) return `${countedInWords(toSettle.furtherPasses, "pass", "passes")} short`;
  if (toSettle.retune) return "wants retuning";
  const count = toSettle.furtherWithoutMiss;
  if (count === null)
    return toSettle.unit === "idle minutes"
      ? "silence alone may not settle it"
      : "more passes alone may not settle it";
  if (toSettle.unit === "idle minutes") return `${counted(count, "silent minute", "silent minutes")} more`;
  return `${countText(count)} more without ${faultWord(measure)}`;
}

const unitWords = {
  presentations: ["presentation", "presentations"],
  passes: ["pass", "passes"],
  "bystander presentations": ["bystander presentation", "bystander presentations"],
  "idle minutes": ["idle minute", "idle minutes"],
} as const;
