/**
 * How many of the tags of one pass will be missed: the chance of each number, where misses of one pass are alike.
 *
 * `tags` carried (1 or more), `missRate` the share missed in the long run (0..1), `correlation` between two presentations
 * of one pass (0 to below 1). The result has one chance for each number from 0 to `tags`; they sum to 1. With
 * correlation 0 it is the binomial distribution, with missRate 0 or 1 a certainty.
 *
 * The beta-binomial distribution: the pass has a miss rate of its own, drawn from a beta distribution with mean
 * `missRate` whose width gives the correlation. With r = correlation / (1 - correlation) neighbouring chances stand as
 * P(m+1) / P(m) = (tags - m)/(m + 1) (missRate + m r) / (1 - missRate + (tags - m - 1) r).
 *
 * Source: J. G. Skellam (1948), J. R. Stat. Soc. B 10, 257-261, from memory. Example: two tags, one in ten missed,
 * correlation 0.5: 0.855, 0.09, 0.055.
 */
export function missChances(tags: number, missRate: number, correlation: number): Float64Array {
  const r = correlation / (1 - correlation);
  const chances = new Float64Array(tags + 1);
  // From the middle outwards, so that no chance of many tags vanishes before it is scaled.
  const middle = Math.round(tags * missRate);
  chances[middle] = 1;
  const up = (m: number) => (tags - m) * (missRate + m * r);
  const down = (m: number) => (m + 1) * (1 - missRate + (tags - m - 1) * r);
  for (let m = middle; m < tags; m += 1) chances[m + 1] = chances[m]! * (up(m) / down(m));
  for (let m = middle - 1; m >= 0; m -= 1) chances[m] = chances[m + 1]! * (down(m) / up(m));
  const sum = chances.reduce((total, chance) => total + chance, 0);
  return chances.map((chance) => chance / sum);
}
