import type { Basis } from "../../intervals/interval.ts";
import type { Plan } from "../../model/facility.ts";
import type { TwoRounds } from "../../model/result/plan.ts";
import { remembered } from "../../statistics/numerics/remembered.ts";
import { proportionDifference } from "../../statistics/two-proportions.ts";
import { armOf, proportionsOf } from "../comparison/difference.ts";
import { FaultDistribution, type FaultRow } from "./fault-distribution.ts";
import { faultsOfOnePass, fewestPairs, mostPairs, type PlannedWalk, plannedSample } from "./planned-walk.ts";

/** Two rounds of one read point, as long as each other: the true read rates before and after. */
export interface RoundsToTell {
  tagsPerPass: number;
  sameTags: boolean;
  before: number;
  after: number;
  basis: Basis;
}

/** Nobody walks more twice; past this two rounds are called out of reach. */
export const mostPassesEach = 1000;

const chancesAsked = [0.8, 0.9];

/** Counts less likely than this are not compared: together they come to less than a thousandth. */
const unlikely = 1e-6;

/**
 * How many passes each of two rounds needs for the comparison to say better, if the read rate rises by the smallest change that
 * matters to the one that the plan expects, up to 1000; null where no rate is lower by so much.
 */
export function twoRounds(
  { tagsPerPass, sameTags, expectedRate }: Plan,
  smallestChangeThatMatters: number,
  basis: Basis,
): TwoRounds | null {
  const before = expectedRate - smallestChangeThatMatters;
  if (before <= 0) return null;
  const rounds = { tagsPerPass, sameTags, before, after: expectedRate, basis };
  const chanceAt = remembered((passes: number) => betterChance(rounds, passes));
  let start = guessed(rounds);
  const forChance = chancesAsked.map((chance) => {
    const passes = aboutWhere((count) => chanceAt(count) >= chance, start);
    start = passes ?? Number.POSITIVE_INFINITY;
    return { chance, passes, reached: passes === null ? null : chanceAt(passes) };
  });
  return { before, after: expectedRate, forChance };
}

/** What the textbook has for four chances in five, both rates normal and their scatter as assumed: a place to begin. */
function guessed({ tagsPerPass, before, after, basis }: RoundsToTell): number {
  const designEffect = 1 + (tagsPerPass - 1) * basis.missCorrelation;
  const spread = before * (1 - before) + after * (1 - after);
  const trials = (8 * spread * designEffect) / ((after - before) * (after - before));
  return Math.max(1, Math.ceil(trials / tagsPerPass));
}

/** The smallest number of passes from which a condition holds, searched near a number that is hardly too large; null beyond the most. */
function aboutWhere(holds: (passes: number) => boolean, near: number): number | null {
  if (near > mostPassesEach) return null;
  let [fails, succeeds] = [near, near];
  while (!holds(succeeds)) {
    if (succeeds === mostPassesEach) return null;
    fails = succeeds;
    succeeds = Math.min(mostPassesEach, Math.ceil(succeeds * 1.3));
  }
  if (succeeds === near) {
    do fails = Math.floor(fails / 1.3);
    while (fails > 0 && holds(fails));
  }
  while (succeeds - fails > 1) {
    const middle = Math.floor((fails + succeeds) / 2);
    if (holds(middle)) succeeds = middle;
    else fails = middle;
  }
  return succeeds;
}

/**
 * The chance that two rounds of so many passes are called better, other passes in each, if misses of one pass are correlated as the
 * basis assumes.
 *
 * Every two counts of misses are compared by the rule that compares walked rounds, and weighed with their chance. How the
 * misses of one count lie in the passes stands in three layouts that have the mean and the variance of their pairs.
 * Example: 20 passes of 40 tags, 0.96 before and 0.99 after, correlation 0.02, 95 %: 0.77 (the same in simulated walks).
 */
export function betterChance({ before, after, ...said }: RoundsToTell, passes: number): number {
  const earlier = outcomesByLayout({ ...said, rate: before }, passes);
  const later = outcomesByLayout({ ...said, rate: after }, passes);
  const chances = later.flatMap((one) =>
    earlier.map((other) => betterChanceOf(other, one, said.basis.confidence)),
  );
  return chances.reduce((sum, chance) => sum + chance, 0) / chances.length;
}

/** How many standard deviations beyond their mean the pairs lie; each layout is as likely as the others. */
const layouts = [-Math.sqrt(1.5), 0, Math.sqrt(1.5)];

/** What one round may count. */
interface Outcome {
  chance: number;
  arm: ReturnType<typeof armOf>;
}

function betterChanceOf(earlier: Outcome[], later: Outcome[], confidence: number): number {
  const isBetter = (before: Outcome, after: Outcome) =>
    proportionDifference(proportionsOf({ before: before.arm, after: after.arm, pairs: null }), confidence)
      .lower > 0;
  // More misses before are never less of a gain, and more misses after never more of one.
  let chance = 0;
  let enough = 0;
  let atLeastSoMany = earlier.reduce((sum, one) => sum + one.chance, 0);
  for (const one of later) {
    for (; enough < earlier.length && !isBetter(earlier[enough]!, one); enough += 1)
      atLeastSoMany -= earlier[enough]!.chance;
    chance += one.chance * Math.max(0, atLeastSoMany);
  }
  return chance;
}

/** For each layout, by rising number of misses. */
function outcomesByLayout(
  { tagsPerPass, sameTags, basis, rate }: Omit<RoundsToTell, "before" | "after"> & { rate: number },
  passes: number,
): Outcome[][] {
  const walk: PlannedWalk = {
    trialsPerPass: tagsPerPass,
    unit: "presentations",
    sameTags,
    sense: "at-least",
    limit: rate,
    minimumPasses: 1,
    basis,
  };
  const rows = new FaultDistribution(faultsOfOnePass(walk, 1 - rate), passes, 0).rows();
  const classes = inClasses([...rows].filter(({ chance }) => chance >= unlikely)).map(({ row, chance }) => {
    const { faults } = row;
    return { faults, chance, least: fewestPairs(passes, faults), ...row.pairs() };
  });
  return layouts.map((layout) =>
    classes.map(({ faults, chance, least, mean, deviation }) => {
      const pairs = Math.min(mostPairs(faults), Math.max(least, Math.round(mean + layout * deviation)));
      const { n, k, clusterings } = plannedSample(walk, { passes, faults, pairs });
      const [byPass, byTag = null] = clusterings;
      const counts = { n, k, clusterings, byPass: byPass!, byTag };
      return { chance, arm: armOf({ counts, strata: [{ n, k }] }, basis) };
    }),
  );
}

/** Of many counts, neighbours hardly differ: the middle one of each class stands for it. */
const mostClasses = 40;

function inClasses(rows: FaultRow[]): { row: FaultRow; chance: number }[] {
  const width = Math.ceil(rows.length / mostClasses);
  return Array.from({ length: Math.ceil(rows.length / width) }, (_, i) => {
    const own = rows.slice(i * width, (i + 1) * width);
    return { row: own[own.length >> 1]!, chance: own.reduce((sum, { chance }) => sum + chance, 0) };
  });
}
