import type { Sense } from "../model/facility.ts";
import type { State } from "../model/state.ts";
import {
  betaBinomialBounds,
  type ClusteredFailures,
  lowerTail,
  upperTail,
} from "../statistics/beta-binomial-interval.ts";
import { clopperPearsonBounds, effectiveSampleSizeFor } from "../statistics/clopper-pearson.ts";
import {
  type ClusteredSample,
  type ClusterSums,
  effectiveClusterings,
} from "../statistics/effective-sample.ts";
import type { Bounds } from "../statistics/wilson.ts";

/** What every `beta-binomial` interval is made with; see `Basis`. */
interface Settings {
  confidence: number;
  missCorrelation: number;
}

/**
 * The `beta-binomial` interval of a read rate: the widest of the Clopper-Pearson one on all n and of those that the
 * passes, and the tags, give by `betaBinomialBounds` where they count.
 *
 * n > 0. With nothing clustered it is the Clopper-Pearson interval itself. k = n has upper exactly 1, k = 0 lower exactly 0.
 * At any one correlation the lower end falls with every miss, and a first miss never raises it. A later one that lies
 * apart from those before it shows that misses cluster less, and may raise the end a little: in simulated walks by up
 * to 0.0016 at 97 %, and by 0.008 at 90 %.
 * Example: 22 passes of 40, each tag presented once, nothing missed, correlation 0.02, 95 %: 0.99031 to 1 (computed).
 */
export function clusteredBounds(counts: ClusteredSample, { confidence, missCorrelation }: Settings): Bounds {
  const plain = clopperPearsonBounds(counts.k / counts.n, counts.n, confidence);
  return sidesOf(counts).reduce((widest, { layout, ofReads }) => {
    const found = betaBinomialBounds(layout, missCorrelation, confidence);
    const lower = ofReads ? found.lower : 1 - found.upper;
    const upper = ofReads ? found.upper : 1 - found.lower;
    return { lower: Math.min(widest.lower, lower), upper: Math.max(widest.upper, upper) };
  }, plain);
}

/**
 * What the `beta-binomial` interval shows of a limit, without working the interval out: its lower end reaches the limit
 * just where so few misses, or fewer, would be no likelier than alpha/2 if the limit were the true rate. The upper end
 * likewise. That is the rule of `rateState`; a plan asks it thousands of times.
 */
export function clusteredState(
  counts: ClusteredSample,
  sense: Sense,
  limit: number,
  settings: Settings,
): State {
  const half = (1 - settings.confidence) / 2;
  const { k, n } = counts;
  const plain = clopperPearsonBounds(k / n, n, settings.confidence);
  const floor = settings.missCorrelation;
  const sides = sidesOf(counts);
  const reachedFromBelow = () =>
    plain.lower >= limit &&
    sides.every(({ layout, ofReads }) =>
      ofReads ? upperTail(layout, limit, floor) <= half : lowerTail(layout, 1 - limit, floor) <= half,
    );
  const reachedFromAbove = () =>
    plain.upper <= limit &&
    sides.every(({ layout, ofReads }) =>
      ofReads ? lowerTail(layout, limit, floor) <= half : upperTail(layout, 1 - limit, floor) <= half,
    );
  const [good, bad] =
    sense === "at-least" ? [reachedFromBelow, reachedFromAbove] : [reachedFromAbove, reachedFromBelow];
  if (good()) return "met";
  return bad() ? "not-met" : "undecided";
}

/** One dimension that counts: the layout of its misses, or of its reads where those are fewer. */
interface Side {
  layout: ClusteredFailures;
  ofReads: boolean;
}

function sidesOf(counts: ClusteredSample): Side[] {
  const { n, k } = counts;
  const ofReads = k < n - k;
  const misses = ofReads ? k : n - k;
  return effectiveClusterings(counts).map((sums) => ({
    layout: { n, failures: misses, sizes: sums.sizes, pairs: (squaresOf(sums, ofReads) - misses) / 2 },
    ofReads,
  }));
}

function squaresOf(
  { sizeSquares, failuresTimesSize, failureSquares }: ClusterSums,
  ofReads: boolean,
): number {
  return ofReads ? sizeSquares - 2 * failuresTimesSize + failureSquares : failureSquares;
}

/**
 * How many independent presentations would give the same limit by Clopper and Pearson: what `beta-binomial` reports as
 * its effective sample. The limit is the lower end, or the upper one where less than half was read. At most n, and n
 * itself where nothing is clustered. Example: 22 passes of 40 without a miss at a lower end of 0.99031 are worth
 * 378.8 (computed).
 */
export function worthOf(counts: ClusteredSample, bounds: Bounds, confidence: number): number {
  const { n, k } = counts;
  if (effectiveClusterings(counts).length === 0) return n;
  const [share, end] = k < n - k ? [(n - k) / n, 1 - bounds.upper] : [k / n, bounds.lower];
  return effectiveSampleSizeFor({ p: share!, lower: end! }, n, confidence);
}

/**
 * What a walk would come to if it went on without a fault: so many further presentations, in further passes and on further
 * tags that are as large as those walked so far on average, the last one smaller where they do not come out even.
 */
export function walkedOn(counts: ClusteredSample, further: number, sense: Sense): ClusteredSample {
  const missed = sense === "at-least" ? 0 : 1;
  const longer = (sums: ClusterSums): ClusterSums => {
    const size = Math.max(1, Math.round(counts.n / sums.clusters));
    const sizes = new Map(sums.sizes);
    const added: [number, number][] = [
      [size, Math.floor(further / size)],
      [further % size, 1],
    ];
    let { clusters, sizeSquares, failuresTimesSize, failureSquares } = sums;
    let largest = sums.largest;
    for (const [each, times] of added) {
      if (each === 0 || times === 0) continue;
      sizes.set(each, (sizes.get(each) ?? 0) + times);
      clusters += times;
      largest = Math.max(largest, each);
      sizeSquares += times * each * each;
      failuresTimesSize += missed * times * each * each;
      failureSquares += missed * times * each * each;
    }
    return {
      clusters,
      largest,
      sizeSquares,
      failuresTimesSize,
      failureSquares,
      sizes: [...sizes].sort(([a], [b]) => a - b),
    };
  };
  return {
    n: counts.n + further,
    k: counts.k + (sense === "at-least" ? further : 0),
    clusterings: counts.clusterings.map(longer),
  };
}
