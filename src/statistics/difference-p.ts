import { type Arm, proportionDifference } from "./proportion-difference.ts";

/** Below this, p is given as this: the confidence that would be needed is too near to 1 to be told from it. */
export const smallestP = 1e-10;

/**
 * How surprising a difference is if nothing changed, read from its own interval: one less the confidence at which the
 * interval just touches 0. Two-sided, from 1e-10 to 1.
 *
 * Arms and `phi` as in `proportionDifference`; the effective samples are held as they are for the stated confidence, so
 * p lies below 1 - confidence just where the interval at that confidence excludes 0. Equal proportions give 1. Found by
 * halving on the logarithm of p, to twelve digits of it.
 *
 * Source: the duality of intervals and tests, D. R. Cox and D. V. Hinkley (1974), Theoretical Statistics, section 7.2 (from
 * memory). Example: 9 of 10 after and 3 of 10 before: the interval touches 0 at a confidence of 99.50 %, so p is
 * 0.0050 (computed).
 */
export function differenceP(after: Arm, before: Arm, phi: number): number {
  if (after.p === before.p) return 1;
  const excludesZero = (p: number) => {
    const { lower, upper } = proportionDifference(after, before, phi, 1 - p);
    return lower > 0 || upper < 0;
  };
  if (excludesZero(smallestP)) return smallestP;
  let touches = Math.log(smallestP);
  let clears = 0;
  for (let step = 0; step < 60; step += 1) {
    const middle = (touches + clears) / 2;
    if (excludesZero(Math.exp(middle))) clears = middle;
    else touches = middle;
  }
  return Math.exp(clears);
}
