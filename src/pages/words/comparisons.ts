import { rounded } from "../../measures/rounding.ts";
import { percent, rateFigures, withUnit } from "../../measures/scales.ts";
import type { Estimate } from "../../model/estimate.ts";
import type { Condition, Round } from "../../model/facility.ts";
import {
  countedInWords,
  countText,
  countWord,
  joined,
  nonEmpty,
  sentenceStart,
  statedNumber,
  thinSpace,
} from "../../model/number-words.ts";
import type { Change, Comparison, ComparisonReason } from "../../model/result/comparison.ts";
import { pointFigures, pointsText } from "./figures.ts";
import { columnLabel, settingParts, valueText } from "./labels.ts";

/** The name of a change in tables and pictures. */
export const changeWords: Record<Change, string> = {
  worse: "worse",
  "not-comparable": "not comparable",
  "no-change-shown": "no change shown",
  "no-change-that-matters": "no change that matters",
  better: "better",
};

/** Worst first. */
export const changeOrder: Change[] = [
  "worse",
  "not-comparable",
  "no-change-shown",
  "no-change-that-matters",
  "better",
];

/**
 * How a read rate changed between two rounds, in words for a client.
 *
 * `1424 of 1500 tags read before, 1438 of 1460 after: 94.9 % and 98.4 %, a gain of 3.5 percentage points (2.3 to 5.0).`
 */
export function comparisonSentence(comparison: Comparison, smallestChangeThatMatters: number): string {
  const share = comparedShare(comparison);
  const only = isMostlyLeftOut(comparison)
    ? ` Only ${withUnit(rounded(share * 100, 0, "down"), percent)} of a round could be compared.`
    : "";
  return changeSentence(comparison, smallestChangeThatMatters) + only;
}

/** The share of the presentations that was compared, of the round that gave less of its own; 0..1. */
function comparedShare({ reasons }: Pick<Comparison, "reasons">): number {
  const shares = reasons.flatMap((reason) =>
    reason.code === "conditions-left-out" ? [1 - reason.presentations / reason.ofPresentations] : [],
  );
  return Math.min(1, ...shares);
}

/** Whether less than half of a round was compared, so that a change says little of the read point as a whole. */
export function isMostlyLeftOut(comparison: Pick<Comparison, "reasons" | "difference">): boolean {
  return comparison.difference !== null && comparedShare(comparison) < 0.5;
}

function changeSentence(comparison: Comparison, smallestChangeThatMatters: number): string {
  const { difference, estimates, change } = comparison;
  if (difference === null || estimates === null) return "The two rounds cannot be compared.";
  const { before, after } = estimates;
  const counts = `${countText(before.k)} of ${countText(before.n)} tags read before, ${countText(after.k)} of ${countText(after.n)} after`;
  const rates = [before, after].map((estimate) => withUnit(rateFigures(estimate, "at-least").value, percent));
  const weighted = comparison.standardised ? " in the later round's mix of conditions" : "";
  const evidence = `${counts}: ${rates[0]} and ${rates[1]}${weighted}`;
  const matters = `${statedNumber(smallestChangeThatMatters * 100)}`;
  switch (change) {
    case "better":
    case "worse": {
      const gained = change === "better";
      const { lower, upper } = difference;
      const small = gained ? upper <= smallestChangeThatMatters : lower >= -smallestChangeThatMatters;
      const less = small ? `, less than the ${pointsText(matters)} that matter` : "";
      return `${evidence}, ${amountPhrase(comparison)}${less}.`;
    }
    case "no-change-that-matters": {
      const { lower, upper } = pointFigures(difference);
      return `${evidence}. As good as before: the difference is between ${lower} and ${pointsText(upper)}, and less than ${matters} does not matter.`;
    }
    default: {
      const { lower, upper } = pointFigures(difference);
      return `${evidence}. No change is shown: the counts are consistent with anything from ${fromPhrase(lower)} to ${toPhrase(upper)}.`;
    }
  }
}

