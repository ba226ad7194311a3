import type { Ratio } from "../../../model/diagnosis/diagnosis.ts";
import { clopperPearsonBounds, clopperPearsonTails } from "../../../statistics/clopper-pearson.ts";
import type { DiagnosedPoint, MissCounts } from "./candidate.ts";

/** How often something was missed, and everything else of the read point. */
export function countsOf(point: DiagnosedPoint, missed: number, presented: number): MissCounts {
  return {
    missed,
    presented,
    elsewhereMissed: point.misses - missed,
    elsewherePresented: point.presentations - presented,
  };
}

interface Sum {
  number: number;
  missed: number;
  presented: number;
}

const known = new WeakMap<DiagnosedPoint, Partial<Record<"tag" | "pass", readonly Sum[]>>>();

/** Presentations and misses of each tag, or of each pass, that presented anything; in the order of their numbers. */
export function sumsBy(point: DiagnosedPoint, dimension: "tag" | "pass"): readonly Sum[] {
  const own = known.get(point) ?? {};
  known.set(point, own);
  own[dimension] ??= foundSums(point, dimension);
  return own[dimension];
}

function foundSums({ walked: { log }, of }: DiagnosedPoint, dimension: "tag" | "pass"): Sum[] {
  const numbers = of[dimension];
  const { n, missed } = of;
  const length = dimension === "tag" ? log.tags.length : log.passes.length;
  const all = new Int32Array(length);
  const misses = new Int32Array(length);
  for (let i = 0; i < numbers.length; i += 1) {
    const number = numbers[i]!;
    if (number === -1) continue;
    all[number]! += n[i]!;
    misses[number]! += missed[i]!;
  }
  const found: Sum[] = [];
  all.forEach((presented, number) => {
    if (presented > 0) found.push({ number, missed: misses[number]!, presented });
  });
  return found;
}

/**
 * How often so many of all misses, or more, fall on it by chance, if each falls on any presentation alike: an exact
 * binomial test that needs no rate.
 */
export function chanceOf({ missed, presented, elsewhereMissed, elsewherePresented }: MissCounts): number {
  const misses = missed + elsewhereMissed;
  if (missed === 0 || elsewherePresented === 0) return 1;
  const share = presented / (presented + elsewherePresented);
  return clopperPearsonTails(missed / misses, misses, share).asMany;
}

/** How much better misses are described if `missed` of `misses` lie where `expected` would by chance. */
export function deviance(missed: number, misses: number, expected: number): number {
  const term = (k: number, mean: number) => (k === 0 ? 0 : 2 * k * Math.log(k / mean));
  return term(missed, expected) + term(misses - missed, misses - expected);
}

/**
 * How many times as often it is missed as everything else, as the ends of an interval: exact where misses are independent;
 * `designEffect` widens it where they are not. No upper end where nothing else was missed.
 */
export function ratioOf(counts: MissCounts, confidence: number, designEffect = 1): Ratio {
  const misses = counts.missed + counts.elsewhereMissed;
  const perOdds = counts.elsewherePresented / counts.presented;
  const { lower, upper } = clopperPearsonBounds(counts.missed / misses, misses / designEffect, confidence);
  const most = counts.elsewhereMissed === 0 ? null : (upper / (1 - upper)) * perOdds;
  return [(lower / (1 - lower)) * perOdds, most];
}
