import { wilsonBounds } from "./wilson.ts";

/** An observed proportion, 0..1, and the number of independent observations it rests on, which may be fractional. */
export interface Arm {
  p: number;
  n: number;
}

/** A difference of two proportions with its two-sided interval, all -1..1. */
export interface Difference {
  value: number;
  lower: number;
  upper: number;
}

/**
 * How far the proportion of `after` lies above that of `before`, with its interval: the distances from each proportion
 * to its own score limits, squared and added.
 *
 * Both arms have n > 0; where clustering has shrunk an arm's n, its limits lie further out and so do those of the
 * difference. `phi` (-1..1) is the correlation between the two arms: 0 for independent ones, `correctedPhi` of the pairs
 * for paired ones. With d = p1 - p2, (l1, u1) and (l2, u2) the score limits of after and before:
 * lower = d - sqrt((p1-l1)² - 2 phi (p1-l1)(u2-p2) + (u2-p2)²),
 * upper = d + sqrt((u1-p1)² - 2 phi (u1-p1)(p2-l2) + (p2-l2)²).
 * Two arms that are both all read, or both all missed, give 0 within limits that are still apart. Swapping the arms
 * negates.
 *
 * Sources: R. G. Newcombe (1998), Stat. Med. 17, 873-890, method 10 (independent); R. G. Newcombe (1998), Stat. Med. 17,
 * 2635-2650, method 10 (paired).
 * Example: 9 of 10 after and 3 of 10 before, independent, at 95 %: 0.6, 0.1705 to 0.8090.
 */
export function proportionDifference(after: Arm, before: Arm, phi: number, confidence: number): Difference {
  const first = wilsonBounds(after.p, after.n, confidence);
  const second = wilsonBounds(before.p, before.n, confidence);
  const value = after.p - before.p;
  const down = reach(after.p - first.lower, second.upper - before.p, phi);
  const up = reach(first.upper - after.p, before.p - second.lower, phi);
  return { value, lower: Math.max(-1, value - down), upper: Math.min(1, value + up) };
}

function reach(one: number, other: number, phi: number): number {
  // Binary arithmetic may leave a hair below nought where phi is 1 and both distances are alike.
  return Math.sqrt(Math.max(0, one * one + other * other - 2 * phi * one * other));
}
