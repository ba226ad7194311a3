import normalCdf from "@stdlib/stats-base-dists-normal-cdf";
import { mostPairs } from "./planned-walk.ts";

/** The walks with so many faults in all. */
export interface FaultRow {
  faults: number;
  chance: number;
  /** Between these numbers of pairs lies all of the chance that is worth counting. */
  fewestPairs: number;
  mostPairs: number;
  /** Mean and standard deviation of the pairs. */
  pairs(): { mean: number; deviation: number };
  /** The part of the chance that lies below so many pairs. */
  chanceBelow(pairs: number): number;
  /** Whether the pairs have their exact chances. */
  isExact: boolean;
}

/** A chance below this is dropped: all that are dropped along a walk of 10 000 passes together stay below a millionth. */
const negligible = 1e-12;

/**
 * The walks with more faults than this have their pairs approximated. Against exact pairs, for 40 tags a pass, 0.99 asked,
 * that moves the chance of met by at most 0.003 (120 passes at 0.995) and that of a wrong sign-off by at most 0.0003.
 */
export const mostExactFaults = 24;

/**
 * How the faults of a walk may come to lie: the joint distribution of faults in all and pairs of them that share a pass,
 * after `passes` passes, after one more, and so on. `onePass` holds the chance of each number of faults in one pass.
 *
 * The totals of faults have their exact chances. So do the pairs of walks with few faults, by convolution: a pass with m
 * faults adds m to the faults and m (m - 1) / 2 to the pairs. The pairs of walks with more faults have their exact mean and
 * variance, and are taken to be spread like a gamma distribution between them.
 * Example: two passes of one tag, one in ten missed: 0.81 without a fault, 0.18 with one, 0.01 with two, no pair at all.
 */
export class FaultDistribution {
  passes: number;
  readonly #onePass: Float64Array;
  readonly #single: Moments;
  #moments: Moments;
  readonly #exactUpTo: number;
  /** By number of faults: the chance of each number of pairs after some passes; and that of all these walks together. */
  #exact = { rows: [] as Float64Array[], passes: 0, chance: 1 };

