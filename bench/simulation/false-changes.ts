import { type ComparedRound, changeOf, differenceBetween } from "../../src/analysis/comparison/difference.ts";
import type { Settings } from "../../src/intervals/interval.ts";
import type { PairTable } from "../../src/model/result/comparison.ts";
import { correctedPhi, proportionDifference } from "../../src/statistics/two-proportions.ts";
import {
  countsByPass,
  type ReadPointModel,
  roundsWalker,
  type Shared,
  seededStream,
  type WalkedMisses,
  walker,
} from "./walk-model.ts";

/** How two rounds are compared: pairwise where both presented the same tags in the same passes. */
export interface ComparedRounds {
  model: ReadPointModel;
  shared: Shared;
}

export interface FalseChanges extends ComparedRounds {
  comparisons: number;
  /** Comparisons that called equal rounds better or worse. */
  changed: { naive: number; compared: number };
}

const settings: Settings = { confidence: 0.95, missCorrelation: 0.02 };

/**
 * Walks two rounds of a read point between which nothing changed, again and again, and counts how often the comparison
 * says better or worse. The naive one is Newcombe's with every presentation taken as independent.
 */
export function falseChanges(
  { model, shared }: ComparedRounds,
  comparisons: number,
  seed: number,
): FalseChanges {
  const walk = roundsWalker(model, shared, seededStream(seed));
  const changed = { naive: 0, compared: 0 };
  const known = new Map<string, { naive: boolean; compared: boolean }>();
  for (let i = 0; i < comparisons; i += 1) {
    const [before, after] = walk();
    const { sides, pairs } = sidesOf(before, after, { model, shared });
    const key = JSON.stringify([sides.before.counts, sides.after.counts, pairs]);
    let found = known.get(key);
    if (found === undefined) {
      found = {
        naive: isChange(naiveDifference(sides.before, sides.after, pairs)),
        compared: isChange(differenceBetween({ ...sides, pairs }, settings).difference!),
      };
      known.set(key, found);
    }
    if (found.naive) changed.naive += 1;
    if (found.compared) changed.compared += 1;
  }
  return { model, shared, comparisons, changed };
}

/** Two walked rounds as the comparison takes them. */
export function sidesOf(before: WalkedMisses, after: WalkedMisses, { model, shared }: ComparedRounds) {
  const sides = { before: sideOf(before, model.tags), after: sideOf(after, model.tags) };
  return { sides, pairs: shared === "nothing" ? null : pairTable(before, after, model) };
}

/**
 * Walks a read point before and after its rate rose, other passes and other tags each time, and counts how often the
 * comparison says better.
 */
export function shownGains(
  model: Omit<ReadPointModel, "trueRate">,
  { before, after }: { before: number; after: number },
  { comparisons, seed }: { comparisons: number; seed: number },
): number {
  const random = seededStream(seed);
  const earlier = walker({ ...model, trueRate: before }, random);
  const later = walker({ ...model, trueRate: after }, random);
  let shown = 0;
  for (let i = 0; i < comparisons; i += 1) {
    const { sides } = sidesOf(earlier(), later(), {
      model: { ...model, trueRate: after },
      shared: "nothing",
    });
    const { difference } = differenceBetween({ ...sides, pairs: null }, settings);
    if (changeOf(difference!, 0.005) === "better") shown += 1;
  }
  return shown;
}

const isChange = (difference: { lower: number; upper: number }) =>
  ["better", "worse"].includes(changeOf(difference, 0.005));

function naiveDifference(before: ComparedRound, after: ComparedRound, pairs: PairTable | null) {
  const arm = ({ counts: { n, k } }: ComparedRound) => ({ p: k / n, n });
  const phi =
    pairs === null
      ? 0
      : correctedPhi({
          both: pairs.readBoth,
          onlyFirst: pairs.readOnlyAfter,
          onlySecond: pairs.readOnlyBefore,
          neither: pairs.missedBoth,
        });
  return proportionDifference({ first: arm(after), second: arm(before), phi }, settings.confidence);
}

function sideOf(walk: WalkedMisses, tags: number): ComparedRound {
  const counts = countsByPass(walk, tags).at(-1)!;
  return { counts, tags: null, strata: [{ n: counts.n, k: counts.k }] };
}

function pairTable(before: WalkedMisses, after: WalkedMisses, { passes, tags }: ReadPointModel): PairTable {
  let missedBoth = 0;
  let missedBefore = 0;
  let missedAfter = 0;
  before.forEach((misses, pass) => {
    const later = new Set(after[pass]);
    missedBefore += misses.length;
    missedAfter += later.size;
    missedBoth += misses.filter((tag) => later.has(tag)).length;
  });
  return {
    readBoth: passes * tags - missedBefore - missedAfter + missedBoth,
    readOnlyBefore: missedAfter - missedBoth,
    readOnlyAfter: missedBefore - missedBoth,
    missedBoth,
  };
}
