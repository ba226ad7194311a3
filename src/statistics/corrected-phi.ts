import type { PairTable } from "../model/result.ts";

/**
 * How alike the two presentations of a pair come out, -1..1, drawn towards 0 by a continuity correction so that a few
 * pairs do not pass for a firm correlation.
 *
 * With a, b, c, d the pairs read in both rounds, only before, only after, and in neither, and n = a+b+c+d whole pairs:
 * (ad - bc) / sqrt((a+b)(c+d)(a+c)(b+d)), the numerator less n/2 where it is above n/2, 0 where it lies from 0 to n/2, as
 * it is where it is negative. 0 where a margin is 0 (a round read all or none).
 * `designEffect` >= 1 says how many times too large the counts are for what they are worth: the table is taken as if
 * it had been that much smaller, which makes the correction that many times larger. 1 is the published form.
 *
 * Source: R. G. Newcombe (1998), Stat. Med. 17, 2635-2650, method 10; the design effect is our own extension.
 * Example: 53 read in both, 1 in neither: (53 - 27) / 53 = 0.4906.
 */
export function correctedPhi(pairs: PairTable, designEffect = 1): number {
  const { readBoth: a, readOnlyBefore: b, readOnlyAfter: c, missedBoth: d } = pairs;
  const margins = [a + b, c + d, a + c, b + d];
  if (margins.includes(0)) return 0;
  const raw = a * d - b * c;
  const correction = ((a + b + c + d) * designEffect) / 2;
  const numerator = raw < 0 ? raw : Math.max(0, raw - correction);
  return numerator / margins.reduce((product, margin) => product * Math.sqrt(margin), 1);
}