/** `a gain of 3.5 percentage points (2.3 to 5.0)`; only for a change that was shown. */
export function amountPhrase({ difference, change }: Pick<Comparison, "difference" | "change">): string {
  const { value, lower, upper } = difference!;
  const gained = change === "better";
  // A loss is given by its size, so its bounds swap places and signs.
  const size = pointFigures(
    gained ? { value, lower, upper } : { value: -value, lower: -upper, upper: -lower },
  );
  return `a ${gained ? "gain" : "loss"} of ${pointsText(size.value)} (${size.lower} to ${size.upper})`;
}

function fromPhrase(lower: string): string {
  return /[1-9]/.test(lower) ? `a loss of ${lower.replace("\u2212", "")}` : "no difference";
}

function toPhrase(upper: string): string {
  return /[1-9]/.test(upper) ? `a gain of ${pointsText(upper)}` : "no difference";
}

/** Whether the change of an exploratory row holds after adjustment for all comparisons at its read point and pair. */
export function holdsAfterAdjustment(comparison: Comparison): boolean {
  const { change, pAdjusted, difference } = comparison;
  if (change !== "better" && change !== "worse") return false;
  return pAdjusted === null || pAdjusted <= 1 - difference!.confidence;
}

/**
 * Where a change lies, from the exploratory rows of one read point and pair of rounds: the conditions whose gain or loss holds
 * after adjustment, and those whose change may be chance. Empty if there are neither.
 */
export function exploratorySentence(rows: Comparison[], conditions: Condition[]): string {
  const looks = rows.filter((row) => row.p !== null).length;
  const told = (change: Change, stands: boolean): string => {
    const places = rows
      .filter((row) => row.change === change && holdsAfterAdjustment(row) === stands)
      .flatMap((row) => Object.entries(row.group ?? {}));
    if (places.length === 0) return "";
    return `${changeWords[change]} at ${placesText(places, conditions)}`;
  };
  const both = (stands: boolean) => nonEmpty([told("worse", stands), told("better", stands)]).join("; ");
  const certain = both(true);
  const hints = both(false);
  const allowing = looks === 1 ? "" : `, adjusted for ${countedInWords(looks, "comparison", "comparisons")}`;
  return nonEmpty([
    certain === "" ? "" : `By condition${allowing}: ${certain}.`,
    hints === "" ? "" : `Possibly chance, with this many comparisons: ${hints}.`,
  ]).join(" ");
}

/** `Load: full and half; Speed: 2 to 3 m/s`. */
function placesText(places: [string, string][], conditions: Condition[]): string {
  const columns = [...new Set(places.map(([column]) => column))];
  return columns
    .map((column) => {
      const condition = conditions.find((one) => one.column === column);
      const values = places.filter(([own]) => own === column).map(([, value]) => valueText(value, condition));
      return `${columnLabel(column, conditions)}: ${joined(values)}`;
    })
    .join("; ");
}

const mostCombinations = 3;

