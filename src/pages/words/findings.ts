import { measureCard } from "../../measures/journey/cards.ts";
import { type Parameters, passUnit, type RoundMeasure, type WalkedUnit } from "../../measures/measure.ts";
import { ratioEnd } from "../../measures/rounding.ts";
import { type Figures, figuresOf, intervalPhrase, limitPhrase, withUnit } from "../../measures/scales.ts";
import type { Estimate } from "../../model/estimate.ts";
import type { Round } from "../../model/facility.ts";
import {
  counted,
  countedInWords,
  countText,
  noBreakSpace,
  sentenceStart,
  statedNumber,
  statedPercent,
  thinSpace,
} from "../../model/number-words.ts";
import type { ConcessionResult, Finding } from "../../model/result/finding.ts";
import type { Remark } from "../../model/result/remark.ts";
import type { RoundResult } from "../../model/result/round.ts";
import { dateText } from "./dates.ts";
import { pText } from "./figures.ts";
import { noPowerCurve, powerText } from "./power.ts";

/** The part of a finding that decides how its figures are printed. */
type Limited = Pick<Finding, "measure" | "sense" | "limit">;

/** The three figures of a finding, or of another estimate for the same limit. */
export function printedFigures({ measure, sense, limit }: Limited, estimate: Finding["estimate"]): Figures {
  return figuresOf(estimate, { scale: measureCard(measure).scale, sense, limit });
}

/** `99 % required`, `−70 dBm required`. */
export function limitOf({ measure, sense, limit }: Limited): string {
  return limitPhrase(limit, measureCard(measure).scale, sense);
}

/** `min. 99 %`, `max. 10 %`: for a narrow column. */
export function shortLimit({ measure, sense, limit }: Limited): string {
  const { scale } = measureCard(measure);
  const stated = scale.statedBriefly?.(limit) ?? scale.stated(limit);
  return `${sense === "at-least" ? "min." : "max."}${noBreakSpace}${stated}`;
}

/** `171 of 200`; counts over time have no such n: `3 in 31.7 min`. */
export function shortCount({ measure, estimate: { k, n } }: Pick<Finding, "estimate" | "measure">): string {
  return measureCard(measure).words.shortCount?.(k, n) ?? `${countText(k)} of ${countText(n)}`;
}

/** `40 different tags`; empty where the logs do not name them, or none are counted. */
export function tagCount({ tags }: Pick<Finding, "tags">): string {
  return tags === null ? "" : counted(tags, "different tag", "different tags");
}

/**
 * What a finding shows, in one sentence: what was counted, the figure, its interval and the limit.
 *
 * `239 of 240 tags read: 99.5 % (97.1 to 99.9); 99 % required.`
 */
export function findingSentence(finding: Finding, criterion: Parameters = {}): string {
  const { count, figure, interval, limit } = findingParts(finding);
  if (figure === "") return `${count}; ${limit}.`;
  const { words } = measureCard(finding.measure);
  const said = words.figure?.(printedFigures(finding, finding.estimate), criterion) ?? figure;
  return `${count}: ${said} (${interval}); ${limit}.`;
}

/** The same in parts, for a table in the terminal; figure and interval are empty where nothing was counted. */
export function findingParts(finding: Finding): {
  count: string;
  figure: string;
  interval: string;
  limit: string;
} {
  const { estimate, passes } = finding;
  const { words, scale, walked = passUnit } = measureCard(finding.measure);
  const limit = limitOf(finding);
  if (estimate.n === 0) {
    const count = words.nothingCounted?.(passes) ?? nothingCounted(passes, walked);
    return { count, figure: "", interval: "", limit };
  }
  const figures = printedFigures(finding, estimate);
  const count = words.count(estimate.k, estimate.n);
  return { count, figure: withUnit(figures.value, scale), interval: intervalPhrase(figures, scale), limit };
}

function nothingCounted(passes: number, { one, many }: WalkedUnit): string {
  return passes === 0 ? "Not walked yet" : `Nothing to count in ${counted(passes, one, many)}`;
}

/** Whether the figures of a finding need a sentence besides their row. */
export function needsSentence({ measure, estimate }: Finding): boolean {
  return estimate.n === 0 || measureCard(measure).words.figure !== undefined;
}

/** The same figure including the void passes; empty if there are none, or if they change nothing. */
export function withVoidsSentence(finding: Finding): string {
  const { withVoids } = finding;
  const { words, scale, besidePasses, walked } = measureCard(finding.measure);
  if (withVoids === null || withVoids.n === 0 || besidePasses !== undefined) return "";
  const figures = printedFigures(finding, withVoids);
  return `${includingVoids(finding.voidPasses, walked)}: ${words.count(withVoids.k, withVoids.n)}, ${withUnit(
    figures.value,
    scale,
  )} (${intervalPhrase(figures, scale)}).`;
}

