import normalQuantile from "@stdlib/stats-base-dists-normal-quantile";
import { signOffInterval } from "../../src/intervals/index.ts";
import { levelEvidence } from "../../src/measures/evidence/levels.ts";
import {
  type ClusteredSample,
  type ClusterSums,
  clusterSums,
} from "../../src/statistics/effective-sample.ts";
import { seededStream } from "./walk-model.ts";

/** Walks whose signal lies exactly at its limit; every presentation is read. */
export interface SignalModel {
  quantile: number;
  passes: number;
  /** Of each pass, the same ones in all of them or others in each. */
  tags: number;
  isSameTags: boolean;
  /** How tags and passes scatter, in dB, beside the 2 dB of a single presentation. */
  tagScatterDb: number;
  passScatterDb: number;
}

const presentationScatterDb = 2;
const basis = { confidence: 0.95, interval: "wilson", missCorrelation: 0.02 };

const scatters = [
  { tagScatterDb: 0, passScatterDb: 0 },
  { tagScatterDb: 1, passScatterDb: 1 },
  { tagScatterDb: 2, passScatterDb: 1 },
];
const models: SignalModel[] = [0.05, 0.5].flatMap((quantile) =>
  [true, false].flatMap((isSameTags) =>
    [20, 50].flatMap((passes) =>
      scatters.map((scatter) => ({ quantile, passes, tags: 40, isSameTags, ...scatter })),
    ),
  ),
);

/**
 * How many walks whose true quantile is the limit are met: by order statistics, which take all presentations as independent; and how
 * many of them without a remark, since the share of presentations at the limit or stronger is met as a rate too.
 */
export function signalWalksMet(
  model: SignalModel,
  walks: number,
  seed: number,
): { met: number; withoutRemark: number } {
  const { quantile, passes, tags, isSameTags, tagScatterDb, passScatterDb } = model;
  const random = seededStream(seed);
  // Never quite 0: exact normals, since the limit is their quantile.
  const normal = () => normalQuantile(random() + 1e-11, 0, 1);
  const spread = Math.hypot(presentationScatterDb, tagScatterDb, passScatterDb);
  const limit = { sense: "at-least", limit: spread * normalQuantile(quantile, 0, 1) } as const;
  const drawn = () => Array.from({ length: tags }, () => tagScatterDb * normal());
  const rate = { sense: "at-least", limit: 1 - quantile } as const;
  let met = 0;
  let withoutRemark = 0;
  for (let walk = 0; walk < walks; walk += 1) {
    let ofTags = drawn();
    const values: number[] = [];
    for (let pass = 0; pass < passes; pass += 1) {
      if (!isSameTags && pass > 0) ofTags = drawn();
      const ofPass = passScatterDb * normal();
      for (const ofTag of ofTags) values.push(ofTag + ofPass + presentationScatterDb * normal());
    }
    const levels = { censored: 0, values: [...Float64Array.from(values).sort()] };
    if (levelEvidence({ levels, quantile, passes, remarks: [] }).decide(limit, basis) !== "met") continue;
    met += 1;
    const sample = sampleOf(
      values.map((level) => level < limit.limit),
      model,
    );
    if (signOffInterval().decide(sample, rate, basis) === "met") withoutRemark += 1;
  }
  return { met, withoutRemark };
}

/** Failures in the order of the walk, pass after pass, by pass and by tag. */
function sampleOf(failed: readonly boolean[], { tags, isSameTags }: SignalModel): ClusteredSample {
  const failures = failed.filter((one) => one).length;
  const byPass = countsBy(failed, (i) => Math.floor(i / tags));
  const byTag = countsBy(failed, (i) => (isSameTags ? i % tags : i));
  return { n: failed.length, k: failed.length - failures, clusterings: [byPass, byTag] };
}

function countsBy(failed: readonly boolean[], clusterOf: (i: number) => number): ClusterSums {
  const clusters: { n: number; failures: number }[] = [];
  for (const [i, one] of failed.entries()) {
    const cluster = clusters[clusterOf(i)] ?? { n: 0, failures: 0 };
    clusters[clusterOf(i)] = cluster;
    cluster.n += 1;
    cluster.failures += one ? 1 : 0;
  }
  return clusterSums(clusters);
}

/** How often walks at the limit come out met. */
interface SignalShare extends SignalModel {
  walks: number;
  seed: number;
  /** 0..1. */
  wronglyMet: number;
  /** The same, of those without a remark. */
  withoutRemark: number;
  /** Of the first. */
  standardError: number;
}

/** Every setting, as lines to print. */
export function* signalTable(walks: number, seed: number): Generator<string, SignalShare[]> {
  yield `Signal strength wrongly met: true quantile at the limit, ${walks} walks a line, in per cent (nominal 2.5)`;
  const shares: SignalShare[] = [];
  for (const [i, model] of models.entries()) {
    const { met, withoutRemark } = signalWalksMet(model, walks, seed + i);
    const wronglyMet = met / walks;
    const standardError = Number(Math.sqrt((wronglyMet * (1 - wronglyMet)) / walks).toPrecision(3));
    shares.push({
      ...model,
      walks,
      seed: seed + i,
      wronglyMet,
      withoutRemark: withoutRemark / walks,
      standardError,
    });
    const percent = (part: number) => (part * 100).toFixed(2);
    yield `  ${model.quantile * 100} %, ${model.passes} x ${model.tags}, ${model.isSameTags ? "the same tags" : "others"} in each pass, scatter of tags ${model.tagScatterDb} dB, of passes ${model.passScatterDb} dB: ${percent(wronglyMet)}, standard error ${percent(standardError)}, ${percent(withoutRemark / walks)} without a remark; seed ${seed + i}`;
  }
  return shares;
}