/** What limits the comparison of two rounds, or how it was handled, as a sentence. */
export function comparisonReasonSentence(
  reason: ComparisonReason,
  rounds: Pick<Round, "id" | "title">[],
  conditions: Condition[],
): string {
  const title = (id: string) => rounds.find((round) => round.id === id)?.title ?? id;
  switch (reason.code) {
    case "not-walked":
      return `${title(reason.round)}: no valid pass presented a tag here.`;
    case "no-common-conditions":
      return "No combination of conditions was walked in both rounds, so there is nothing to compare.";
    case "conditions-left-out": {
      const shown = reason.examples.slice(0, mostCombinations).map((one) => combinationText(one, conditions));
      const more = reason.combinations - shown.length;
      const list = more > 0 ? `${shown.join("; ")}; and ${countText(more)} more` : shown.join("; ");
      return `Left out, because only ${title(reason.round)} walked it: ${countText(reason.presentations)} of its ${countText(reason.ofPresentations)} presentations (${list}).`;
    }
    case "mix-differs":
      return "The rounds differ in their mix of conditions, so the earlier rate is weighted to the later round's mix.";
    case "tags-differ":
      return reason.inBoth === 0
        ? "No tag was presented in both rounds: part of the difference may be due to the tags."
        : `${tagsCount(reason.inBoth)} presented in both rounds, ${noneOr(reason.onlyBefore)} only before and ${noneOr(reason.onlyAfter)} only after: part of the difference may be due to the tags.`;
    case "tags-not-named":
      return reason.rounds.length === 1
        ? `The log of ${title(reason.rounds[0]!)} does not name every tag, so it is not known whether the tags are the same.`
        : `The logs do not name every tag, so it is not known whether the tags are the same.`;
    case "partly-paired":
      return `Only ${countText(reason.pairs)} of ${countText(reason.before)} presentations before, and of ${countText(reason.after)} after, have a partner in the other round, so the rounds are treated as independent.`;
    case "one-cluster":
      return reason.dimension === "tag"
        ? `${title(reason.round)}: all presentations are of one tag.`
        : `${title(reason.round)}: all presentations are in one pass.`;
    case "settings-differ":
      return `Settings changed: ${reason.settings.map(settingText).join("; ")}.`;
    case "settings-not-stated":
      return `${title(reason.round)} states no settings here, so it is not known whether they changed.`;
  }
}

function noneOr(count: number): string {
  return count === 0 ? "none" : countText(count);
}

function tagsCount(count: number): string {
  return sentenceStart(countedInWords(count, "tag was", "tags were"));
}

/** `Speed: 1 to 2 m/s, Load: full`. */
function combinationText(combination: Record<string, string | null>, conditions: Condition[]): string {
  return Object.entries(combination)
    .map(([column, value]) => {
      const condition = conditions.find((one) => one.column === column);
      return `${columnLabel(column, conditions)}: ${value === null ? "not stated" : valueText(value, condition)}`;
    })
    .join(", ");
}

/** `Transmit power 27 to 30 dBm`. */
function settingText({
  setting,
  before,
  after,
}: {
  setting: string;
  before: string | null;
  after: string | null;
}): string {
  const { name, unit } = settingParts(setting);
  const end = unit === "" ? "" : `${thinSpace}${unit}`;
  return `${name} ${before ?? "not stated"} to ${after ?? "not stated"}${after === null ? "" : end}`;
}

/** The test behind a p value. */
export const testWords: Record<NonNullable<Comparison["test"]>, string> = {
  mcnemar: "McNemar, exact",
  fisher: "Fisher, exact",
  difference: "from the interval",
};

/** Whether the rounds are paired, and the outcome of the pairs; empty without a figure. */
export function designSentence({ design, pairs }: Pick<Comparison, "design" | "pairs">): string {
  if (design === null) return "";
  if (pairs === null)
    return "The presentations cannot be matched one to one, so the rounds are treated as independent.";
  const { readBoth, readOnlyBefore, readOnlyAfter, missedBoth } = pairs;
  const all = readBoth + readOnlyBefore + readOnlyAfter + missedBoth;
  const nought = (count: number) => (count === 0 ? "none" : countText(count));
  return `Paired: each presentation has its partner in the other round, the same tag in the pass of the same name under the same conditions. Of ${countText(all)} pairs, ${nought(readBoth)} were read in both rounds, ${nought(readOnlyBefore)} only before, ${nought(readOnlyAfter)} only after and ${nought(missedBoth)} in neither.`;
}

/**
 * The effective sample sizes, which explain why a long walk may still be inconclusive. Empty where each presentation counts
 * as one.
 */
