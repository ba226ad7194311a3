import type { Comparison } from "../../model/result/comparison.ts";
import type { Result } from "../../model/result/result.ts";

/** Two rounds that were compared. */
export interface RoundPair {
  before: string;
  after: string;
}

/** The pairs of rounds that were compared, each once: consecutive ones, then the first and the last. */
export function roundPairs({ comparisons }: Pick<Result, "comparisons">): RoundPair[] {
  const pairs: RoundPair[] = [];
  for (const { before, after } of comparisons) {
    if (!pairs.some((pair) => pair.before === before && pair.after === after)) pairs.push({ before, after });
  }
  return pairs;
}

/** The pair of a round and the one just before it; null for the first round, and where nothing was compared. */
export function pairEndingIn(
  round: string,
  result: Pick<Result, "comparisons" | "rounds">,
): RoundPair | null {
  const place = result.rounds.findIndex(({ id }) => id === round);
  const before = result.rounds[place - 1]?.id;
  return roundPairs(result).find((pair) => pair.after === round && pair.before === before) ?? null;
}

/**
 * The pair that the navigation leads to: the one that ends in the judged round, else the first. Null where nothing was
 * compared.
 */
export function leadingPair(
  result: Pick<Result, "comparisons" | "rounds" | "signOffRound">,
): RoundPair | null {
  return pairEndingIn(result.signOffRound, result) ?? roundPairs(result)[0] ?? null;
}

/** The comparisons of one pair, in the order of the result. */
export function comparisonsOf(
  { before, after }: RoundPair,
  { comparisons }: Pick<Result, "comparisons">,
): Comparison[] {
  return comparisons.filter((one) => one.before === before && one.after === after);
}
