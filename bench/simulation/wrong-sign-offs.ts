import { type Basis, clusteredRate, plainRate } from "../../src/analysis/estimate.ts";
import { rateState } from "../../src/analysis/state.ts";
import { sequenceState } from "../../src/intervals/any-time-interval.ts";
import { clusteredState } from "../../src/intervals/clustered-interval.ts";
import type { Estimate } from "../../src/model/estimate.ts";
import type { ClusteredSample } from "../../src/statistics/effective-sample.ts";
import { countsByPass, type ReadPointModel, seededStream, walker } from "./walk-model.ts";

export const rules = ["naive Wilson", "wilson", "exact", "beta-binomial", "any-time, every pass"] as const;
type Rule = (typeof rules)[number];

export interface WrongSignOffs {
  model: ReadPointModel;
  walks: number;
  /** Walks that ended in met; with any-time, those that were met at any look. */
  met: Record<Rule, number>;
}

/**
 * Walks a read point whose true rate is the limit again and again, and counts how often each rule signs it off. The
 * naive rule takes every presentation as independent.
 */
export function wrongSignOffs(
  model: ReadPointModel,
  walks: number,
  seed: number,
  missCorrelation = 0.02,
): WrongSignOffs {
  const basisOf = (interval: Basis["interval"]): Basis => ({ confidence: 0.95, interval, missCorrelation });
  const [wilson, exact] = [basisOf("wilson"), basisOf("exact")];
  const walk = walker(model, seededStream(seed));
  const settings = { confidence: 0.95, missCorrelation };
  const met = Object.fromEntries(rules.map((rule) => [rule, 0])) as Record<Rule, number>;
  const isMet = (estimate: Estimate) => rateState(estimate, "at-least", model.trueRate) === "met";
  const naive = (basis: Basis) =>
    remembered(
      ({ n, k }) => n * 1e5 + k,
      ({ n, k }) => k / n > model.trueRate && isMet(plainRate(k, n, basis)),
    );
  // An effective sample is never larger than the sample: where all presentations taken as independent are not enough,
  // there is nothing to work out.
  const [naiveWilson, naiveExact] = [naive(wilson), naive(exact)];
  const clusteredMet = remembered(
    layoutKey,
    (counts) => clusteredState(counts, "at-least", model.trueRate, settings) === "met",
  );
  const anyTimeMet = remembered(
    layoutKey,
    (counts) => sequenceState(counts, "at-least", model.trueRate, settings) === "met",
  );
  for (let i = 0; i < walks; i += 1) {
    const looks = countsByPass(walk(), model.tags);
    const counts = looks.at(-1)!;
    if (naiveWilson(counts)) {
      met["naive Wilson"] += 1;
      if (isMet(clusteredRate(counts, wilson))) met.wilson += 1;
    }
    if (naiveExact(counts)) {
      if (isMet(clusteredRate(counts, exact))) met.exact += 1;
      if (clusteredMet(counts)) met["beta-binomial"] += 1;
    }
    if (looks.some((look) => naiveExact(look) && anyTimeMet(look))) met["any-time, every pass"] += 1;
  }
  return { model, walks, met };
}

const layoutKey = ({ n, k, clusterings }: ClusteredSample) =>
  [n, k, ...clusterings.map(({ failureSquares }) => failureSquares)].join(" ");

/** Walks with the same counts come to the same verdict, and few misses make few different counts. */
function remembered(
  keyOf: (counts: ClusteredSample) => string | number,
  judge: (counts: ClusteredSample) => boolean,
): (counts: ClusteredSample) => boolean {
  const known = new Map<string | number, boolean>();
  return (counts) => {
    const key = keyOf(counts);
    let answer = known.get(key);
    if (answer === undefined) {
      answer = judge(counts);
      known.set(key, answer);
    }
    return answer;
  };
}
