import type { PlannedWalk } from "../../src/analysis/plan/planned-walk.ts";
import { fewestPasses, passesForChance } from "../../src/analysis/plan/sample-size.ts";
import { intervals } from "../../src/intervals/index.ts";
import type { Settings } from "../../src/intervals/interval.ts";
import { clopperPearsonBounds } from "../../src/statistics/clopper-pearson.ts";
import { type ClusteredSample, clusterSums } from "../../src/statistics/effective-sample.ts";
import { alike, type PassesModel, passesWalker, type Scatter } from "./pass-by-pass.ts";
import { highestShare, type Share, shareLine } from "./share.ts";

/** A family of settings that one promise is made for. */
export interface Family {
  /** In words, as the table says it. */
  words: string;
  models: PassesModel[];
}

const limits = [0.99, 0.97, 0.95];
const settings: Settings = { confidence: 0.95, missCorrelation: 0.02 };

function family(words: string, sizes: readonly (readonly number[])[], scatters: readonly Scatter[]): Family {
  const models = limits.flatMap((trueRate) =>
    sizes.flatMap((each) => scatters.map((scatter) => ({ sizes: each, trueRate, scatter }))),
  );
  return { words, models };
}

const logit = (...deviations: number[]) =>
  deviations.map((deviation): Scatter => ({ kind: "logit", deviation }));
const betaBinomial = (...correlations: number[]) =>
  correlations.map((correlation): Scatter => ({ kind: "beta-binomial", correlation }));
/** Twenty passes from 5 to 120 tags; one of 200 and nineteen of 10. */
const unequal = [
  Array.from({ length: 20 }, (_, i) => Math.round(5 + (115 * i) / 19)),
  [200, ...alike(19, 10)],
];

/** What is judged once, at the end of the walk. */
export const judgedOnce: Family[] = [
  family("Passes of unequal size", unequal, logit(0.5, 1, 1.5)),
  family(
    "Few passes of many tags",
    [2, 3, 5, 8].flatMap((passes) => [100, 300].map((tags) => alike(passes, tags))),
    logit(0.5, 1, 1.5),
  ),
  family(
    "Beta-binomial scatter of correlation 0.02, 0.05, 0.1",
    [alike(8, 40), alike(20, 40), alike(50, 40)],
    betaBinomial(0.02, 0.05, 0.1),
  ),
  family(
    "Scatter of 0.5, 1, 1.5 on the logit scale",
    [alike(10, 20), alike(20, 40), alike(50, 20), alike(80, 40)],
    logit(0.5, 1, 1.5),
  ),
  family(
    "Misses that rise by 3 logits from the first pass to the last",
    [alike(10, 100), alike(20, 40), alike(40, 20)],
    [{ kind: "drift", logits: 3 }],
  ),
];

const manyPasses = [20, 40, 100].map((tags) => alike(200, tags));

/** What is looked at after each of 200 passes. */
export const judgedAtEveryPass: Family[] = [
  family("Scatter of 1, 1.5 and 2 on the logit scale, 200 passes", manyPasses, logit(1, 1.5, 2)),
  family(
    "Beta-binomial scatter of correlation 0.05 and 0.1, 200 passes",
    manyPasses,
    betaBinomial(0.05, 0.1),
  ),
];

/** How many walks at the limit ended in met; at every pass: were met at any look. */
export function metAtLimit(
  rule: string,
  model: PassesModel,
  { walks, seed, isAtEveryPass }: { walks: number; seed: number; isAtEveryPass: boolean },
): number {
  const walk = passesWalker(model, seed);
  const { sizes } = model;
  const { mostMisses, isMet } = judgeOf(rule, model);
  let met = 0;
  for (let i = 0; i < walks; i += 1) {
    const misses = walk();
    let missed = misses.reduce((sum, one) => sum + one, 0);
    if (!isAtEveryPass) {
      if (missed <= mostMisses[sizes.length]! && isMet(misses, sizes.length)) met += 1;
      continue;
    }
    missed = 0;
    for (let passes = 1; passes <= sizes.length; passes += 1) {
      missed += misses[passes - 1]!;
      if (missed <= mostMisses[passes]! && isMet(misses, passes)) {
        met += 1;
        break;
      }
    }
  }
  return met;
}

