import type { Estimate } from "../../model/estimate.ts";
import { countedInWords, countText, joined, sentenceStart } from "../../model/number-words.ts";
import type { Comparison } from "../../model/result.ts";

/** Where a p value comes from. */
export const testWords: Record<NonNullable<Comparison["test"]>, string> = {
  mcnemar: "McNemar, exact",
  fisher: "Fisher, exact",
  difference: "from the interval",
};

/** How the presentations of the two rounds stand to each other, and in pairs what became of them; empty without a figure. */
export function designSentence({ design, pairs }: Pick<Comparison, "design" | "pairs">): string {
  if (design === null) return "";
  if (pairs === null) return "The presentations are not matched one to one: the rounds are independent.";
  const { readBoth, readOnlyBefore, readOnlyAfter, missedBoth } = pairs;
  const all = readBoth + readOnlyBefore + readOnlyAfter + missedBoth;
  const nought = (count: number) => (count === 0 ? "none" : countText(count));
  return `Paired: each presentation has its partner in the other round, the same tag in the pass of the same name under the same conditions. Of ${countText(all)} pairs, ${nought(readBoth)} were read in both rounds, ${nought(readOnlyBefore)} only before, ${nought(readOnlyAfter)} only after and ${nought(missedBoth)} in neither.`;
}

/**
 * How much less than they number the presentations are worth, which is why a long walk may still show little. Empty where
 * each stands for itself.
 */
export function worthSentence({
  estimates,
  standardised,
}: Pick<Comparison, "estimates" | "standardised">): string {
  if (estimates === null) return "";
  const { before, after } = estimates;
  if ([before, after].every(({ designEffect }) => designEffect === 1)) return "";
  const told = ({ effectiveN }: Estimate) =>
    effectiveN === null || effectiveN < 1
      ? "less than a single independent one would"
      : `as much as ${countText(Math.floor(effectiveN))} independent ones would`;
  const why = standardised ? "tags that fail together and for the weighting" : "tags that fail together";
  return `Allowing for ${why}, the ${countText(before.n)} presentations before tell ${told(before)}, and the ${countText(after.n)} after ${told(after)}.`;
}

/** What became of single tags between the rounds. */
export function tagsSentence({ tags, change }: Pick<Comparison, "tags" | "change">): string {
  if (change === "not-comparable") return "";
  if (tags === null) return "Which tags changed is not known: the logs do not name them all.";
  const { inBoth, missedInBoth, newlyMissed, newlyRead } = tags;
  if (inBoth === 0) return "No tag was presented in both rounds.";
  const deeds = [
    newlyMissed.length === 0 ? "" : `${countedInWords(newlyMissed.length, "is", "are")} newly missed`,
    newlyRead.length === 0 ? "" : `${countedInWords(newlyRead.length, "is", "are")} newly read every time`,
    missedInBoth === 0 ? "" : `${countedInWords(missedInBoth, "was", "were")} missed in both`,
  ].filter((deed) => deed !== "");
  if (deeds.length === 0) {
    const missed = inBoth === 1 ? "it was missed in neither" : "none was missed in either";
    const presented = countedInWords(inBoth, "tag was", "tags were");
    return `${sentenceStart(presented)} presented in both rounds, and ${missed}.`;
  }
  return `Of ${countedInWords(inBoth, "tag", "tags")} presented in both rounds, ${joined(deeds)}.`;
}
