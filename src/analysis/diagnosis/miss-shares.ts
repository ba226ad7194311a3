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
  const { length } = presented;
  const [first, second, value] = [new Int32Array(length), new Int32Array(length), new Int32Array(length)];
  for (let i = 0; i < length; i += 1) {
    const row = presented[i]!;
    first[i] = tag[row]!;
    second[i] = pass[row]!;
    value[i] = 1 - tagsRead[row]!;
  }
  const components = twoWayComponents({ length, first, second, value });
  const shares = components === null ? null : componentShares(components);
  return shares === null ? null : { tags: shares.first, passes: shares.second, rest: shares.rest };
}