/** After how many passes each of some walks is met; null where it is not, to the last pass. */
export function passesUntilMet(
  rule: string,
  model: PassesModel,
  { limit, walks, seed }: { limit: number; walks: number; seed: number },
): (number | null)[] {
  const walk = passesWalker(model, seed);
  const { mostMisses, isMet } = judgeOf(rule, { ...model, trueRate: limit });
  return Array.from({ length: walks }, () => {
    const misses = walk();
    let missed = 0;
    for (let passes = 1; passes <= misses.length; passes += 1) {
      missed += misses[passes - 1]!;
      if (missed <= mostMisses[passes]! && isMet(misses, passes)) return passes;
    }
    return null;
  });
}

/** How a rule judges the first passes of a walk by their misses; the limit is the true rate. */
function judgeOf(rule: string, { sizes, trueRate }: PassesModel) {
  const { decide } = intervals.get(rule);
  const known = new Map<string, boolean>();
  /** By passes walked: with more misses not even independent presentations would show the limit. */
  const mostMisses = [0];
  let n = 0;
  for (const size of sizes) {
    n += size;
    let missed = mostMisses.at(-1)!;
    while (clopperPearsonBounds((n - missed) / n, n, settings.confidence).lower >= trueRate) missed += 1;
    mostMisses.push(Math.max(mostMisses.at(-1)!, missed - 1));
  }
  const isMet = (misses: Int32Array, passes: number): boolean => {
    const key = `${passes}:${layoutOf(misses, sizes, passes)}`;
    let answer = known.get(key);
    if (answer === undefined) {
      if (known.size > 200_000) known.clear();
      answer =
        decide(sampleOf(misses, sizes, passes), { sense: "at-least", limit: trueRate }, settings) === "met";
      known.set(key, answer);
    }
    return answer;
  };
  return { mostMisses, isMet };
}

/** Walks with the same misses in passes of the same size come to the same verdict. */
function layoutOf(misses: Int32Array, sizes: readonly number[], passes: number): string {
  const some: string[] = [];
  for (let pass = 0; pass < passes; pass += 1)
    if (misses[pass]! > 0) some.push(`${misses[pass]}/${sizes[pass]}`);
  return some.sort().join(" ");
}

function sampleOf(misses: Int32Array, sizes: readonly number[], passes: number): ClusteredSample {
  let n = 0;
  let missed = 0;
  const clusters: { n: number; failures: number }[] = [];
  for (let pass = 0; pass < passes; pass += 1) {
    n += sizes[pass]!;
    missed += misses[pass]!;
    clusters.push({ n: sizes[pass]!, failures: misses[pass]! });
  }
  return { n, k: n - missed, clusterings: [clusterSums(clusters)] };
}

/** How often a family of read points whose true rate is the limit is signed off. */
export interface FamilyShare extends Share {
  family: string;
  rule: string;
  isAtEveryPass: boolean;
}

/** Every family, setting by setting, as lines to print, and its highest share. */
export function* hardTable(walks: number, seed: number): Generator<string, FamilyShare[]> {
  const shares: FamilyShare[] = [];
  let next = seed;
  for (const isAtEveryPass of [false, true]) {
    const rule = isAtEveryPass ? "any-time" : "beta-binomial";
    const target = isAtEveryPass ? "at any of 200 looks, target at most 3" : "target at most 5";
    yield `Wrongly met by ${rule}: true rate at the limit, each tag walked once, ${walks} walks a line, in per cent (${target})`;
    for (const { words, models } of isAtEveryPass ? judgedAtEveryPass : judgedOnce) {
      yield `  ${words}`;
      const first = next;
      const counts: { where: string; count: number }[] = [];
      for (const model of models) {
        const count = metAtLimit(rule, model, { walks, seed: next, isAtEveryPass });
        next += 1;
        counts.push({ where: whereOf(model), count });
        yield `    ${whereOf(model)}: ${((count / walks) * 100).toFixed(2)}`;
      }
      const share = highestShare(counts, walks, [first, next - 1]);
      shares.push({ family: words, rule, isAtEveryPass, ...share });
      yield `    ${shareLine(share)}`;
    }
  }
  return shares;
}

