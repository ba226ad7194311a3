/** What is known of one read point: when tags were carried past it, and when its reader heard any. */
export interface ClockInput {
  /** Both ends included, seconds since 1970, in any order. */
  windows: readonly { fromS: number; toS: number }[];
  /**
   * When reads fell, seconds since 1970 on the reader's clock, in any order, and how many fell then. Of a histogram by
   * second give the middle of each second: the answer is then good to about a second.
   */
  reads: readonly { atS: number; count: number }[];
}

export interface ClockShift {
  /** Seconds to add to the reader's clock, in tenths. */
  shiftS: number;
  /** Reads inside windows as the clocks stand. */
  insideNow: number;
  /** Reads inside windows once shifted. */
  insideShifted: number;
  total: number;
}

/** Time zones differ from UTC by at most 14 hours; the rest leaves room for a clock that is wrong besides. */
const farthestS = 15 * 3600;
/** Fewer passes than this fall into place by chance too often. */
const fewestWindows = 5;
/** Of all reads, what the shift must bring inside. */
const manyShare = 0.5;
/** Of the reads inside at the shift, what may at most be inside as the clocks stand. */
const fewShare = 0.5;
/** Of the reads inside at the shift, what any shift away from it may bring at most. */
const runnerUpShare = 0.8;
/** Shifts that bring nearly as many are the same peak; its middle is the answer. */
const plateauShare = 0.995;
/** Look-ups of the first, coarse search. */
const coarseWork = 30_000_000;

/**
 * The constant error of a reader's clock that explains best why its reads miss the passes: which shift of up to 15 hours,
 * added to the reader's clock, brings the most reads inside pass windows.
 *
 * Every whole second is tried with prefix sums over the reads by second (steps grow to at most half the typical window
 * where there are very many windows), then tenths of a second round the best. Where many neighbouring shifts bring all but
 * half a percent as many reads, the middle of that stretch is taken: windows are wider than the reads in them.
 *
 * The answer is null unless the shift is clearly better than none and than any other. All of these must hold (thresholds
 * are ours, no source): at least five windows hold reads at the shift; at least half of all reads are inside at the shift;
 * at most half as many are inside now; and no shift farther away than the peak is wide brings more than four fifths as many.
 * Passes in an exact rhythm fit again one beat later, so they give null, and so do reads that come all the time.
 *
 * No reads or no windows: null. The same input gives the same answer, in any order.
 *
 * Example: windows at 100, 160, 250, 290 and 400 s, 10 s long, and reads in the middle of each, but 32 s late on the reader's
 * clock: shiftS is -32.
 */
export function bestShift(input: ClockInput): ClockShift | null {
  const windows = joinedWindows(input.windows);
  const reads = new Reads(input.reads);
  if (windows.length < fewestWindows || reads.total <= 0) return null;
  const inside = (shiftS: number) => reads.insideAt(windows, shiftS);
  const insideNow = inside(0);
  const coarse = coarseSearch(windows, reads);
  const best = finest(coarse.bestS, coarse.stepS, inside);
  const [leftS, rightS] = plateau(best, inside);
  const shiftS = roundedTenth((leftS + rightS) / 2);
  const insideShifted = inside(shiftS);

  if (insideShifted < manyShare * reads.total || insideNow > fewShare * insideShifted) return null;
  if (windows.filter((window) => reads.insideAt([window], shiftS) > 0).length < fewestWindows) return null;
  const reachS = typicalLength(windows) + (rightS - leftS) / 2 + coarse.stepS;
  if (coarse.mostBeyond(shiftS, reachS) > runnerUpShare * insideShifted) return null;
  return { shiftS, insideNow, insideShifted, total: reads.total };
}

interface Stretch {
  fromS: number;
  toS: number;
}

/** In the order of time, those that touch made one, so that no read counts twice. */
function joinedWindows(windows: ClockInput["windows"]): Stretch[] {
  const sorted = windows
    .filter((window) => window.toS >= window.fromS)
    .map(({ fromS, toS }) => ({ fromS, toS }));
  sorted.sort((a, b) => a.fromS - b.fromS || a.toS - b.toS);
  const joined: Stretch[] = [];
  for (const window of sorted) {
    const last = joined[joined.length - 1];
    if (last !== undefined && window.fromS <= last.toS) last.toS = Math.max(last.toS, window.toS);
    else joined.push(window);
  }
  return joined;
}

/** Reads in the order of time with running sums. */
class Reads {
  readonly total: number;
  readonly firstS: number;
  readonly lastS: number;
  readonly #atS: Float64Array;
  /** How many reads come before the index. */
  readonly #before: Float64Array;

  constructor(reads: ClockInput["reads"]) {
    const sorted = reads.filter((read) => read.count > 0).sort((a, b) => a.atS - b.atS);
    this.#atS = Float64Array.from(sorted, (read) => read.atS);
    this.#before = new Float64Array(sorted.length + 1);
    for (const [i, read] of sorted.entries()) this.#before[i + 1] = this.#before[i]! + read.count;
    this.total = this.#before[sorted.length]!;
    this.firstS = this.#atS[0] ?? 0;
    this.lastS = this.#atS[sorted.length - 1] ?? 0;
  }

