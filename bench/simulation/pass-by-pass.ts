import normalQuantile from "@stdlib/stats-base-dists-normal-quantile";
import { betaBinomialPmf } from "../../src/statistics/beta-binomial.ts";
import { logitFor, seededStream } from "./walk-model.ts";

/** How passes of one size differ: what each of them comes to is drawn from the chances of each number of misses. */
export type Scatter =
  /** Normal on the logit scale, in its units. */
  | { kind: "logit"; deviation: number }
  /** Beta-binomial, by the correlation of the misses of one pass. */
  | { kind: "beta-binomial"; correlation: number }
  /** From the first pass to the last, the logit of a miss rises by so much. */
  | { kind: "drift"; logits: number };

/** A read point whose tags go through once each, so that only passes differ. */
export interface PassesModel {
  /** Tags of each pass, in the order walked. */
  sizes: readonly number[];
  /** Read rate over all passes that there might be; of a drift over the passes walked. */
  trueRate: number;
  scatter: Scatter;
}

/** Draws the misses of each pass of a walk, again and again. */
export function passesWalker(model: PassesModel, seed: number): () => Int32Array {
  const random = seededStream(seed);
  const chances = cumulated(model);
  const misses = new Int32Array(model.sizes.length);
  return () => {
    for (let pass = 0; pass < misses.length; pass += 1) {
      const drawn = random();
      const cdf = chances[pass]!;
      let missed = 0;
      while (missed < cdf.length - 1 && drawn >= cdf[missed]!) missed += 1;
      misses[pass] = missed;
    }
    return misses;
  };
}

/** For each pass the chances of so many misses or fewer. */
function cumulated({ sizes, trueRate, scatter }: PassesModel): Float64Array[] {
  const known = new Map<string, Float64Array>();
  const rates = missRates(trueRate, scatter, sizes.length);
  return sizes.map((size, pass) => {
    const key = `${size} ${scatter.kind === "drift" ? pass : ""}`;
    const found = known.get(key) ?? runningSum(missesOf(size, rates(pass), scatter));
    known.set(key, found);
    return found;
  });
}

function missesOf(size: number, missRates: readonly number[], scatter: Scatter): Float64Array {
  const correlation = scatter.kind === "beta-binomial" ? scatter.correlation : 0;
  const sum = new Float64Array(size + 1);
  for (const rate of missRates) {
    const pmf = betaBinomialPmf(size, rate, correlation);
    for (let missed = 0; missed <= size; missed += 1) sum[missed]! += pmf[missed]! / missRates.length;
  }
  return sum;
}

/** Equally likely places of the standard normal distribution. */
const places = Array.from({ length: 2000 }, (_, i) => normalQuantile((i + 0.5) / 2000, 0, 1));
const missRate = (logit: number) => 1 / (1 + Math.exp(logit));

/** The miss rates, each as likely, that a pass may have. */
function missRates(trueRate: number, scatter: Scatter, passes: number): (pass: number) => number[] {
  if (scatter.kind === "beta-binomial") return () => [1 - trueRate];
  if (scatter.kind === "logit") {
    const middle = logitFor(trueRate, scatter.deviation);
    const rates = places.map((place) => missRate(middle + scatter.deviation * place));
    return () => rates;
  }
  const drift = (pass: number) => scatter.logits * (0.5 - pass / (passes - 1));
  const all = Array.from({ length: passes }, (_, pass) => pass);
  let [low, high] = [-20, 20];
  for (let step = 0; step < 60; step += 1) {
    const middle = (low + high) / 2;
    const mean = all.reduce((sum, pass) => sum + missRate(middle + drift(pass)), 0) / passes;
    if (mean > 1 - trueRate) low = middle;
    else high = middle;
  }
  return (pass) => [missRate((low + high) / 2 + drift(pass))];
}

function runningSum(pmf: Float64Array): Float64Array {
  let sum = 0;
  return pmf.map((chance) => {
    sum += chance;
    return sum;
  });
}

/** Passes of one size. */
export function alike(passes: number, tags: number): number[] {
  return new Array<number>(passes).fill(tags);
}
