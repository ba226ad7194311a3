import pow from "@stdlib/math-base-special-pow";
import { intervals } from "../../intervals/index.ts";
import { rounded } from "../../measures/rounding.ts";
import {
  counted,
  countedInWords,
  countText,
  countWord,
  joined,
  nonEmpty,
  sentenceStart,
  statedNumber,
} from "../../model/number-words.ts";
import type { Finding } from "../../model/result/finding.ts";
import type { ReadPointResult } from "../../model/result/read-point.ts";
import type { Result } from "../../model/result/result.ts";
import { stateWord } from "./verdicts.ts";

/** What the places of findings are called. */
interface PlaceNames {
  readPoint(id: string): string;
  group(group: Finding["group"]): string;
}

/* What the states of a facility promise and what they do not, worked out from its confidence and from what was walked. */

/** The probability, 0..1, that a finding whose true value is just not good enough is met: by the confidence, at the most. */
export function consumersRisk(confidence: number): number {
  return (1 - confidence) / 2;
}

/** The same that at least one of so many is met, if they are independent. Example: 20 at 95 %: 1 - 0.975^20 = 0.397. */
export function familywiseRisk(many: number, confidence: number): number {
  return 1 - pow(1 - consumersRisk(confidence), many);
}

/** A chance as so many of 100, rounded up: `40`, `2.5`. */
export function ofHundred(chance: number): string {
  const percent = chance * 100;
  const stated = Number(percent.toPrecision(6));
  return stated < 10 ? statedNumber(Number(rounded(stated, 1, "up"))) : rounded(stated, 0, "up");
}

/** What holds for all findings together and what for a single one; empty without a finding. */
export function togetherSentences({ findings, basis }: Pick<Result, "findings" | "basis">): string[] {
  const { length } = findings;
  const one = ofHundred(consumersRisk(basis.confidence));
  if (length === 0) return [];
  if (length === 1)
    return [
      `If its true value just missed the limit, the one finding would be met in at most ${one} of 100 such walks.`,
    ];
  const all = length === 2 ? "both findings" : `all ${countText(length)} findings`;
  return [
    `\u201cMet\u201d for ${all} together needs no correction for their number: if any of them truly misses its limit, all are met in at most ${one} of 100 such walks, which is what the confidence promises of that one.`,
    `A single \u201cmet\u201d promises nothing for the others: of ${countText(length)} findings that truly just miss their limit, at least one is met in up to ${ofHundred(familywiseRisk(length, basis.confidence))} of 100 walks if they are independent.`,
  ];
}

/** Rounds walked at a read point up to the judged one. */
function roundsUpToJudged({
  rounds,
  signOffRound,
}: Pick<ReadPointResult, "rounds" | "signOffRound">): number {
  const place = rounds.findIndex(({ id }) => id === signOffRound);
  return rounds.slice(0, place + 1).filter(({ passes }) => passes > 0).length;
}

/** What several rounds do to a promise; empty where each read point was walked in one only. */
export function roundsSentence({ readPoints, basis }: Pick<Result, "readPoints" | "basis">): string {
  const most = Math.max(0, ...readPoints.map(roundsUpToJudged));
  if (most < 2) return "";
  const rounds = countWord(most);
  const lead = readPoints.length === 1 ? sentenceStart(rounds) : `Up to ${rounds}`;
  return `${lead} rounds were walked, the judged one included: a finding that truly just misses its limit in each of ${rounds} is met in at least one of them in up to ${ofHundred(familywiseRisk(most, basis.confidence))} of 100 cases.`;
}

/** What holds for all findings together and for single ones and rounds, in few words: for the sheet. */
export function briefPromises(result: Pick<Result, "findings" | "basis" | "readPoints">): string[] {
  const { findings, basis } = result;
  const { length } = findings;
  if (length < 2) return [...togetherSentences(result), roundsSentence(result)];
  const all = length === 2 ? "both" : `all ${countText(length)}`;
  const chanceOfOne = ofHundred(familywiseRisk(length, basis.confidence));
  const together = `If any finding truly misses its limit, the confidence lets ${all} be met in at most ${ofHundred(consumersRisk(basis.confidence))} of 100 such walks; if ${all} just miss it independently, at least one is met in up to ${chanceOfOne} of 100.`;
  const most = Math.max(0, ...result.readPoints.map(roundsUpToJudged));
  if (most < 2) return [together];
  const rounds = countWord(most);
  return [
    together,
    `A finding that just misses it in each of ${rounds} rounds is met in at least one in up to ${ofHundred(familywiseRisk(most, basis.confidence))} of 100 cases.`,
  ];
}

/** Which findings the stricter interval judges otherwise; null where the facility's own is as strict. */
export function stricterSentence(
  { otherwise, findings }: Pick<Result, "otherwise" | "findings">,
  names: PlaceNames,
): string | null {
  if (otherwise.interval === null) return null;
  const { short } = intervals.get(otherwise.interval.id).words;
  const other = judgedOtherwise(findings);
  if (other.length === 0) return sameByStricter(otherwise.interval.id);
  const states = [...new Set(other.map(({ stricter }) => stricter!.state))];
  return states
    .map((state, i) => {
      const own = other.filter(({ stricter }) => stricter!.state === state);
      const many = countedInWords(own.length, "finding", "findings");
      const start = i === 0 ? `By the stricter ${short} interval ${many}` : sentenceStart(many);
      return `${start} would be ${stateWord(state)}: ${placesOf(own, names)}.`;
    })
    .join(" ");
}

