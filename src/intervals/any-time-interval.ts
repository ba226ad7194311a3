import type { Sense } from "../model/facility.ts";
import type { State } from "../model/state.ts";
import { confidenceSequenceBounds, logMixtureRatio } from "../statistics/confidence-sequence.ts";
import { type ClusteredSample, effectiveSampleSizeAt } from "../statistics/effective-sample.ts";
import type { Bounds } from "../statistics/wilson.ts";

/** What every `any-time` interval is made with; see `Basis`. */
interface Settings {
  confidence: number;
  missCorrelation: number;
}

/** The correlation that is assumed where nothing else is stated, and the spread of a rate at which it belongs: 99 %. */
const usual = { correlation: 0.02, spread: 0.99 * 0.01 };

/**
 * How alike misses of one pass, or of one tag, are taken to be if the true rate is `rate` (strictly between 0 and 1):
 * `missCorrelation` (0 to below 1) at 99 % and above, more at lower rates.
 *
 * Passes that differ by the same scatter on the logit scale have misses the more alike the more there are: the
 * correlation grows about as rate times miss rate, and a correlation right at 99 % is far too small at 95 %. So its odds are
 * taken to grow in that proportion. A correlation above 0.02 was stated on purpose, for the rate that was walked: it
 * holds as it stands until the growth of 0.02 overtakes it. 0 stays 0.
 *
 * The larger of r and o / (1 + o), o = s / (1 - s) rate (1 - rate) / 0.0099, s the smaller of r and 0.02. The form is our
 * choice, made by simulation. Example: 0.02 is 0.02 at 99 %, 0.0566 at 97 % and 0.0892 at 95 %; 0.1 is 0.1 at all
 * three (computed).
 */
export function correlationAt(missCorrelation: number, rate: number): number {
  const grown = Math.min(missCorrelation, usual.correlation);
  const odds = ((grown / (1 - grown)) * (rate * (1 - rate))) / usual.spread;
  return Math.max(missCorrelation, odds / (1 + odds));
}

/**
 * What the presentations are worth to the `any-time` interval where a rate (strictly between 0 and 1) is put to the test:
 * the effective sample under the correlation that belongs to that rate. With nothing clustered it is n.
 * Example: 22 passes of 40 with nothing missed, correlation 0.02: 494.4 at 99 %, 196.5 at 95 % (computed).
 */
export function sampleAt(counts: ClusteredSample, settings: Settings): (rate: number) => number {
  const samples = effectiveSampleSizeAt(counts, settings.confidence);
  return (rate) => samples(correlationAt(settings.missCorrelation, rate));
}

/**
 * The `any-time` interval of a read rate whose presentations lie in passes and on tags, and the effective sample at the
 * lower end (at the upper one where less than half was read): as many independent presentations end there.
 *
 * n > 0. With nothing clustered it is `confidenceSequenceBounds` on n. k = n has upper exactly 1, k = 0 lower exactly 0. A first miss
 * never raises the lower end.
 * Example: 21 passes of 40, each tag presented once, nothing missed, correlation 0.02, 95 %: 0.99036 to 1 (computed).
 */
export function sequenceBounds(
  counts: ClusteredSample,
  settings: Settings,
): { bounds: Bounds; effectiveN: number } {
  const { n, k } = counts;
  const at = sampleAt(counts, settings);
  const bounds = confidenceSequenceBounds(k / n, at, settings.confidence);
  return { bounds, effectiveN: at(2 * k < n ? bounds.upper : bounds.lower) };
}

/**
 * What the `any-time` interval shows of a limit, without working the interval out: an end reaches the limit just where
 * the evidence against the limit itself reaches 2/alpha. That is the rule of `rateState`; a plan asks it thousands of times.
 * n > 0. Example: 21 passes of 40 with nothing missed, at least 0.99 at 95 %, correlation 0.02: met; 20 passes: undecided.
 */
export function sequenceState(
  counts: ClusteredSample,
  sense: Sense,
  limit: number,
  settings: Settings,
): State {
  const p = counts.k / counts.n;
  if (p === limit) return "undecided";
  const sample = sampleAt(counts, settings)(limit);
  const evidence = p > limit ? logMixtureRatio(p, sample, limit) : logMixtureRatio(1 - p, sample, 1 - limit);
  if (evidence < Math.log(2 / (1 - settings.confidence))) return "undecided";
  return p > limit === (sense === "at-least") ? "met" : "not-met";
}
