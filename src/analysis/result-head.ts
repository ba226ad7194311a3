import type { Judged } from "../model/facility.ts";
import type { Result } from "../model/result/result.ts";

/* What the result of a facility and that of a journey say of themselves alike. */

/** The settings that every interval was made with. */
export function basisOf(judged: Judged): Result["basis"] {
  const { confidence, interval, missCorrelation, smallestChangeThatMatters } = judged;
  return { confidence, interval, missCorrelation, smallestChangeThatMatters };
}

/** Who knows the names that pseudonyms stand for; nothing where there are none. */
export function pseudonymsOf({ pseudonyms, preparedBy }: Judged): Pick<Result, "pseudonyms"> {
  return pseudonyms ? { pseudonyms: { listHeldBy: preparedBy?.organisation ?? null } } : {};
}