/** A rate without a limit: `588 of 600 tags read: 98.0 % (96.5 to 98.9).` */
export function rateSentence({ words, scale, usualSense }: RoundMeasure, estimate: Estimate): string {
  if (estimate.n === 0) return words.nothing;
  const figures = figuresOf(estimate, { scale, sense: usualSense });
  return `${words.count(estimate.k, estimate.n)}: ${withUnit(figures.value, scale)} (${intervalPhrase(figures, scale)}).`;
}

/** `Including the void pass`, `Including the 3 void passes`. */
export function includingVoids(voids: number, { one, many } = passUnit): string {
  return voids === 1 ? `Including the void ${one}` : `Including the ${countText(voids)} void ${many}`;
}

/** What would settle a finding that is undecided or untested; empty for one that is met or not met. */
export function settleSentence(finding: Finding): string {
  const { toSettle, passes } = finding;
  const { unit, words, besidePasses, walked = passUnit } = measureCard(finding.measure);
  if (toSettle === null) return "";
  if ("furtherPasses" in toSettle) {
    const more = passes === 0 ? "" : "more ";
    const kind = words.countsIf === undefined ? "" : ` ${words.countsIf}`;
    const needed = countedInWords(
      toSettle.furtherPasses,
      `${more}${walked.one}${kind} is`,
      `${more}${walked.many}${kind} are`,
    );
    return `At least ${needed} needed for a verdict.`;
  }
  if ("furtherMinutes" in toSettle)
    return `At least ${countedInWords(toSettle.furtherMinutes, "more idle minute is", "more idle minutes are")} needed for a verdict.`;
  if ("furtherPowers" in toSettle) {
    if (toSettle.furtherPowers === 0)
      return "For a verdict the settings of the round must state the power in use.";
    const more = passes === 0 ? "" : "more ";
    return `At least ${countedInWords(toSettle.furtherPowers, `${more}power is`, `${more}powers are`)} needed for a verdict.`;
  }
  const { furtherWithoutMiss: count, chance, retune } = toSettle;
  const cause = retune
    ? `${chanceSentence(chance, walked)} Look for the cause first. If there is none, `
    : "";
  const before = retune || chance === null ? cause : `${chanceSentence(chance, walked)} `;
  const start = (text: string) => `${before}${retune ? text : sentenceStart(text)}`;
  if (besidePasses !== undefined) return `${start(besidePasses.settling(count).sentence)}.`;
  if (count === null)
    return start(
      `more than ten million further ${unit.many} without ${words.fault} would be needed to settle it.`,
    );
  const further = countedInWords(count, `further ${unit.one}`, `further ${unit.many}`);
  const sentence = start(`${further} without ${words.fault} would settle it`);
  const more = likePasses(finding, count);
  return more === null ? `${sentence}.` : `${sentence}: about ${more} like these.`;
}

/** `6 more passes`: how many like those walked hold so many trials; null where passes are the trials, or none were walked. */
function likePasses({ measure, estimate, passes }: Finding, count: number): string | null {
  const { unit, walked = passUnit } = measureCard(measure);
  if (unit.one === walked.one || passes === 0 || estimate.n === 0) return null;
  return counted(Math.ceil(count / (estimate.n / passes)), `more ${walked.one}`, `more ${walked.many}`);
}

/** The same where its reasons stand elsewhere: what to do next, in passes where trials are parts of them. */
export function settleBriefly(finding: Finding): string {
  const { toSettle, measure } = finding;
  if (toSettle === null || !("retune" in toSettle)) return settleSentence(finding);
  const { words, besidePasses, walked } = measureCard(measure);
  if (toSettle.retune)
    return walked === undefined
      ? "Look for the cause before walking more."
      : `Look for the cause before more ${walked.many} are made.`;
  const { furtherWithoutMiss: count, chance } = toSettle;
  const more =
    count === null || chance !== null || besidePasses !== undefined ? null : likePasses(finding, count);
  return more === null
    ? settleSentence(finding)
    : `About ${more} like these without ${words.fault} would settle it.`;
}

/** How often so many faults come up at the limit itself: `The value is on the wrong side of its limit, or on it. ...`. */
function chanceSentence(chance: number | null, walked: typeof passUnit): string {
  if (chance === null) return "";
  const walks = Math.round(chance * 100);
  const often = walks < 1 ? "fewer than 1 of 100" : `${walks} of 100`;
  const alike = walked === passUnit ? "walks like this one" : `series of ${walked.many} like this one`;
  return `The value is on the wrong side of its limit, or on it: so many faults or more would come up in ${often} ${alike} if the true value were exactly the limit.`;
}

