import tQuantile from "@stdlib/stats-base-dists-t-quantile";
import { mean, median, sampleVariance } from "simple-statistics";
import { rateEstimate } from "../../measures/evidence/rates.ts";
import { PresentationCounter } from "../../measures/presentations.ts";
import { columnValues } from "../../model/conditions.ts";
import type { TagTrials } from "../../model/diagnosis/why.ts";
import { byCodePoint, stableBy } from "../../model/order.ts";
import { noRssi } from "../../model/pass-log.ts";
import { holmAdjusted } from "../../statistics/holm.ts";
import { rankSumP } from "../../statistics/rank-sum.ts";
import { rowsByPass } from "./hearings.ts";
import type { Candidate, DiagnosedPoint, Source } from "./misses/candidate.ts";
import { countsOf, ratioOf } from "./misses/miss-counts.ts";
import { stateIf } from "./state-if.ts";
import { level } from "./suggestions.ts";

type Pair = TagTrials["pairs"][number];

/** The models on trial and the presented rows of each. */
interface Trial {
  column: string;
  models: string[];
  rowsOf: ReadonlyMap<string, Int32Array>;
  /** Index into `models`; -1 for a blank. */
  modelOf(row: number): number;
}

/** Tag models side by side: what each was read, which are told apart, and what choosing one would do to the verdict. */
export const tagTrials: Source<TagTrials> = (point) => {
  const trial = trialOf(point);
  if (trial === null) return { candidates: [], details: () => null };
  return {
    candidates: trial.models.map((model) => candidateOf(point, trial, model)),
    details: () => ({
      column: trial.column,
      models: trial.models
        .map((model) => described(point, trial, model))
        .sort(
          stableBy(
            (a, b) => b.read * a.presented - a.read * b.presented,
            (a, b) => byCodePoint(a.model, b.model),
          ),
        ),
      pairs: pairsOf(point, trial),
    }),
  };
};

/** Null where the facility compares no tags, or fewer than two models were walked. */
function trialOf({ walked, presented }: DiagnosedPoint): Trial | null {
  const { facility, log } = walked;
  const column = facility.compareTags;
  const texts = column === null ? undefined : log.rows.columns.get(column);
  if (column === null || texts === undefined) return null;
  const values = columnValues(facility.conditions, column);
  const nameOfText = texts.values.map((text) => values.nameOf(text));
  const rows = new Map<string, number[]>();
  for (const row of presented) {
    const name = nameOfText[texts.index[row]!] ?? null;
    if (name === null || log.rows.tag[row] === -1) continue;
    const own = rows.get(name);
    if (own === undefined) rows.set(name, [row]);
    else own.push(row);
  }
  if (rows.size < 2) return null;
  const models = [...rows.keys()].sort(values.order);
  const modelOfText = nameOfText.map((name) => (name === null ? -1 : models.indexOf(name)));
  return {
    column,
    models,
    rowsOf: new Map([...rows].map(([name, own]) => [name, Int32Array.from(own)])),
    modelOf: (row) => modelOfText[texts.index[row]!] ?? -1,
  };
}

function described(
  { walked, readPoint }: DiagnosedPoint,
  { column, rowsOf }: Trial,
  model: string,
): TagTrials["models"][number] {
  const { rows } = walked.log;
  const own = rowsOf.get(model)!;
  const { counts } = new PresentationCounter(walked.log).count(own);
  const { lower, upper } = rateEstimate(counts, walked.facility);
  const levels = Array.from(own, (row) => rows.rssiDbm[row]!).filter((level) => level !== noRssi);
  return {
    model,
    tags: new Set(Array.from(own, (row) => rows.tag[row]!)).size,
    presented: counts.n,
    read: counts.k,
    lower,
    upper,
    medianDbm: levels.length === 0 ? null : median(levels),
    state: stateIf(walked, readPoint, [{ column, kind: "values", values: [model] }]),
  };
}

/** What each tag was read more or less often than the models of its passes in the middle, over passes with at least two of them. */
interface Scores {
  /** By model, one score a tag. */
  scores: number[][];
  /** By model, the read rate of each tag. */
  rates: number[][];
  /** By pass with at least two of the models: the read rate of each model; null for one that it did not have. */
  passes: (number | null)[][];
  /** Presentations and reads by model. */
  counts: { n: number; k: number }[];
}

