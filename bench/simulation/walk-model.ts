import normalQuantile from "@stdlib/stats-base-dists-normal-quantile";
import type { PresentationCounts } from "../../src/measures/presentations.ts";
import type { ClusterLayout, ClusterSums } from "../../src/statistics/effective-sample.ts";

/** A read point as the simulation has it: how passes and tags differ, on the logit scale, and what it reads in the long run. */
export interface ReadPointModel {
  passes: number;
  tags: number;
  /** Read rate over all passes and tags that there might be. */
  trueRate: number;
  passScatter: number;
  tagScatter: number;
  /** Of sessions, which differ as days do: all passes of one share it. Every walk has sessions of its own. */
  dayScatter?: number;
  /** Into how many sessions of like length a walk is divided; one where left out. */
  sessions?: number;
}

/** A seeded stream of numbers in 0..1 (mulberry32). */
export function seededStream(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}

const logistic = (logit: number) => 1 / (1 + Math.exp(-logit));

/** Equally likely places of the standard normal distribution: their mean stands for its integral. */
const places = Array.from({ length: 2000 }, (_, i) => normalQuantile((i + 0.5) / 2000, 0, 1));

/** The middle of the logit scale at which a scatter of `deviation` gives the true rate on average. */
export function logitFor(trueRate: number, deviation: number): number {
  let low = Math.log(trueRate / (1 - trueRate)) - 1;
  let high = low + 2 + deviation * deviation;
  for (let step = 0; step < 60; step += 1) {
    const middle = (low + high) / 2;
    const mean = places.reduce((sum, place) => sum + logistic(middle + deviation * place), 0) / places.length;
    if (mean < trueRate) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** Misses of one walk, pass by pass: the tags missed in it. The same tags go through in every pass. */
export type WalkedMisses = number[][];

/** Which of their effects two rounds of one read point have in common. */
export type Shared = "passes and tags" | "tags" | "nothing";

/** Makes walks of one read point: new passes and new tags each time, drawn from the same stream. */
export function walker(model: ReadPointModel, random: () => number): () => WalkedMisses {
  const draw = drawing(model, random);
  return () => draw.walk(draw.passes(), draw.tags());
}

/** Makes pairs of rounds between which nothing changed. */
export function roundsWalker(
  model: ReadPointModel,
  shared: Shared,
  random: () => number,
): () => [WalkedMisses, WalkedMisses] {
  const draw = drawing(model, random);
  return () => {
    const passes = draw.passes();
    const tags = draw.tags();
    return [
      draw.walk(passes, tags),
      draw.walk(
        shared === "passes and tags" ? passes : draw.passes(),
        shared === "nothing" ? draw.tags() : tags,
      ),
    ];
  };
}

function drawing(model: ReadPointModel, random: () => number) {
  const { passes, tags, trueRate, passScatter, tagScatter, dayScatter = 0, sessions = 1 } = model;
  const middle = logitFor(trueRate, Math.hypot(passScatter, tagScatter, dayScatter));
  const effects = (count: number, scatter: number) =>
    Float64Array.from({ length: count }, () =>
      scatter === 0 ? 0 : scatter * normalQuantile(Math.max(random(), 1e-12), 0, 1),
    );
  return {
    passes: () => effects(passes, passScatter),
    tags: () => effects(tags, tagScatter),
    walk: (passEffects: Float64Array, tagEffects: Float64Array): WalkedMisses => {
      const days = effects(sessions, dayScatter);
      return Array.from(passEffects, (passEffect, pass) => {
        const level = middle + passEffect + days[Math.floor((pass * sessions) / passes)]!;
        const misses: number[] = [];
        for (let tag = 0; tag < tags; tag += 1)
          if (random() >= logistic(level + tagEffects[tag]!)) misses.push(tag);
        return misses;
      });
    },
  };
}

/** What the first passes of a walk come to: after one pass, after two, and so on to the whole walk. */
export function countsByPass(walk: WalkedMisses, tags: number): PresentationCounts[] {
  const ofTag = new Uint16Array(tags);
  // By number of misses: how many passes, and how many tags, have so many.
  const passesWith = new Map<number, number>();
  const tagsWith = new Map([[0, tags]]);
  let missed = 0;
  let passSquares = 0;
  let tagSquares = 0;
  return walk.map((misses, i) => {
    const passes = i + 1;
    const n = passes * tags;
    missed += misses.length;
    passSquares += misses.length ** 2;
    add(passesWith, misses.length, 1);
    for (const tag of misses) {
      const before = ofTag[tag]!;
      tagSquares += 2 * before + 1;
      add(tagsWith, before, -1);
      add(tagsWith, before + 1, 1);
      ofTag[tag] = before + 1;
    }
    const byPass = sums(passesWith, { clusters: passes, size: tags, missed, failureSquares: passSquares });
    const byTag = sums(tagsWith, { clusters: tags, size: passes, missed, failureSquares: tagSquares });
    return { n, k: n - missed, clusterings: [byPass, byTag], byPass, byTag };
  });
}

function add(counts: Map<number, number>, number: number, change: number): void {
  counts.set(number, (counts.get(number) ?? 0) + change);
}

/** The sums of clusters of one size, given how many have each number of failures. */
function sums(
  withFailures: ReadonlyMap<number, number>,
  {
    clusters,
    size,
    missed,
    failureSquares,
  }: { clusters: number; size: number; missed: number; failureSquares: number },
): ClusterSums {
  const counted = [...withFailures].filter(([, times]) => times > 0).sort(([a], [b]) => a - b);
  const layout: ClusterLayout = {
    sizes: [[size, clusters]],
    failing: counted.filter(([failures]) => failures > 0),
    succeeding: counted
      .filter(([failures]) => failures < size)
      .map(([failures, times]) => [size - failures, times] as const)
      .reverse(),
  };
  return {
    clusters,
    largest: size,
    sizeSquares: clusters * size * size,
    failuresTimesSize: missed * size,
    failureSquares,
    layout: () => layout,
  };
}