/** The same in few words, for a table: `467 more without a miss`, with `find the cause first`, `four passes short`. */
export function settleNote({ toSettle, measure }: Finding): string {
  const { words, besidePasses, walked = passUnit } = measureCard(measure);
  if (toSettle === null) return "";
  if ("furtherPasses" in toSettle)
    return `${countedInWords(toSettle.furtherPasses, walked.one, walked.many)} short`;
  if ("furtherMinutes" in toSettle)
    return `${countedInWords(toSettle.furtherMinutes, "idle minute", "idle minutes")} short`;
  if ("furtherPowers" in toSettle)
    return toSettle.furtherPowers === 0
      ? "power in use not stated"
      : `${countedInWords(toSettle.furtherPowers, "power", "powers")} short`;
  const { furtherWithoutMiss: count, retune } = toSettle;
  const cause = retune ? "find the cause first; " : "";
  if (besidePasses !== undefined) return `${cause}${besidePasses.settling(count).note}`;
  return count === null
    ? `${cause}over ten million more without ${words.fault}`
    : `${cause}${countText(count)} more without ${words.fault}`;
}

/** A remark of the analysis as a sentence. */
export function remarkSentence(remark: Remark, rounds: Round[], { one, many } = passUnit): string {
  switch (remark.code) {
    case "no-criterion":
      return "No criterion covers this read point, so nothing was judged here.";
    case "no-value-walked":
      return "A criterion is judged here for each value of a condition, and no value was walked yet.";
    case "one-cluster":
      return remark.dimension === "tag"
        ? "All presentations are of one tag, so nothing is known about other tags."
        : `All presentations are in one ${one}, so nothing is known about other ${many}.`;
    case "forms-mixed":
      return "Some logs do not name the tags, so the interval allows for differences between passes, but not between tags.";
    case "strays-not-recorded":
      return `${left(remark.passes)} left out: the log does not record strays.`;
    case "rssi-not-recorded":
      return `${left(remark.passes)} left out: the log does not record signal strength.`;
    case "tags-reused":
      return `Only ${countedInWords(remark.tags, "tag", "different tags")} went through in ${countText(remark.passes)} ${many}: other tags may be worse.`;
    case "misses-in-a-run":
      return `The faults came in a run of neighbouring ${many} (p = ${pText(remark.p)}): ${one === passUnit.one ? "walk in a second session, on another day" : `make some on another day`}.`;
    case "worst-pass":
      return `Too few ${many} for a bad kind of ${one} to have come up, one in which ${statedPercent(remark.worstPass)} are faults: that takes ${countedInWords(remark.passes, one, many)}.`;
    case "session-too-short":
      return `One tag stayed for ${countedInWords(remark.longestStayMinutes, "minute", "minutes")}. To tell how often tags stay, the idle time must be twenty times as long.`;
    case "signal-alike": {
      const good = `${countText(remark.k)} of ${counted(remark.n, "presentation", "presentations")} at ${statedNumber(remark.limitDbm)}${thinSpace}dBm or ${remark.sense === "at-least" ? "stronger" : "weaker"}`;
      return `The bounds take presentations as independent. Judged as a rate, with passes and tags that may be alike, ${good} do not yet show ${statedPercent(remark.share)}.`;
    }
    case "power-in-use-unknown":
      return "The settings of the round do not state the transmit power in use, so there is no margin.";
    case "no-power-curve":
      return noPowerCurve(remark);
    case "power-limits-unbounded":
      return "The share read does not rise clearly enough with the power to give limits: measure at more powers, or present more tags.";
    case "power-beyond-steps":
      return `The power needed, ${powerText(remark.neededDbm)}, lies above every power measured (up to ${powerText(remark.highestDbm)}): it rests on the shape of the curve.`;
    case "power-scatter":
      return `Reads scatter about the curve more than chance explains: the variances are ${ratioEnd(remark.factor, "up")} times as large, and the limits by the t distribution.`;
    case "own-round": {
      const title = rounds.find((round) => round.id === remark.round)?.title ?? remark.round;
      return `Judged on its own round, ${title}, not on the facility's.`;
    }
  }
}

function left(passes: number): string {
  return sentenceStart(countedInWords(passes, "pass was", "passes were"));
}

/** `Accepted by NAME, on 22 May 2026, until 31 August 2026: REASON It expired before the report was issued.` */
export function concessionSentence(concession: ConcessionResult): string {
  const on = concession.on === null ? "" : `, on ${dateText(concession.on)}`;
  const until = concession.until === null ? ", no end date stated" : `, until ${dateText(concession.until)}`;
  const reason = concession.reason === null ? "." : `: ${stopped(concession.reason)}`;
  const head = `Accepted by ${concession.grantedBy}${on}${until}`;
  return `${head}${reason}${concession.expired ? " It expired before the report was issued." : ""}`;
}

function stopped(text: string): string {
  return /[.!?]$/.test(text) ? text : `${text}.`;
}

/** `24 passes, 2 void`; `not walked` where there is none. */
export function passCount(round: Pick<RoundResult, "passes" | "voidPasses" | "passList">): string {
  if (round.passList.length === 0) return "not walked";
  const valid = counted(round.passes, "pass", "passes");
  return round.voidPasses === 0 ? valid : `${valid}, ${countText(round.voidPasses)} void`;
}