function sameByStricter(id: string): string {
  return `By the stricter ${intervals.get(id).words.short} interval every finding would have the same state.`;
}

/** What would stricter rules show, without the places: for the sheet, whose rows have them. */
export function stricterCount({ otherwise }: Pick<Result, "otherwise">): string {
  if (otherwise.interval === null) return "";
  const { id, findings } = otherwise.interval;
  if (findings === 0) return sameByStricter(id);
  return `By the stricter ${intervals.get(id).words.short} interval ${countedInWords(findings, "finding", "findings")} would have another state.`;
}

function judgedOtherwise(findings: readonly Finding[]): Finding[] {
  return findings.filter(({ state, stricter }) => stricter !== null && stricter.state !== state);
}

/** `Dock door 1 (edge-on) and Exit pedestal (two findings)`. */
function placesOf(findings: Finding[], names: PlaceNames): string {
  const places = findings.map(({ readPoint, group }) => ({
    name: names.readPoint(readPoint),
    group: names.group(group),
  }));
  const known = [...new Map(places.map((place) => [JSON.stringify(place), place])).values()];
  return joined(
    known.map(({ name, group }) => {
      const times = places.filter((one) => one.name === name && one.group === group).length;
      const said = nonEmpty([group, times === 1 ? "" : `${countWord(times)} findings`]);
      return said.length === 0 ? name : `${name} (${said.join(", ")})`;
    }),
  );
}

/** Whether any finding would have another state by a stricter interval or a larger correlation. */
export function hangsOnRule({ otherwise, basis }: Pick<Result, "otherwise" | "basis">): boolean {
  const { interval, correlations } = otherwise;
  const larger = correlations.filter(({ missCorrelation }) => missCorrelation > basis.missCorrelation);
  return [interval, ...larger].some((other) => other !== null && other.findings > 0);
}

/** How many findings would have another state if misses were more alike; empty where none assumes a correlation. */
export function correlationSentence({ otherwise, basis }: Pick<Result, "otherwise" | "basis">): string {
  const larger = otherwise.correlations.filter(
    ({ missCorrelation }) => missCorrelation > basis.missCorrelation,
  );
  if (larger.length === 0) return "";
  const others = `If misses were more alike than the assumed ${statedNumber(basis.missCorrelation)}`;
  if (larger.every(({ findings }) => findings === 0))
    return `${others}, every finding would have the same state at ${joined(larger.map(({ missCorrelation }) => statedNumber(missCorrelation)))}.`;
  const parts = larger.map(({ missCorrelation, findings }, i) => {
    const many =
      i > 0
        ? countWord(findings)
        : countedInWords(findings, "finding", findings === 0 ? "finding" : "findings");
    return `${many}${i === 0 ? " would have another state" : ""} at ${statedNumber(missCorrelation)}`;
  });
  return `${others}, ${joined(parts)}.`;
}

/** What a finding that is met by the facility's interval would be by the stricter one; empty where it would be the same. */
export function stricterNote({ state, stricter }: Pick<Finding, "state" | "stricter">): string {
  if (stricter === null || stricter.state === state) return "";
  return `${stateWord(stricter.state)} by ${intervals.get(stricter.interval).words.short}`;
}

/** What may not have come up in the walk of a finding; empty but for one that is met. */
export function unseenSentence({ state, unseen, passes, tags }: Finding): string {
  if (state !== "met" || unseen === null) return "";
  const walked = counted(passes, "pass", "passes");
  const carried = tags === null ? "" : ` with ${counted(tags, "different tag", "different tags")}`;
  const rare = [
    rareKind("pass", unseen.passes.oneIn),
    tags === null || unseen.tags === null ? "" : rareKind("tag", unseen.tags.oneIn),
  ];
  const were = passes === 1 ? "was" : "were";
  return `${walked}${carried} ${were} walked: ${joined(nonEmpty(rare), "or")} may not have come up.`;
}

function rareKind(what: string, oneIn: number): string {
  return oneIn < 2
    ? `even a common kind of ${what}`
    : `a kind of ${what} rarer than 1 in ${countText(oneIn)}`;
}

/** The same of all findings that are met: of those with the fewest passes and the fewest different tags. */
export function unseenSummary({ findings }: Pick<Result, "findings">): string {
  const met = findings.flatMap(({ state, unseen, passes, tags }) =>
    state === "met" && unseen !== null ? [{ unseen, passes, tags }] : [],
  );
  if (met.length === 0) return "";
  const fewest = met.reduce((least, one) => (one.passes < least.passes ? one : least));
  const rests = [counted(fewest.passes, "pass", "passes")];
  const kinds = [rareKind("pass", fewest.unseen.passes.oneIn)];
  const tagged = met.flatMap(({ tags, unseen }) =>
    tags === null || unseen.tags === null ? [] : [{ tags, oneIn: unseen.tags.oneIn }],
  );
  if (tagged.length > 0) {
    const { tags, oneIn } = tagged.reduce((least, one) => (one.tags < least.tags ? one : least));
    rests.push(counted(tags, "different tag", "different tags"));
    kinds.push(rareKind("tag", oneIn));
  }
  return `A \u201cmet\u201d says nothing of kinds of pass or tag that did not come up. Some findings rest on as few as ${joined(rests, "or")}: there ${joined(kinds, "or")} may be missing.`;
}