export function worthSentence({
  estimates,
  standardised,
}: Pick<Comparison, "estimates" | "standardised">): string {
  if (estimates === null) return "";
  const { before, after } = estimates;
  if ([before, after].every(({ designEffect }) => designEffect === 1)) return "";
  const worth = ({ effectiveN }: Estimate) =>
    effectiveN === null || effectiveN < 1
      ? "less than one independent presentation"
      : `about ${countText(Math.floor(effectiveN))} independent ones`;
  const why = standardised ? "tags fail together and the earlier round is weighted" : "tags fail together";
  return `Because ${why}, the ${countText(before.n)} presentations before are worth ${worth(before)}, and the ${countText(after.n)} after ${worth(after)}.`;
}

/** How single tags changed between the rounds. */
export function tagsSentence({ tags, change }: Pick<Comparison, "tags" | "change">): string {
  if (change === "not-comparable") return "";
  if (tags === null) return "The logs do not name all tags, so it is not known which tags changed.";
  const { inBoth, missedInBoth, newlyMissed, newlyRead } = tags;
  if (inBoth === 0) return "No tag was presented in both rounds.";
  const changes = nonEmpty([
    newlyMissed.length === 0 ? "" : `${countedInWords(newlyMissed.length, "is", "are")} newly missed`,
    newlyRead.length === 0 ? "" : `${countedInWords(newlyRead.length, "is", "are")} newly read every time`,
    missedInBoth === 0 ? "" : `${countedInWords(missedInBoth, "was", "were")} missed in both`,
  ]);
  if (changes.length === 0) {
    const missed = inBoth === 1 ? "it was missed in neither" : "none was missed in either";
    const presented = countedInWords(inBoth, "tag was", "tags were");
    return `${sentenceStart(presented)} presented in both rounds, and ${missed}.`;
  }
  return `Of ${countedInWords(inBoth, "tag", "tags")} presented in both rounds, ${joined(changes)}.`;
}

/** The change of a read point as a verb, for one and for several. */
const verbs: Record<Change, [one: string, several: string]> = {
  worse: ["got worse", "got worse"],
  "not-comparable": ["cannot be compared", "cannot be compared"],
  "no-change-shown": ["shows no clear change", "show no clear change"],
  "no-change-that-matters": ["is as good as before", "are as good as before"],
  better: ["got better", "got better"],
};

/** A read point and its change. */
export interface NamedChange {
  name: string;
  change: Change;
  isMostlyLeftOut?: boolean;
}

/**
 * How the read points changed between two rounds in one sentence, worst first and without averages.
 *
 * `Of six read points, one cannot be compared, four show no clear change and one got better.`
 */
export function changesSentence(readPoints: NamedChange[]): string {
  const partly = readPoints.filter((one) => one.isMostlyLeftOut).length;
  if (partly === 0) return countedChanges(readPoints);
  const where = readPoints.length === 1 ? "L" : `At ${countedInWords(partly, "of them", "of them")} l`;
  return `${countedChanges(readPoints)} ${where}ess than half of a round could be compared.`;
}

function countedChanges(readPoints: NamedChange[]): string {
  const [first, second] = readPoints;
  if (first === undefined) return "There is no read point to compare.";
  if (second === undefined) return `${first.name} ${verbs[first.change][0]}.`;
  const total = readPoints.length;
  const verbOf = (change: Change, count: number) => verbs[change][count === 1 ? 0 : 1];
  const counts = changeOrder
    .map((change) => ({ change, count: readPoints.filter((one) => one.change === change).length }))
    .filter(({ count }) => count > 0);
  if (counts.length === 1) {
    const all = total === 2 ? "Both" : `All ${countWord(total)}`;
    return `${all} read points ${verbOf(first.change, total)}.`;
  }
  const parts = counts.map(({ change, count }) => `${countWord(count)} ${verbOf(change, count)}`);
  return `Of ${countedInWords(total, "read point", "read points")}, ${joined(parts)}.`;
}
