import { PresentationCounter } from "../../measures/presentations.ts";
import type { Facility } from "../../model/facility.ts";
import type { Comparison, ComparisonReason } from "../../model/result/comparison.ts";
import { type RowCombinations, rowCombinations } from "../../model/row-combinations.ts";
import { namesAt, select, type WalkedFacility } from "../../model/rows.ts";
import { holmAdjusted } from "../../statistics/holm.ts";
import { type ComparedRound, changeOf, differenceBetween } from "./difference.ts";
import { type PairCounter, pairUp, passNames } from "./pairs.ts";
import { clusterReasons, leftOut, settingReasons, tagReasons } from "./reasons.ts";
import { tagChanges } from "./tag-changes.ts";
import { countWalk, type Walk, walkOf } from "./walk.ts";

/**
 * What became of the read rate of every read point from round to round: between consecutive rounds, and between the
 * first and the last (once where there are two). After each read point as a whole, one exploratory row for each value
 * of each declared condition that either round walked there.
 *
 * Only what both rounds walked is compared: presentations of valid passes under the same combination of all declared
 * conditions. The reasons say what was left out for want of a counterpart, and what else differs between the rounds.
 * With nothing in common there is no number at all. In the order of facility.yaml; the order of the rows changes
 * nothing. One round gives no comparison.
 */
export function compareRounds(walked: WalkedFacility): Comparison[] {
  const { facility, log } = walked;
  const pairs = roundPairs(facility.rounds.map((round) => round.id));
  if (pairs.length === 0) return [];
  const combinations = rowCombinations(facility.conditions, log);
  const counter = new PresentationCounter(log);
  const names = passNames(log);
  return facility.readPoints.flatMap(({ id: readPoint }) => {
    const walks = new Map(
      facility.rounds.map(({ id: round }) => [
        round,
        walkOf(select(walked, { readPoint, round }), combinations, counter),
      ]),
    );
    const values = facility.conditions.flatMap(({ column }, condition) =>
      namesAt(walked, { column, readPoints: [readPoint] }).map((value) => ({ condition, column, value })),
    );
    return pairs.flatMap(([earlier, later]) => {
      const before = walks.get(earlier)!;
      const after = walks.get(later)!;
      const countPairs = pairUp(before, after, names);
      return comparePair({ facility, values, combinations, readPoint, before, after, countPairs });
    });
  });
}

/** Consecutive rounds, then the first and the last where those are not consecutive. */
function roundPairs(rounds: string[]): [string, string][] {
  const pairs = rounds.slice(1).map((after, i): [string, string] => [rounds[i]!, after]);
  if (rounds.length > 2) pairs.push([rounds[0]!, rounds.at(-1)!]);
  return pairs;
}

/** Two rounds of one read point, side by side. */
interface TwoRounds {
  facility: Facility;
  /** Every value of every condition that the report shows at the read point. */
  values: { condition: number; column: string; value: string }[];
  combinations: RowCombinations;
  readPoint: string;
  before: Walk;
  after: Walk;
  countPairs: PairCounter;
}

/** The read point as a whole, then each value of each condition. */
function comparePair(pair: TwoRounds): Comparison[] {
  const { facility, values, combinations, readPoint, before, after } = pair;
  const all = new Set([...before.counts.keys(), ...after.counts.keys()]);
  const place = { readPoint, before: before.round, after: after.round };
  const whole = compareOver(all, pair);
  const namesEveryTag =
    whole.difference !== null && !whole.reasons.some(({ code }) => code === "tags-not-named");
  const main: Comparison = {
    ...place,
    group: null,
    exploratory: false,
    ...whole,
    tags: namesEveryTag ? tagChanges(before, after, inBoth(all, pair)) : null,
    reasons: [...whole.reasons, ...settingReasons(facility, place)],
  };
  const withValue = facility.conditions.map((_, condition) => {
    const found = new Map<string | null, number[]>();
    for (const combination of all) {
      const value = combinations.valueIn(combination, condition);
      const own = found.get(value);
      if (own === undefined) found.set(value, [combination]);
      else own.push(combination);
    }
    return found;
  });
  const exploratory = values.flatMap(({ condition, column, value }): Comparison[] => {
    const own = withValue[condition]!.get(value);
    if (own === undefined) return [];
    const compared = compareOver(new Set(own), pair);
    return [{ ...place, group: { [column]: value }, exploratory: true, ...compared, tags: null }];
  });
  return [main, ...withHolm(exploratory)];
}

/** The combinations of conditions that both rounds walked. */
function inBoth(considered: ReadonlySet<number>, { before, after }: TwoRounds): Set<number> {
  return new Set([...considered].filter((one) => before.counts.has(one) && after.counts.has(one)));
}

function withHolm(rows: Comparison[]): Comparison[] {
  const tested = rows.filter((row) => row.p !== null);
  const adjusted = holmAdjusted(tested.map((row) => row.p!));
  return rows.map((row) => {
    const place = tested.indexOf(row);
    return place === -1 ? row : { ...row, pAdjusted: adjusted[place]! };
  });
}

type Compared = Omit<Comparison, "readPoint" | "before" | "after" | "group" | "exploratory" | "tags">;

/** Compares the rounds over some combinations of conditions, as far as both walked them. */
function compareOver(considered: ReadonlySet<number>, pair: TwoRounds): Compared {
  const { facility, combinations, before, after } = pair;
  const shared = inBoth(considered, pair);
  const dropped = [before, after].flatMap((walk) => leftOut(walk, { considered, shared }, combinations));
  if (shared.size === 0) {
    const unwalked = [before, after].filter(
      ({ counts }) => ![...counts.keys()].some((combination) => considered.has(combination)),
    );
    if (unwalked.length > 0)
      return notComparable(unwalked.map(({ round }) => ({ code: "not-walked", round })));
    return notComparable([{ code: "no-common-conditions" }, ...dropped]);
  }
  const order = combinations.inOrder(shared);
  const sideOf = (walk: Walk): ComparedRound => ({
    ...countWalk(walk, shared),
    strata: order.map((combination) => walk.counts.get(combination)!),
  });
  const earlier = sideOf(before);
  const later = sideOf(after);
  const { table, pairs } = pair.countPairs(shared);
  const isPaired = pairs === earlier.counts.n && pairs === later.counts.n;
  const found = differenceBetween(
    { before: earlier, after: later, pairs: isPaired ? table : null },
    facility,
  );
  const reasons: ComparisonReason[] = [...dropped];
  if (found.standardised) reasons.push({ code: "mix-differs" });
  // A few may share a name by chance; from half on, pairing was meant.
  if (!isPaired && 2 * pairs >= Math.min(earlier.counts.n, later.counts.n)) {
    reasons.push({ code: "partly-paired", pairs, before: earlier.counts.n, after: later.counts.n });
  }
  const [one, other] = [
    { round: before.round, ...earlier },
    { round: after.round, ...later },
  ];
  reasons.push(...tagReasons(one, other), ...clusterReasons(one), ...clusterReasons(other));
  const change = changeOf(found.difference!, facility.smallestChangeThatMatters);
  return { ...found, pAdjusted: null, change, reasons };
}

function notComparable(reasons: ComparisonReason[]): Compared {
  return {
    design: null,
    standardised: false,
    difference: null,
    estimates: null,
    pairs: null,
    p: null,
    pAdjusted: null,
    test: null,
    change: "not-comparable",
    reasons,
  };
}
