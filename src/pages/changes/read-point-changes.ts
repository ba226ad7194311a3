import type { Comparison } from "../../model/result/comparison.ts";
import type { ReadPointResult } from "../../model/result/read-point.ts";
import type { Result } from "../../model/result/result.ts";
import type { Names } from "../parts/names.ts";
import type { FacilityContext, PageContext } from "../parts/page.ts";
import { comparisonsOf, pairEndingIn, type RoundPair } from "../parts/round-pairs.ts";
import {
  changeOrder,
  changesSentence,
  changeWords,
  comparisonReasonSentence,
  comparisonSentence,
  isMostlyLeftOut,
  type NamedChange,
} from "../words/comparisons.ts";

/** How one read point changed between two rounds: as a whole, and by each value of each condition. */
export interface ReadPointChange {
  readPoint: ReadPointResult;
  whole: Comparison;
  byCondition: Comparison[];
}

/** The read points of a pair of rounds: those that got worse first, and within a kind the largest possible loss first. */
export function rankedChanges(pair: RoundPair, result: Result): ReadPointChange[] {
  const own = comparisonsOf(pair, result);
  const changes = result.readPoints.flatMap((readPoint): ReadPointChange[] => {
    const here = own.filter((one) => one.readPoint === readPoint.id);
    const whole = here.find(({ group }) => group === null);
    if (whole === undefined) return [];
    return [{ readPoint, whole, byCondition: here.filter(({ exploratory }) => exploratory) }];
  });
  const rank = ({ whole }: ReadPointChange) => changeOrder.indexOf(whole.change);
  const lower = ({ whole }: ReadPointChange) => whole.difference?.lower ?? 0;
  return changes.sort((a, b) => rank(a) - rank(b) || lower(a) - lower(b));
}

/** Every read point of a pair by name, with its change. */
export function namedChanges(changes: ReadPointChange[]): NamedChange[] {
  return changes.map(({ readPoint, whole }) => ({
    name: readPoint.name,
    change: whole.change,
    isMostlyLeftOut: isMostlyLeftOut(whole),
  }));
}

/** The anchor of a pair on the page of rounds. */
export function pairAnchor({ paths }: FacilityContext, pair: RoundPair): string {
  return `pair-${paths.changesStem(pair)}`;
}

/** The anchor of a read point in the section of a pair of rounds. */
export function changeAnchor({ paths }: FacilityContext, pair: RoundPair, readPoint: string): string {
  return `change-${paths.changesStem(pair)}-${paths.readPointStem(readPoint)}`;
}

/** How a read point changed since the round before its judged one. */
export interface Since {
  round: string;
  word: string;
  href: string;
  sentence: string;
}

/** Null where its round is the first, or nothing was compared. */
export function sinceTheRoundBefore(here: PageContext, readPoint: ReadPointResult): Since | null {
  const { result, names, paths, href } = here;
  const pair = pairEndingIn(readPoint.signOffRound, result);
  const whole =
    pair && comparisonsOf(pair, result).find((one) => one.readPoint === readPoint.id && one.group === null);
  if (!whole) return null;
  const [reason] = whole.reasons;
  return {
    round: names.round(whole.before),
    word: changeWords[whole.change],
    href: `${href(paths.rounds)}#${changeAnchor(here, whole, readPoint.id)}`,
    sentence:
      whole.difference === null && reason !== undefined
        ? comparisonReasonSentence(reason, result.rounds, result.conditions)
        : comparisonSentence(whole, result.basis.smallestChangeThatMatters),
  };
}

export function pairTitle(names: Names, { before, after }: RoundPair): string {
  return `${names.round(before)} to ${names.round(after)}`;
}

/** How the read points changed between the rounds of a pair, in one sentence. */
export function pairSentence(result: Result, pair: RoundPair): string {
  return changesSentence(namedChanges(rankedChanges(pair, result)));
}
