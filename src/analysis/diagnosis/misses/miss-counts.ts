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

const known = new WeakMap<DiagnosedPoint, Map<Int32Array, readonly Sum[]>>();

/** Presentations and misses of each tag, or of each pass, that presented anything; in the order of their numbers. */
export function sumsBy(point: DiagnosedPoint, numbers: Int32Array, length: number): readonly Sum[] {
  const own = known.get(point) ?? new Map<Int32Array, readonly Sum[]>();
  known.set(point, own);
  const sums = own.get(numbers) ?? foundSums(point, numbers, length);
  own.set(numbers, sums);
  return sums;
}

function foundSums({ walked, presented }: DiagnosedPoint, numbers: Int32Array, length: number): Sum[] {
  const { presentations, tagsRead } = walked.log.rows;
  const all = new Int32Array(length);
  const read = new Int32Array(length);
  for (const row of presented) {
    const number = numbers[row]!;
    all[number]! += presentations[row]!;
    read[number]! += tagsRead[row]!;
  }
  const found: Sum[] = [];
  all.forEach((n, number) => {
    if (n > 0) found.push({ number, missed: n - read[number]!, presented: n });
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