  constructor(onePass: Float64Array, passes: number, exactUpTo = mostExactFaults) {
    this.passes = passes;
    this.#onePass = onePass;
    this.#single = trimmed({
      lowest: 0,
      chances: onePass,
      pairs: onePass.map((chance, m) => chance * mostPairs(m)),
      squares: onePass.map((chance, m) => chance * mostPairs(m) * mostPairs(m)),
    });
    this.#exactUpTo = exactUpTo;
    this.#moments = repeated(this.#single, passes);
  }

  addPass(): void {
    this.passes += 1;
    this.#moments = convolved(this.#moments, this.#single);
  }

  /** The exact layouts of up to so many faults, and perhaps of some more; none where walks with so few are too unlikely. */
  #layoutsUpTo(faults: number): Float64Array[] {
    if (faults < 0) return [];
    if (this.#exact.rows.length <= faults) {
      const length = Math.min(faults + spareRows, this.#exactUpTo) + 1;
      const rows = Array.from({ length }, (_, m) => new Float64Array(mostPairs(m) + 1));
      rows[0]![0] = 1;
      this.#exact = { rows, passes: 0, chance: 1 };
    }
    const exact = this.#exact;
    for (; exact.passes < this.passes && exact.chance >= negligible; exact.passes += 1)
      exact.chance = withOneMore(exact.rows, this.#onePass);
    return exact.chance < negligible ? [] : exact.rows;
  }

  /** The chance of so many faults or fewer, however they lie. */
  chanceUpTo(faults: number): number {
    const { lowest, chances } = this.#moments;
    return chances.subarray(0, Math.max(0, faults - lowest + 1)).reduce((sum, chance) => sum + chance, 0);
  }

  /** By number of faults, rising, up to below a number; those too unlikely to matter are left out. */
  *rows(below = Number.POSITIVE_INFINITY): Generator<FaultRow> {
    const { lowest, chances } = this.#moments;
    const layouts = this.#layoutsUpTo(Math.min(below - 1, this.#exactUpTo));
    for (let i = 0; i < chances.length && lowest + i < below; i += 1) {
      const exact = layouts[lowest + i];
      yield exact === undefined ? gammaRow(this.#moments, i) : exactRow(lowest + i, exact);
    }
  }
}

/** A walk that grows is asked about more faults: so many more are worked out than were asked for. */
const spareRows = 4;

/** One pass more, in place; the chance of all walks that are kept. */
function withOneMore(rows: Float64Array[], onePass: Float64Array): number {
  let total = 0;
  // From the most faults down, so that what a row takes from the rows below it is still of the pass before.
  for (let faults = rows.length - 1; faults >= 0; faults -= 1) {
    const row = rows[faults]!;
    for (let i = 0; i < row.length; i += 1) row[i]! *= onePass[0]!;
    for (let m = 1; m <= Math.min(faults, onePass.length - 1); m += 1) {
      const chance = onePass[m]!;
      if (chance < negligible) continue;
      const source = rows[faults - m]!;
      const shift = mostPairs(m);
      for (let i = 0; i < source.length; i += 1) row[shift + i]! += source[i]! * chance;
    }
    for (let i = 0; i < row.length; i += 1) total += row[i]!;
  }
  return total;
}

function exactRow(faults: number, chances: Float64Array): FaultRow {
  const below = (pairs: number) => {
    let total = 0;
    for (let i = 0; i < Math.min(pairs, chances.length); i += 1) total += chances[i]!;
    return total;
  };
  const isKept = (chance: number) => chance > negligible;
  const chance = below(chances.length);
  return {
    faults,
    chance,
    fewestPairs: Math.max(0, chances.findIndex(isKept)),
    mostPairs: Math.max(0, chances.findLastIndex(isKept)),
    pairs: () => {
      const mean = chances.reduce((sum, one, pairs) => sum + one * pairs, 0) / chance;
      const square = chances.reduce((sum, one, pairs) => sum + one * pairs * pairs, 0) / chance;
      return { mean, deviation: Math.sqrt(Math.max(0, square - mean * mean)) };
    },
    chanceBelow: below,
    isExact: true,
  };
}

/** By number of faults, from `lowest` up: its chance, and the chance times the mean of the pairs and of their square. */
interface Moments {
  lowest: number;
  chances: Float64Array;
  pairs: Float64Array;
  squares: Float64Array;
}

/** Two stretches of a walk, one after the other: faults and pairs add up. */
function convolved(a: Moments, b: Moments): Moments {
  const size = a.chances.length + b.chances.length - 1;
  const sum: Moments = {
    lowest: a.lowest + b.lowest,
    chances: new Float64Array(size),
    pairs: new Float64Array(size),
    squares: new Float64Array(size),
  };
  for (let i = 0; i < a.chances.length; i += 1) {
    const chance = a.chances[i]!;
    const pairs = a.pairs[i]!;
    const squares = a.squares[i]!;
    for (let j = 0; j < b.chances.length; j += 1) {
      sum.chances[i + j]! += chance * b.chances[j]!;
      sum.pairs[i + j]! += pairs * b.chances[j]! + chance * b.pairs[j]!;
      sum.squares[i + j]! += squares * b.chances[j]! + 2 * pairs * b.pairs[j]! + chance * b.squares[j]!;
    }
  }
  return trimmed(sum);
}

/** So many passes of one kind, by doubling. */
function repeated(single: Moments, passes: number): Moments {
  const none = Float64Array.of(0);
  let walked: Moments = { lowest: 0, chances: Float64Array.of(1), pairs: none, squares: none };
  let stretch = single;
  for (let rest = passes; rest > 0; rest = Math.floor(rest / 2)) {
    if (rest % 2 === 1) walked = convolved(walked, stretch);
    if (rest > 1) stretch = convolved(stretch, stretch);
  }
  return walked;
}

function trimmed({ lowest, chances, pairs, squares }: Moments): Moments {
  const start = chances.findIndex((chance) => chance >= negligible);
  const end = chances.findLastIndex((chance) => chance >= negligible) + 1;
  const cut = (values: Float64Array) => values.slice(start, end);
  return { lowest: lowest + start, chances: cut(chances), pairs: cut(pairs), squares: cut(squares) };
}

/**
 * Pairs spread like a gamma distribution of their mean and variance, its chances by the cube root (E. B. Wilson and M. M.
 * Hilferty 1931, Proc. Natl. Acad. Sci. 17, 684-688, from memory).
 */
function gammaRow(moments: Moments, index: number): FaultRow {
  const faults = moments.lowest + index;
  const chance = moments.chances[index]!;
  const mean = moments.pairs[index]! / chance;
  const deviation = Math.sqrt(Math.max(0, moments.squares[index]! / chance - mean * mean));
  const shape = (mean / deviation) * (mean / deviation);
  const cdf = (pairs: number) => {
    if (deviation === 0) return Number(pairs > mean);
    const root = Math.cbrt(Math.max(0, pairs - 0.5) / mean);
    return normalCdf((root - 1 + 1 / (9 * shape)) * 3 * Math.sqrt(shape), 0, 1);
  };
  return {
    faults,
    chance,
    fewestPairs: Math.max(0, Math.floor(mean - 6 * deviation)),
    mostPairs: Math.min(mostPairs(faults), Math.ceil(mean + 9 * deviation)),
    pairs: () => ({ mean, deviation }),
    chanceBelow: (pairs) => chance * cdf(pairs),
    isExact: false,
  };
}
