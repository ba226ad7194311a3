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
 * The same for walks too large to lay out in full. The totals of faults keep their exact chances, and so do the mean
 * and the scatter of the pairs at each total; that the pairs follow the bell curve between them is the approximation.
 */
export function approximateLayouts(onePass: Float64Array): FaultLayouts {
  let lowest = 0;
  // By total: its chance, and the chance times the mean of the pairs and of their square.
  let moments: Moments[] = [{ chance: 1, pairs: 0, squares: 0 }];
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
    *rows() {
      for (const [i, moment] of moments.entries()) yield bellRow(lowest + i, moment);
    },
    addPass() {
      const first = likely[0]![0];
      const next: Moments[] = Array.from({ length: moments.length + likely.at(-1)![0] - first }, () => ({
        chance: 0,
        pairs: 0,
        squares: 0,
      }));
      for (const [m, weight] of likely) {
        const more = pairsOf(m);
        for (const [i, { chance, pairs, squares }] of moments.entries()) {
          const sum = next[i + m - first]!;
          sum.chance += chance * weight;
          sum.pairs += (pairs + more * chance) * weight;
          sum.squares += (squares + 2 * more * pairs + more * more * chance) * weight;
        }
        work += moments.length;
      }
      const start = next.findIndex(({ chance }) => chance >= negligible);
      const end = next.findLastIndex(({ chance }) => chance >= negligible) + 1;
      moments = next.slice(start, end);
      lowest += first + start;
      passes += 1;
    },
  };
}

interface Moments {
  chance: number;
  pairs: number;
  squares: number;
}

/** The bell curve over whole numbers of pairs, out to five standard deviations, scaled to the chance of the row. */
function bellRow(faults: number, { chance, pairs, squares }: Moments): FaultRow {
  const mean = pairs / chance;
  const deviation = Math.sqrt(Math.max(0, squares / chance - mean * mean));
  const from = Math.max(0, Math.round(mean - 5 * deviation));
  const to = Math.min(pairsOf(faults), Math.round(mean + 5 * deviation));
  const heights = Float64Array.from({ length: Math.max(1, to - from + 1) }, (_, i) =>
    deviation === 0 ? 1 : Math.exp(-(((from + i - mean) / deviation) ** 2) / 2),
  );
  const total = heights.reduce((sum, height) => sum + height, 0);
  return { faults, fromPairs: from, chances: heights.map((height) => (chance * height) / total) };
}