function whereOf({ trueRate, sizes, scatter }: PassesModel): string {
  const [first, last] = [sizes[0]!, sizes.at(-1)!];
  const tags = first === last ? `${first}` : `${first} to ${last}`;
  const differ =
    scatter.kind === "logit"
      ? `scatter ${scatter.deviation}`
      : scatter.kind === "drift"
        ? `drift of ${scatter.logits}`
        : `correlation ${scatter.correlation}`;
  return `${trueRate}, ${sizes.length} x ${tags}, ${differ}`;
}

/** What it saves, and costs, to look after every pass. */
export interface UntilMet {
  rule: string;
  expected: number;
  limit: number;
  tags: number;
  walks: number;
  seed: number;
  /** Of the passes walked until met; a walk that was never met counts with all its passes. */
  mean: number;
  standardError: number;
  median: number;
  /** Of walks as long as the fixed plan, the share met at any look; 0..1. */
  metByPlan: number;
  neverMet: number;
  /** The fixed plan: passes of a walk judged once by `fixedRule`, and how many of such walks are met; 0..1. */
  fixedRule: string;
  fixedPasses: number;
  fixedMet: number;
  /** The fewest passes without a miss that show the limit: by the rule, by the fixed rule. */
  fewest: [looked: number, fixed: number];
  /** The same of independent presentations. */
  fewestIndependent: [looked: number, fixed: number];
}

const mostPasses = 600;

/** A read point that reads 99.8 %, with passes of 40 tags whose misses have a correlation of 0.02, and the limit 99 %. */
export function untilMet(walks: number, seed: number): UntilMet {
  const [expected, limit, tags] = [0.998, 0.99, 40];
  const scatter: Scatter = { kind: "beta-binomial", correlation: settings.missCorrelation };
  const [rule, fixedRule] = ["any-time", "beta-binomial"];
  const plan: PlannedWalk = {
    trialsPerPass: tags,
    unit: "presentations",
    sameTags: false,
    sense: "at-least",
    limit,
    minimumPasses: 1,
    basis: { ...settings, interval: fixedRule },
  };
  const fixedPasses = passesForChance(plan, 1 - expected, [0.9])[0]!.passes!;
  const model = { sizes: alike(mostPasses, tags), trueRate: expected, scatter };
  const until = passesUntilMet(rule, model, { limit, walks, seed });
  const walked = until.map((passes) => passes ?? mostPasses).sort((a, b) => a - b);
  const mean = walked.reduce((sum, one) => sum + one, 0) / walks;
  const variance = walked.reduce((sum, one) => sum + (one - mean) ** 2, 0) / (walks - 1);
  const fixed = metInAll(
    fixedRule,
    { ...model, sizes: alike(fixedPasses, tags) },
    { limit, walks, seed: seed + 1 },
  );
  const fewest = (interval: string) => fewestPasses({ ...plan, basis: { ...settings, interval } }, 0)!;
  const independent = (interval: string) =>
    fewestPasses({ ...plan, trialsPerPass: 1, unit: "passes", basis: { ...settings, interval } }, 0)!;
  return {
    rule,
    expected,
    limit,
    tags,
    walks,
    seed,
    mean: Number(mean.toFixed(2)),
    standardError: Number(Math.sqrt(variance / walks).toPrecision(3)),
    median: walked[Math.floor(walks / 2)]!,
    metByPlan: until.filter((passes) => passes !== null && passes <= fixedPasses).length / walks,
    neverMet: until.filter((passes) => passes === null).length / walks,
    fixedRule,
    fixedPasses,
    fixedMet: fixed / walks,
    fewest: [fewest(rule), fewest(fixedRule)],
    fewestIndependent: [independent(rule), independent(fixedRule)],
  };
}

/** How many whole walks are met. */
function metInAll(
  rule: string,
  model: PassesModel,
  { limit, walks, seed }: { limit: number; walks: number; seed: number },
): number {
  const walk = passesWalker(model, seed);
  const { isMet } = judgeOf(rule, { ...model, trueRate: limit });
  let met = 0;
  for (let i = 0; i < walks; i += 1) if (isMet(walk(), model.sizes.length)) met += 1;
  return met;
}
