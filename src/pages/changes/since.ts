import type { ReadPointResult, Result } from "../../model/result.ts";
import { fileStem } from "../file-stem.ts";
import { facilityPaths, relativeLink } from "../paths.ts";
import { roundTitle } from "../rounds/round-rows.ts";
import {
  changesSentence,
  changeWords,
  comparisonReasonSentence,
  comparisonSentence,
} from "../words/comparisons.ts";
import { namedChanges, rankedChanges } from "./ranked-changes.ts";
import { comparisonsOf, pairEndingIn, type RoundPair, roundPairs } from "./round-pairs.ts";

/** The place of a read point on the page of a pair of rounds. */
export function changeAnchor(result: Result, readPoint: string): string {
  return `read-point-${fileStem(facilityPaths(result).readPoints.get(readPoint) ?? "")}`;
}

/** What became of a read point since the round before the one it is judged on. */
export interface Since {
  round: string;
  word: string;
  href: string;
  sentence: string;
}

/** Null where its round is the first, or nothing was compared. */
export function sinceTheRoundBefore(result: Result, readPoint: ReadPointResult, path: string): Since | null {
  const pair = pairEndingIn(readPoint.signOffRound, result);
  const whole =
    pair && comparisonsOf(pair, result).find((one) => one.readPoint === readPoint.id && one.group === null);
  if (!whole) return null;
  const [reason] = whole.reasons;
  return {
    round: roundTitle(result, whole.before),
    word: changeWords[whole.change],
    href: `${relativeLink(path, facilityPaths(result).changes(whole))}#${changeAnchor(result, readPoint.id)}`,
    sentence:
      whole.difference === null && reason !== undefined
        ? comparisonReasonSentence(reason, result.rounds, result.conditions)
        : comparisonSentence(whole, result.basis.smallestChangeThatMatters),
  };
}

/** The way to a pair's page, with what it finds. */
export interface PairLink {
  label: string;
  href: string;
  sentence: string;
}

/** Every pair of rounds that was compared, but for one. */
export function pairLinks(result: Result, path: string, but: RoundPair | null = null): PairLink[] {
  return roundPairs(result)
    .filter(({ before, after }) => before !== but?.before || after !== but.after)
    .map((pair) => ({
      label: pairTitle(result, pair),
      href: relativeLink(path, facilityPaths(result).changes(pair)),
      sentence: pairSentence(result, pair),
    }));
}

export function pairTitle(result: Result, { before, after }: RoundPair): string {
  return `${roundTitle(result, before)} to ${roundTitle(result, after)}`;
}

/** What became of all read points between the rounds of a pair, in one sentence. */
export function pairSentence(result: Result, pair: RoundPair): string {
  return changesSentence(namedChanges(rankedChanges(pair, result)));
}
