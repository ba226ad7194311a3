import type { MissShares } from "../../model/diagnosis/diagnosis.ts";
import { componentShares, twoWayComponents } from "../../statistics/two-way-components.ts";
import type { DiagnosedPoint } from "./misses/candidate.ts";
import { sumsBy } from "./misses/miss-counts.ts";

/**
 * How much of what the misses vary is due to tags, to passes and to neither. Null below three passes, three tags or two
 * misses, where a log does not name its tags, and where tags do not repeat.
 */
export function missShares(point: DiagnosedPoint): MissShares | null {
  const { misses, namesTags, of } = point;
  if (misses < 2 || !namesTags || sumsBy(point, "pass").length < 3 || sumsBy(point, "tag").length < 3) {
    return null;
  }
  const { length } = of.missed;
  const components = twoWayComponents({ length, first: of.tag, second: of.pass, value: of.missed });
  const shares = components === null ? null : componentShares(components);
  return shares === null ? null : { tags: shares.first, passes: shares.second, rest: shares.rest };
}
