import { marginEvidence } from "../../src/measures/evidence/margins.ts";
import { findRoot } from "../../src/statistics/numerics/root.ts";
import { seededStream } from "./walk-model.ts";

/** A power log of a read point whose margin lies exactly at its limit. */
export interface PowerLogModel {
  /** Of each power, the same ones at all of them or others at each. */
  tags: number;
  isSameTags: boolean;
  /** Whether the log names its tags. */
  isNamed: boolean;
  /** So many dB more than the others take is what one tag in twenty takes: then the logistic curve is not the true one. */
  weakDb: number;
  /** The share that is to be read. */
  share: number;
}

const stepsDbm = [12, 15, 18, 21, 24, 27, 30];
/** Each tag is read from a power of its own on. These powers follow a logistic distribution, so that the curve is the true one. */
const ownPower = { middleDbm: 20, scaleDb: 1.8 };
const weakShare = 0.05;
const inUseDbm = 30;
const basis = { confidence: 0.95, interval: "wilson", missCorrelation: 0.02 };

/** A log that names the same tags at every power is judged as one that names none. */
const ways = [
  { isSameTags: true, isNamed: false },
  { isSameTags: false, isNamed: false },
  { isSameTags: false, isNamed: true },
];
const models: PowerLogModel[] = [
  ...[0.99, 0.9, 0.5].flatMap((share) =>
    ways.flatMap((way) => [20, 40, 100].map((tags) => ({ tags, ...way, weakDb: 0, share }))),
  ),
  ...[4, 8].flatMap((weakDb) => [40, 100].map((tags) => ({ tags, ...ways[0]!, weakDb, share: 0.99 }))),
];

/** How often a power log at the limit is met. */
export function powerLogsMet(
  { tags, isSameTags, isNamed, weakDb, share }: PowerLogModel,
  logs: number,
  seed: number,
): number {
  const random = seededStream(seed);
  const drawn = () => {
    const chance = Math.max(random(), 1e-12);
    const own = ownPower.middleDbm + ownPower.scaleDb * Math.log(chance / (1 - chance));
    return weakDb > 0 && random() < weakShare ? own + weakDb : own;
  };
  const readAt = (dbm: number) => 1 / (1 + Math.exp((ownPower.middleDbm - dbm) / ownPower.scaleDb));
  const short = (dbm: number) => share - (1 - weakShare) * readAt(dbm) - weakShare * readAt(dbm - weakDb);
  const neededDbm = findRoot(short, { low: 0, high: 100 });
  const limit = { sense: "at-least", limit: inUseDbm - neededDbm } as const;
  const all = stepsDbm.map((_, step) => step);
  const once = { subjects: tags, trials: [1] };
  const named = isSameTags
    ? [{ subjects: tags, groups: all, trials: all.map(() => 1) }]
    : all.map((step) => ({ ...once, groups: [step] }));
  const cohorts = isNamed ? named : null;
  let met = 0;
  for (let log = 0; log < logs; log += 1) {
    let powers = Array.from({ length: tags }, drawn);
    const steps = stepsDbm.map((powerDbm) => {
      if (!isSameTags) powers = powers.map(drawn);
      return { powerDbm, presented: tags, read: powers.filter((own) => own <= powerDbm).length };
    });
    if (marginEvidence({ steps, cohorts, inUseDbm, share }).decide(limit, basis) === "met") met += 1;
  }
  return met;
}

/** How often power logs at the limit come out met. */
interface PowerLogShare extends PowerLogModel {
  logs: number;
  seed: number;
  /** 0..1. */
  wronglyMet: number;
  standardError: number;
}

/** Every setting, as lines to print. */
export function* powerLimitTable(logs: number, seed: number): Generator<string, PowerLogShare[]> {
  yield `Power in hand wrongly met: true margin at the limit, ${logs} power logs a line, in per cent (nominal 2.5)`;
  const shares: PowerLogShare[] = [];
  for (const [i, model] of models.entries()) {
    const wronglyMet = powerLogsMet(model, logs, seed + i) / logs;
    const standardError = Number(Math.sqrt((wronglyMet * (1 - wronglyMet)) / logs).toPrecision(3));
    shares.push({ ...model, logs, seed: seed + i, wronglyMet, standardError });
    const percent = (part: number) => (part * 100).toFixed(2);
    yield `  ${model.share * 100} %, ${model.tags} tags, ${model.isSameTags ? "the same ones" : "others"} at each power, ${model.isNamed ? "named" : "counted"}${model.weakDb === 0 ? "" : `, one in twenty ${model.weakDb} dB weaker`}: ${percent(wronglyMet)}, standard error ${percent(standardError)}; seed ${seed + i}`;
  }
  return shares;
}
