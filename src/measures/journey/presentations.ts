import type { JourneySelection, Outcomes } from "../../model/journey/outcomes.ts";
import type { Remark } from "../../model/result/remark.ts";
import { clusterSums } from "../../statistics/effective-sample.ts";
import type { Evidence, PassCounts } from "../evidence/evidence.ts";
import { rateEvidence } from "../evidence/rates.ts";
import type { Presentation } from "../measure.ts";
import type { PresentationCounts } from "../presentations.ts";

/** Presentations counted, by the run and by the tag of the item. */
interface CountedPresentations {
  counts: PresentationCounts;
  byRun: Map<number, PassCounts>;
}

/** Sums presentations, and how their failures fall into runs and tags. */
export function countPresentations(
  { rows, run }: Outcomes,
  presentations: readonly Presentation[],
): CountedPresentations {
  const byRun = new Map<number, PassCounts>();
  const byTag = new Map<number, PassCounts>();
  let k = 0;
  for (const { row, succeeded } of presentations) {
    if (succeeded) k += 1;
    add(byRun, run[row]!, succeeded);
    add(byTag, rows[row]!.tag, succeeded);
  }
  const byPass = clusterSums([...byRun.values()]);
  const items = clusterSums([...byTag.values()]);
  const n = presentations.length;
  return { counts: { n, k, clusterings: [byPass, items], byPass, byTag: items }, byRun };
}

/**
 * A rate of presentations, clustered by the run and by the tag of the item: items of one run fail together, and one weak tag fails
 * again and again.
 *
 * @param tagOf the tag that was to be read; the item's where left out
 */
export function presentationEvidence(
  { outcomes }: JourneySelection,
  presentations: readonly Presentation[],
  tagOf: (row: number) => number = (row) => outcomes.rows[row]!.tag,
): Evidence {
  const { counts, byRun } = countPresentations(outcomes, presentations);
  const tags = new Set(presentations.map(({ row }) => tagOf(row)));
  const remarks: Remark[] = [];
  for (const [dimension, sums] of [["pass", counts.byPass] as const, ["tag", counts.byTag] as const])
    if (sums?.clusters === 1 && sums.largest > 1) remarks.push({ code: "one-cluster", dimension });
  return rateEvidence({
    sample: counts,
    passes: byRun.size,
    remarks,
    tags: () => tags.size || null,
    byPass: byRun,
  });
}

function add(clusters: Map<number, PassCounts>, key: number, succeeded: boolean): void {
  const cluster = clusters.get(key) ?? { n: 0, failures: 0 };
  clusters.set(key, cluster);
  cluster.n += 1;
  if (!succeeded) cluster.failures += 1;
}
