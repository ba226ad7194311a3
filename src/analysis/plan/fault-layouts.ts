import normalCdf from "@stdlib/stats-base-dists-normal-cdf";

/**
 * How the faults of a walk may come to lie: the chance of each pair of totals, faults in all and pairs of them that
 * share a pass. The two are all that the judging rule looks at where every pass is alike.
 */
export interface FaultLayouts {
  readonly passes: number;
  /** By total of faults, rising; totals too unlikely to matter are left out. */
  rows(): FaultRow[];
  /** The chance of so many faults or fewer, however they lie. */
  chanceUpTo(faults: number): number;
  addPass(): void;
}

/** The walks with so many faults in all. */
export interface FaultRow {
  faults: number;
  chance: number;
  /** Between these numbers of pairs lies all of the chance that is worth counting. */
  fewestPairs: number;
  mostPairs: number;
  /** The part of the chance that lies below so many pairs. */
  chanceBelow(pairs: number): number;
  /** Whether the pairs have their exact chances. */
  laidOut: boolean;
}

/** A chance below this is dropped: all that are dropped along a walk of 10 000 passes together stay below a millionth. */
const negligible = 1e-12;

const pairsOf = (faults: number) => (faults * (faults - 1)) / 2;

/**
 * The layouts of a walk in which `passes` passes were walked already, all alike: `onePass` holds the chance of each number
 * of faults in one of them.
 *
 * The totals of faults have their exact chances. So do the pairs of walks with at most `laidOutTo` faults, by convolution
 * pass after pass: a pass with m faults adds m to the faults and m (m - 1) / 2 to the pairs. Of walks with more faults the
 * pairs have their exact mean and scatter, and are taken to be spread like a gamma distribution between them.
 * Example: two passes of one tag, one in ten missed: 0.81 without a fault, 0.18 with one, 0.01 with two, no pair at all.
 */
export function faultLayouts(onePass: Float64Array, passes: number, laidOutTo: number): FaultLayouts {
  const single = trimmedMoments({
    lowest: 0,
    chances: onePass,
    pairs: onePass.map((chance, m) => chance * pairsOf(m)),
    squares: onePass.map((chance, m) => chance * pairsOf(m) ** 2),
  });
  let moments = repeated(single, passes);
  const laidOut = laidOutPairs(onePass, laidOutTo);
  for (let pass = 0; pass < passes; pass += 1) laidOut.addPass();
  let count = passes;
  return {
    get passes() {
      return count;
    },
    rows: () =>
      Array.from(moments.chances, (_, i) => laidOut.row(moments.lowest + i) ?? spreadRow(moments, i)),
    chanceUpTo(faults) {
      let total = 0;
      const end = Math.min(moments.chances.length, faults - moments.lowest + 1);
      for (let i = 0; i < end; i += 1) total += moments.chances[i]!;
      return total;
    },
    addPass() {
      moments = together(moments, single);
      laidOut.addPass();
      count += 1;
    },
  };
}

/** The walks of at most so many faults, pass after pass: by total of faults the chance of each number of pairs, from 0. */
function laidOutPairs(onePass: Float64Array, most: number) {
  const rows = Array.from({ length: most + 1 }, (_, faults) => new Float64Array(pairsOf(faults) + 1));
  rows[0]![0] = 1;
  let gone = false;
  return {
    addPass() {
      if (gone) return;
      let total = 0;
      // From the most faults down, so that what a row takes from the rows below it is still of the pass before.
      for (let faults = most; faults >= 0; faults -= 1) {
        const row = rows[faults]!;
        for (let i = 0; i < row.length; i += 1) row[i]! *= onePass[0]!;
        for (let m = 1; m <= Math.min(faults, onePass.length - 1); m += 1) {
          const chance = onePass[m]!;
          if (chance < negligible) continue;
          const source = rows[faults - m]!;
          const shift = pairsOf(m);
          for (let i = 0; i < source.length; i += 1) row[shift + i]! += source[i]! * chance;
        }
        for (let i = 0; i < row.length; i += 1) total += row[i]!;
      }
      gone = total < negligible;
    },
    /** Null where there are none to speak of, or where walks of so many faults are not laid out. */
    row(faults: number): FaultRow | null {
      const chances = gone ? undefined : rows[faults];
      return chances === undefined ? null : laidOutRow(faults, chances);
    },
  };
}