  insideAt(windows: readonly Stretch[], shiftS: number): number {
    let inside = 0;
    for (const window of windows) {
      inside +=
        this.#before[this.#rank(window.toS - shiftS, true)]! -
        this.#before[this.#rank(window.fromS - shiftS, false)]!;
    }
    return inside;
  }

  /** Reads by step of time from `fromS` on, summed up: entry i counts what comes before step i. */
  sums(fromS: number, stepS: number, steps: number): Float64Array {
    const sums = new Float64Array(steps + 1);
    for (let i = 0; i < this.#atS.length; i += 1) {
      const step = Math.floor((this.#atS[i]! - fromS) / stepS);
      if (step < 0 || step >= steps) continue;
      sums[step + 1] = sums[step + 1]! + this.#before[i + 1]! - this.#before[i]!;
    }
    for (let step = 0; step < steps; step += 1) sums[step + 1] = sums[step + 1]! + sums[step]!;
    return sums;
  }

  /** How many times come before one; those equal to it too, where it is included. */
  #rank(atS: number, included: boolean): number {
    let low = 0;
    let high = this.#atS.length;
    while (low < high) {
      const middle = (low + high) >>> 1;
      const time = this.#atS[middle]!;
      if (time < atS || (included && time === atS)) low = middle + 1;
      else high = middle;
    }
    return low;
  }
}

/** Tries shifts step by step over the whole range; of equals, the one nearest to none. */
function coarseSearch(windows: readonly Stretch[], reads: Reads) {
  const wantedStepS = Math.ceil((windows.length * 2 * farthestS) / coarseWork);
  const stepS = Math.max(1, Math.min(wantedStepS, Math.floor(typicalLength(windows) / 2)));
  const farthest = Math.ceil(farthestS / stepS);
  // A log may hold weeks that no shift brings near a pass: only the stretch that can matter is summed.
  const startS = windows[0]!.fromS - farthestS - 2 * stepS;
  const endS = windows[windows.length - 1]!.toS + farthestS + 2 * stepS;
  const fromS = Math.max(startS, Math.min(reads.firstS, endS));
  const steps = Math.min(maxSteps, Math.ceil((Math.min(endS, reads.lastS) - fromS) / stepS) + 1);
  const sums = reads.sums(fromS, stepS, Math.max(1, steps));
  const last = sums.length - 1;
  const froms = windows.map((window) => Math.round((window.fromS - fromS) / stepS));
  const tos = windows.map((window) => Math.round((window.toS - fromS) / stepS));
  const inside = new Float64Array(2 * farthest + 1);
  for (let lag = -farthest; lag <= farthest; lag += 1) {
    let sum = 0;
    for (let i = 0; i < froms.length; i += 1) {
      const to = tos[i]! - lag;
      const from = froms[i]! - lag;
      if (to <= 0 || from >= last) continue;
      sum += sums[Math.min(to, last)]! - sums[Math.max(from, 0)]!;
    }
    inside[lag + farthest] = sum;
  }
  let bestLag = 0;
  for (let distance = 0; distance <= farthest; distance += 1) {
    for (const lag of [-distance, distance]) {
      if (inside[lag + farthest]! > inside[bestLag + farthest]!) bestLag = lag;
    }
  }
  const mostBeyond = (shiftS: number, reachS: number): number => {
    let most = 0;
    for (let i = 0; i < inside.length; i += 1) {
      if (Math.abs((i - farthest) * stepS - shiftS) > reachS && inside[i]! > most) most = inside[i]!;
    }
    return most;
  };
  return { bestS: bestLag * stepS, stepS, mostBeyond };
}

/** Eight years of seconds would be a gigabyte of sums; three months are plenty for one campaign. */
const maxSteps = 8_000_000;

/** The best tenth of a second within a step and a half of a coarse shift. */
function finest(coarseS: number, stepS: number, inside: (shiftS: number) => number): number {
  const reach = Math.ceil(stepS * 15);
  const centre = Math.round(coarseS * 10);
  let best = centre;
  let most = inside(centre / 10);
  for (let distance = 1; distance <= reach; distance += 1) {
    for (const tenth of [centre - distance, centre + distance]) {
      const count = inside(tenth / 10);
      if (count <= most) continue;
      best = tenth;
      most = count;
    }
  }
  return best / 10;
}

/** How far to each side of a shift nearly as many reads are inside. */
function plateau(bestS: number, inside: (shiftS: number) => number): [number, number] {
  const enough = plateauShare * inside(bestS);
  const widest = 6000;
  const centre = Math.round(bestS * 10);
  let left = centre;
  while (centre - left < widest && inside((left - 1) / 10) >= enough) left -= 1;
  let right = centre;
  while (right - centre < widest && inside((right + 1) / 10) >= enough) right += 1;
  return [left / 10, right / 10];
}

/** The middle length of the windows, seconds. */
function typicalLength(windows: readonly Stretch[]): number {
  const lengths = windows.map((window) => window.toS - window.fromS).sort((a, b) => a - b);
  return lengths[lengths.length >>> 1] ?? 0;
}

function roundedTenth(value: number): number {
  return Math.round(value * 10) / 10 || 0;
}