function scoresOf({ walked }: DiagnosedPoint, trial: Trial, models: readonly string[]): Scores {
  const { pass, tag, tagsRead } = walked.log.rows;
  const places = models.map((model) => trial.models.indexOf(model));
  const all = Int32Array.from(models.flatMap((model) => [...trial.rowsOf.get(model)!]));
  const tags = models.map(() => new Map<number, { score: number; read: number; n: number }>());
  const passes: Scores["passes"] = [];
  const counts = models.map(() => ({ n: 0, k: 0 }));
  for (const own of rowsByPass(pass, all).values()) {
    const sums = models.map(() => ({ n: 0, k: 0 }));
    for (const row of own) {
      const sum = sums[places.indexOf(trial.modelOf(row))]!;
      sum.n += 1;
      sum.k += tagsRead[row]!;
    }
    const rates = sums.map(({ n, k }) => (n === 0 ? null : k / n));
    const known = rates.filter((rate) => rate !== null);
    if (known.length < 2) continue;
    passes.push(rates);
    const middle = mean(known);
    for (const row of own) {
      const model = places.indexOf(trial.modelOf(row));
      const read = tagsRead[row]!;
      const one = tags[model]!.get(tag[row]!) ?? { score: 0, read: 0, n: 0 };
      tags[model]!.set(tag[row]!, { score: one.score + read - middle, read: one.read + read, n: one.n + 1 });
      counts[model]!.n += 1;
      counts[model]!.k += read;
    }
  }
  // Sums of the same numbers in another order differ in their last bits, which would part equal ranks.
  const rounded = (value: number) => Math.round(value * 1e9) / 1e9;
  return {
    scores: tags.map((own) => [...own.values()].map(({ score, n }) => rounded(score / n))),
    rates: tags.map((own) => [...own.values()].map(({ read, n }) => read / n)),
    passes,
    counts,
  };
}

/** Every two models that some pass had both of, the smallest p first. */
function pairsOf(point: DiagnosedPoint, trial: Trial): Pair[] {
  const compared = trial.models.flatMap((first, i) =>
    trial.models.slice(i + 1).flatMap((second) => {
      const scores = scoresOf(point, trial, [first, second]);
      if (scores.passes.length === 0) return [];
      return [{ first, second, ...differenceOf(scores, point.confidence) }];
    }),
  );
  const adjusted = holmAdjusted(compared.map(({ p }) => p));
  return compared
    .map((pair, i) => ({ ...pair, pAdjusted: adjusted[i]!, toldApart: adjusted[i]! <= level }))
    .sort(
      stableBy(
        (a, b) => a.p - b.p,
        (a, b) => byCodePoint(a.first, b.first),
        (a, b) => byCodePoint(a.second, b.second),
      ),
    );
}

/**
 * The mean over passes of the difference of read rates, with an interval whose variance adds up what passes and what tags
 * scatter, less what both count twice, and is never below that of independent presentations. p is of a rank-sum test over
 * tags: a model is as many tags as were walked, however often these were presented.
 */
function differenceOf(
  { scores, rates, passes, counts }: Scores,
  confidence: number,
): Pick<Pair, "passes" | "difference" | "lower" | "upper" | "p"> {
  const differences = passes.map(([first, second]) => first! - second!);
  const difference = mean(differences);
  const varianceOfMean = (values: number[]) =>
    values.length < 2 ? 0 : sampleVariance(values) / values.length;
  const ofPasses = varianceOfMean(differences);
  const ofTags = varianceOfMean(rates[0]!) + varianceOfMean(rates[1]!);
  const sum = (part: (n: number, k: number) => number) =>
    part(counts[0]!.n, counts[0]!.k) + part(counts[1]!.n, counts[1]!.k);
  const cells = sum((n, k) => (k * (n - k)) / (n * n * n));
  const least = sum((n, k) => ((k + 1) * (n - k + 1)) / ((n + 2) * (n + 2) * (n + 2)));
  const variance = Math.max(ofPasses + ofTags - cells, ofPasses, ofTags, least);
  const df = Math.max(1, Math.min(passes.length, rates[0]!.length, rates[1]!.length) - 1);
  const reach = tQuantile((1 + confidence) / 2, df) * Math.sqrt(variance);
  return {
    passes: passes.length,
    difference,
    lower: Math.max(-1, difference - reach),
    upper: Math.min(1, difference + reach),
    p: rankSumP(scores[0]!, scores[1]!),
  };
}

/** A model against all others together. One that was read as well or better is no cause of misses. */
function candidateOf(point: DiagnosedPoint, trial: Trial, model: string): Candidate {
  const { tagsRead } = point.walked.log.rows;
  const own = trial.rowsOf.get(model)!;
  const missed = own.reduce((sum, row) => sum + 1 - tagsRead[row]!, 0);
  const counts = countsOf(point, missed, own.length);
  const place = trial.models.indexOf(model);
  const { scores } = scoresOf(point, trial, trial.models);
  const others = scores.filter((_, i) => i !== place).flat();
  const isWorse = missed * counts.elsewherePresented > counts.elsewhereMissed * own.length;
  return {
    kind: "tag-model",
    subject: { [trial.column]: model },
    p: isWorse ? rankSumP(scores[place]!, others) : 1,
    counts,
    ratio: missed === 0 || counts.elsewherePresented === 0 ? null : ratioOf(counts, point.confidence),
    covers: (row) => trial.modelOf(row) === place,
    explains: 0,
    sentence: `Tags of ${trial.column} ${model} were missed in ${missed} of ${own.length} presentations, all others in ${counts.elsewhereMissed} of ${counts.elsewherePresented}. Another model is read better.`,
  };
}
