import type { MissShares } from "../../model/diagnosis/diagnosis.ts";
import { componentShares, twoWayComponents } from "../../statistics/two-way-components.ts";
import type { DiagnosedPoint } from "./misses/candidate.ts";
import { sumsBy } from "./misses/miss-counts.ts";

/**
 * How much of what the misses vary is due to tags, to passes and to neither. Null below three passes, three tags or two
 * misses, where a log does not name its tags, and where tags do not repeat.
 */
export function missShares(point: DiagnosedPoint): MissShares | null {
  const { misses, presented, namesTags } = point;
  const { log } = point.walked;
  const { pass, tag, tagsRead } = log.rows;
  if (misses < 2 || !namesTags) return null;
  if (sumsBy(point, pass, log.passes.length).length < 3 || sumsBy(point, tag, log.tags.length).length < 3) {
    return null;
  }
  const components = twoWayComponents({
    length: presented.length,
    first: presented.map((row) => tag[row]!),
    second: presented.map((row) => pass[row]!),
    value: presented.map((row) => 1 - tagsRead[row]!),
  });
  const shares = components === null ? null : componentShares(components);
  return shares === null ? null : { tags: shares.first, passes: shares.second, rest: shares.rest };
}
