/**
 * The chance that a standard normal quantity lies below `z`; 0..1, wrong by less than a ten-millionth.
 *
 * Source: M. Abramowitz and I. A. Stegun (1964), Handbook of Mathematical Functions, 26.2.17, from memory, checked against
 * the quantiles of the library. Example: below 1.96 with 0.9750021.
 */
export function normalChance(z: number): number {
  const t = 1 / (1 + 0.2316419 * Math.abs(z));
  const series =
    t * (0.31938153 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))));
  const beyond = (Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI)) * series;
  return z >= 0 ? 1 - beyond : beyond;
}
