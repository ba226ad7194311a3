import type { Bounds } from "./wilson.ts";

/**
 * The interval for a proportion that holds however often one looks: with the stated confidence, not one of the
 * intervals worked out along the whole walk leaves the true rate outside. So one may look after every pass and stop as
 * soon as the limit is cleared; an interval made for one look at the end does not allow that.
 *
 * Takes the observed proportion `p` (0..1) and the number of independent observations `n` > 0; both may come from an
 * effective sample, so k = p n need not be whole. Where what the observations are worth depends on the rate that is put to
 * the test, `n` is a function of that rate. `confidence` is two-sided, 0..1. The lower bound is the smallest rate
 * whose `evidenceAbove` stays below 2/alpha; the upper one is its mirror. Each end is wrong, ever, with a chance of at
 * most alpha/2. Exactly 0 where p is 0, exactly 1 where p is 1.
 *
 * The guarantee is that of independent observations. On an effective sample, which is itself estimated and changes from
 * look to look, it is as good as that estimate; `sampleAt` makes one that keeps it in simulated walks.
 *
 * Sources: H. Robbins (1970), Ann. Math. Stat. 41, 1397-1409 (mixtures of likelihood ratios); S. R. Howard, A. Ramdas,
 * J. McAuliffe and J. Sekhon (2021), Ann. Stat. 49, 1055-1080 (one-sided beta-binomial mixture); both from memory, the
 * guarantee checked by simulation. Example: 455 of 455 at 95 % gives 0.990003 to 1, 454 of 454 still 0.98998 (computed);
 * one look at the end takes 368.
 */
export function anyTimeBounds(p: number, n: number | SampleAt, confidence: number): Bounds {
  const at = typeof n === "number" ? () => n : n;
  return {
    lower: lowerEnd(p, at, confidence),
    upper: 1 - lowerEnd(1 - p, (rate) => at(1 - rate), confidence),
  };
}

/** What the observations are worth where a rate strictly between 0 and 1 is put to the test. */
type SampleAt = (rate: number) => number;

function lowerEnd(p: number, at: SampleAt, confidence: number): number {
  if (p === 0) return 0;
  const needed = Math.log(2 / (1 - confidence));
  const excess = (limit: number) => logEvidenceAbove(p, at(limit), limit) - needed;
  // The evidence falls steadily up to p, where it counts for nothing: there is one crossing, first halved in upon and
  // then closed in on by false position, halving the end that stays put (M. Dowell and P. Jarratt, 1971).
  let low = 0;
  let high = p;
  let above = Number.POSITIVE_INFINITY;
  let below = Number.NEGATIVE_INFINITY;
  let kept: "low" | "high" | null = null;
  for (let step = 0; step < 120 && high - low > 1e-14 * high; step += 1) {
    const straight = (low * below - high * above) / (below - above);
    const next = straight > low && straight < high ? straight : (low + high) / 2;
    const found = excess(next);
    if (found >= 0) {
      low = next;
      above = found;
      if (kept === "high") below /= 2;
      kept = "high";
    } else {
      high = next;
      below = found;
      if (kept === "low") above /= 2;
      kept = "low";
    }
    if (Math.abs(found) < 1e-13) return next;
  }
  return low;
}

/**
 * How much better, as the logarithm of a likelihood ratio, rates above `limit` explain what was seen than `limit`
 * itself does: the mean of the likelihood ratio over the rates above it.
 *
 * `p` is the observed proportion (0..1), `n` > 0 the observations, `limit` strictly between 0 and 1. The mean is taken
 * with the weights of Beta(1/2, 1/2), which spread evenly over the angle whose squared sine is the miss rate: as much
 * weight near 100 % as the observations can tell rates apart there, where the limits of read points lie. An even spread
 * over the rates themselves, Beta(1, 1), would ask for 535 without a miss in place of 455 to show 99 % at 95 %.
 * At any rate up to `limit` this mean is a fair or losing bet, so it ever reaches 2/alpha with a chance of at most
 * alpha/2 (Ville's inequality).
 *
 * With the angle t of a rate cos² t and the angle T of the limit:
 * ln [ (1/T) times the integral from 0 to T of (cos t / cos T)^2k (sin t / sin T)^2(n-k) dt ].
 * Example: 10 of 10 against 0.5: ln 360.8 = 5.888 (computed).
 */
export function logEvidenceAbove(p: number, n: number, limit: number): number {
  const ends = Math.acos(Math.sqrt(limit));
  const best = Math.acos(Math.sqrt(p));
  // The likelihood falls by more than exp(-49) within this reach of its peak, in the angle, whatever p.
  const reach = 7 / Math.sqrt(n);
  const from = Math.max(0, best - reach);
  const to = Math.min(ends, best + reach);
  if (from >= to) return Number.NEGATIVE_INFINITY;
  const peak = Math.cos(Math.min(best, ends)) ** 2;
  const atPeak = logLikelihoodRatio(p, n, peak, limit);
  let sum = 0;
  for (const { place, weight } of nodes) {
    const rate = Math.cos(from + (to - from) * place) ** 2;
    sum += weight * Math.exp(logLikelihoodRatio(p, n, rate, limit) - atPeak);
  }
  return atPeak + Math.log((sum * (to - from)) / ends);
}

/**
 * How much better the rate `other` explains the observations than `limit` does, as a natural logarithm: the quantity
 * that a sequential test walks along. Rates 0..1, `limit` strictly between. Example: one miss, 0.9 against 0.99:
 * ln 10 = 2.303.
 *
 * Source: A. Wald (1947), Sequential Analysis; the acceptance lines of NIST/SEMATECH e-Handbook 6.2.6 come out of it.
 */
export function logLikelihoodRatio(p: number, n: number, other: number, limit: number): number {
  const reads = p === 0 ? 0 : p * n * Math.log(other / limit);
  const misses = p === 1 ? 0 : (1 - p) * n * Math.log((1 - other) / (1 - limit));
  return reads + misses;
}

/**
 * Places and weights of the double exponential rule on 0..1 (H. Takahasi and M. Mori, 1974): exact to far more digits
 * than are printed, also where a fraction of a miss makes the integrand steep at its end.
 */
const nodes = Array.from({ length: 121 }, (_, i) => {
  const u = (i - 60) * 0.06;
  const stretched = (Math.PI / 2) * Math.sinh(u);
  const place = 1 / (1 + Math.exp(-2 * stretched));
  const weight = (0.06 * (Math.PI / 2) * Math.cosh(u)) / (2 * Math.cosh(stretched) ** 2);
  return { place, weight };
});
