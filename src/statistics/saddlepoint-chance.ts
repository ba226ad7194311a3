import type { ClusterSizes } from "./cluster-total.ts";
import { missChances } from "./miss-chances.ts";

/**
 * The chance of at most `misses` misses in all, by the saddlepoint approximation for whole numbers: for totals so large
 * that laying out every one of them takes too long. Takes what `chanceOfAtMost` takes, `misses` from 0 to below all.
 *
 * With K the sum of the clusters' cumulant generating functions and s where K'(s) = misses + 1/2:
 * Phi(r) - phi(r) (1/u - 1/r), r = sign(s) sqrt(2 (s (misses + 1/2) - K(s))), u = 2 sinh(s/2) sqrt(K''(s)).
 * At the mean itself, where it is not defined, 0.5.
 *
 * Sources: R. Lugannani and S. Rice (1980), Adv. Appl. Prob. 12, 475-490; the form for whole numbers, H. E. Daniels
 * (1987), Int. Stat. Rev. 55, 37-48 (both from memory; checked against the convolution).
 */
export function saddlepointChance(
  misses: number,
  sizes: ClusterSizes,
  missRate: number,
  correlation: number,
): number {
  const groups = sizes.map(([size, clusters]) => ({
    clusters,
    chances: missChances(size, missRate, correlation),
  }));
  const wanted = misses + 0.5;
  let low = Number.NEGATIVE_INFINITY;
  let high = Number.POSITIVE_INFINITY;
  let s = 0;
  let found = cumulants(groups, s);
  for (let step = 0; step < 200; step += 1) {
    const away = found.mean - wanted;
    if (Math.abs(away) < 1e-9 * (1 + wanted)) break;
    if (away > 0) high = s;
    else low = s;
    const newton = s - away / found.variance;
    const inside = newton > low && newton < high && Number.isFinite(newton);
    const farther =
      Number.isFinite(low) && Number.isFinite(high) ? (low + high) / 2 : 2 * s + (away > 0 ? -1 : 1);
    s = inside && Math.abs(newton - s) < 5 ? newton : farther;
    found = cumulants(groups, s);
  }
  const r = Math.sign(s) * Math.sqrt(Math.max(0, 2 * (s * wanted - found.log)));
  if (Math.abs(r) < 1e-4) return 0.5;
  const u = 2 * Math.sinh(s / 2) * Math.sqrt(found.variance);
  const density = Math.exp((-r * r) / 2) / Math.sqrt(2 * Math.PI);
  return Math.min(1, Math.max(0, normalChance(r) - density * (1 / u - 1 / r)));
}

function cumulants(
  groups: { clusters: number; chances: Float64Array }[],
  s: number,
): { log: number; mean: number; variance: number } {
  const total = { log: 0, mean: 0, variance: 0 };
  for (const { clusters, chances } of groups) {
    // The tilted chances are scaled to their peak, which lies at one end or in between: nothing overflows.
    let peak = Number.NEGATIVE_INFINITY;
    for (let m = 0; m < chances.length; m += 1) {
      if (chances[m]! > 0) peak = Math.max(peak, Math.log(chances[m]!) + s * m);
    }
    let sum = 0;
    let first = 0;
    let second = 0;
    for (let m = 0; m < chances.length; m += 1) {
      if (chances[m] === 0) continue;
      const weight = Math.exp(Math.log(chances[m]!) + s * m - peak);
      sum += weight;
      first += weight * m;
      second += weight * m * m;
    }
    const mean = first / sum;
    total.log += clusters * (peak + Math.log(sum));
    total.mean += clusters * mean;
    total.variance += clusters * (second / sum - mean * mean);
  }
  return total;
}

/** The chance that a standard normal value lies below `x`: by its series near 0, by a continued fraction further out. */
function normalChance(x: number): number {
  const density = Math.exp((-x * x) / 2) / Math.sqrt(2 * Math.PI);
  if (Math.abs(x) < 4) {
    let term = x;
    let sum = x;
    for (let i = 3; Math.abs(term) > 1e-17 * Math.abs(sum); i += 2) {
      term *= (x * x) / i;
      sum += term;
    }
    return 0.5 + density * sum;
  }
  let fraction = 0;
  for (let i = 60; i > 0; i -= 1) fraction = i / (Math.abs(x) + fraction);
  const beyond = density / (Math.abs(x) + fraction);
  return x > 0 ? 1 - beyond : beyond;
}
