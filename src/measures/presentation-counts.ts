import type { Remark } from "../model/remark.ts";
import type { Selection } from "../model/rows.ts";
import { Match } from "../model/rows.ts";
import type { ClusterSums } from "../statistics/cluster-sums.ts";
import type { Evidence } from "./evidence.ts";
import { presentationCounter } from "./presentation-counter.ts";

/**
 * Counts the rows of one role that a selection takes, and how they fall into passes and tags. Tallies know no tags:
 * where one is among the rows, the tags drop out, with a remark where others did name them.
 */
export function countPresentations(selection: Selection, role: number): Evidence {
  const { log, rows, match, withVoids } = selection;
  const { pass, tag, role: roles, presentations, reads } = log.rows;
  const counter = presentationCounter();
  for (const row of rows) {
    if (roles[row] !== role || presentations[row] === 0) continue;
    if (!withVoids && log.passes[pass[row]!]!.voidReason !== null) continue;
    if (match(row) !== Match.yes) continue;
    counter.add(pass[row]!, tag[row]!, presentations[row]!, reads[row]!);
  }
  const counts = counter.counts();
  const remarks: Remark[] = [];
  if (counter.isMixed()) remarks.push({ code: "forms-mixed" });
  if (isOneCluster(counts.byPass)) remarks.push({ code: "one-cluster", dimension: "pass" });
  if (isOneCluster(counts.byTag)) remarks.push({ code: "one-cluster", dimension: "tag" });
  return { kind: "presentations", passes: counter.passes(), counts, remarks };
}

function isOneCluster(sums: ClusterSums | null): boolean {
  return sums !== null && sums.clusters === 1 && sums.largest > 1;
}
