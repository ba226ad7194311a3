/**
 * How the faults of a walk may come to lie: the chance of each pair of totals, faults in all and pairs of them that
 * share a pass. The two are all that the judging rule looks at where every pass is alike.
 */
export interface FaultLayouts {
  readonly passes: number;
  /** One row a total of faults, rising, each with the chances of its numbers of pairs from `fromPairs` upwards. */
  rows(): Iterable<FaultRow>;
  addPass(): void;
  /** Multiplications done so far. */
  readonly work: number;
}

export interface FaultRow {
  faults: number;
  fromPairs: number;
  chances: Float64Array;
}

/** A chance below this is dropped: all that are dropped along a walk of 10 000 passes together stay below a millionth. */
const negligible = 1e-16;

const pairsOf = (faults: number) => (faults * (faults - 1)) / 2;

/**
 * The exact distribution, by convolution pass after pass: a pass with m faults adds m to the faults and m (m - 1) / 2 to
 * the pairs. `onePass` holds the chance of each number of faults in one pass. Starts with no pass walked.
 */
export function exactLayouts(onePass: Float64Array): FaultLayouts {
  let rows = new Map<number, FaultRow>([[0, { faults: 0, fromPairs: 0, chances: Float64Array.of(1) }]]);
  let passes = 0;
  let work = 0;
  const likely = [...onePass.entries()].filter(([, chance]) => chance > negligible);
  return {
    get passes() {
      return passes;
    },
    get work() {
      return work;
    },
    rows: () => rows.values(),
    addPass() {
      const next = new Map<number, FaultRow>();
      const totals = [...rows.keys()];
      const highest = Math.max(...totals) + likely.at(-1)![0];
      for (let faults = Math.min(...totals) + likely[0]![0]; faults <= highest; faults += 1) {
        const sources = likely.flatMap(([m, chance]) => {
          const row = rows.get(faults - m);
          return row === undefined ? [] : [{ row, chance, shift: pairsOf(m) }];
        });
        if (sources.length === 0) continue;
        const from = Math.min(...sources.map(({ row, shift }) => row.fromPairs + shift));
        const to = Math.max(...sources.map(({ row, shift }) => row.fromPairs + shift + row.chances.length));
        const chances = new Float64Array(to - from);
        for (const { row, chance, shift } of sources) {
          const offset = row.fromPairs + shift - from;
          for (let i = 0; i < row.chances.length; i += 1) chances[offset + i]! += row.chances[i]! * chance;
          work += row.chances.length;
        }
        const row = trimmed(faults, from, chances);
        if (row !== null) next.set(faults, row);
      }
      rows = next;
      passes += 1;
    },
  };
}

function trimmed(faults: number, fromPairs: number, chances: Float64Array): FaultRow | null {
  let start = 0;
  let end = chances.length;
  while (start < end && chances[start]! < negligible) start += 1;
  while (end > start && chances[end - 1]! < negligible) end -= 1;
  return start === end ? null : { faults, fromPairs: fromPairs + start, chances: chances.slice(start, end) };
}

/**
 * The same for walks too large to lay out in full, with `passes` passes walked already. The totals of faults keep their
 * exact chances, and so do the mean and the scatter of the pairs at each total; that the pairs follow the bell curve
 * between them is the approximation.
 */
export function approximateLayouts(onePass: Float64Array, passes = 0): FaultLayouts {
  const single = trimmedMoments({
    lowest: 0,
    chances: onePass,
    pairs: onePass.map((chance, m) => chance * pairsOf(m)),
    squares: onePass.map((chance, m) => chance * pairsOf(m) ** 2),
  });
  let walked = repeated(single, passes);
  let count = passes;
  return {
    get passes() {
      return count;
    },
    work: 0,
    *rows() {
      for (let i = 0; i < walked.chances.length; i += 1) yield bellRow(walked, i);
    },
    addPass() {
      walked = together(walked, single);
      count += 1;
    },
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

/** The bell curve over whole numbers of pairs, out to five standard deviations, scaled to the chance of the row. */
function bellRow(moments: Moments, index: number): FaultRow {
  const faults = moments.lowest + index;
  const chance = moments.chances[index]!;
  const mean = moments.pairs[index]! / chance;
  const deviation = Math.sqrt(Math.max(0, moments.squares[index]! / chance - mean * mean));
  const from = Math.max(0, Math.round(mean - 5 * deviation));
  const to = Math.min(pairsOf(faults), Math.round(mean + 5 * deviation));
  const heights = Float64Array.from({ length: Math.max(1, to - from + 1) }, (_, i) =>
    deviation === 0 ? 1 : Math.exp(-(((from + i - mean) / deviation) ** 2) / 2),
  );
  const total = heights.reduce((sum, height) => sum + height, 0);
  return { faults, fromPairs: from, chances: heights.map((height) => (chance * height) / total) };
}