function laidOutRow(faults: number, chances: Float64Array): FaultRow {
  const below = (pairs: number) => {
    let total = 0;
    for (let i = 0; i < Math.min(pairs, chances.length); i += 1) total += chances[i]!;
    return total;
  };
  return {
    faults,
    chance: below(chances.length),
    fewestPairs: Math.max(
      0,
      chances.findIndex((chance) => chance > negligible),
    ),
    mostPairs: Math.max(
      0,
      chances.findLastIndex((chance) => chance > negligible),
    ),
    chanceBelow: below,
    laidOut: true,
  };
}

/** By total of faults, from `lowest` upwards: its chance, and the chance times the mean of the pairs and of their square. */
interface Moments {
  lowest: number;
  chances: Float64Array;
  pairs: Float64Array;
  squares: Float64Array;
}

/** Two stretches of a walk, one after the other: totals and pairs add up. */
function together(a: Moments, b: Moments): Moments {
  const size = a.chances.length + b.chances.length - 1;
  const sum: Moments = {
    lowest: a.lowest + b.lowest,
    chances: new Float64Array(size),
    pairs: new Float64Array(size),
    squares: new Float64Array(size),
  };
  for (let i = 0; i < a.chances.length; i += 1) {
    const [chance, pairs, squares] = [a.chances[i]!, a.pairs[i]!, a.squares[i]!];
    for (let j = 0; j < b.chances.length; j += 1) {
      sum.chances[i + j]! += chance * b.chances[j]!;
      sum.pairs[i + j]! += pairs * b.chances[j]! + chance * b.pairs[j]!;
      sum.squares[i + j]! += squares * b.chances[j]! + 2 * pairs * b.pairs[j]! + chance * b.squares[j]!;
    }
  }
  return trimmedMoments(sum);
}

/** So many passes of one kind, by doubling. */
function repeated(single: Moments, passes: number): Moments {
  const one = Float64Array.of(1);
  const none = Float64Array.of(0);
  let walked: Moments = { lowest: 0, chances: one, pairs: none, squares: none };
  let stretch = single;
  for (let rest = passes; rest > 0; rest = Math.floor(rest / 2)) {
    if (rest % 2 === 1) walked = together(walked, stretch);
    if (rest > 1) stretch = together(stretch, stretch);
  }
  return walked;
}

function trimmedMoments({ lowest, chances, pairs, squares }: Moments): Moments {
  const start = chances.findIndex((chance) => chance >= negligible);
  const end = chances.findLastIndex((chance) => chance >= negligible) + 1;
  const cut = (values: Float64Array) => values.slice(start, end);
  return { lowest: lowest + start, chances: cut(chances), pairs: cut(pairs), squares: cut(squares) };
}

/**
 * Pairs spread like a gamma distribution of their mean and scatter, its chances by the cube root (E. B. Wilson and M. M.
 * Hilferty 1931, Proc. Natl. Acad. Sci. 17, 684-688, from memory).
 */
function spreadRow(moments: Moments, index: number): FaultRow {
  const faults = moments.lowest + index;
  const chance = moments.chances[index]!;
  const mean = moments.pairs[index]! / chance;
  const deviation = Math.sqrt(Math.max(0, moments.squares[index]! / chance - mean * mean));
  const shape = (mean / deviation) ** 2;
  const share = (pairs: number) =>
    deviation === 0
      ? Number(pairs > mean)
      : normalCdf(
          (Math.cbrt(Math.max(0, pairs - 0.5) / mean) - 1 + 1 / (9 * shape)) * 3 * Math.sqrt(shape),
          0,
          1,
        );
  return {
    faults,
    chance,
    fewestPairs: Math.max(0, Math.floor(mean - 6 * deviation)),
    mostPairs: Math.min(pairsOf(faults), Math.ceil(mean + 9 * deviation)),
    chanceBelow: (pairs) => chance * share(pairs),
    laidOut: false,
  };
}
