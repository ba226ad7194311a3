import type { Remark } from "../model/result.ts";
import { presentationRows, type Selection } from "../model/rows.ts";
import { type ClusteredSample, type ClusterSums, clusterSums } from "../statistics/effective-sample.ts";
import type { Evidence, PassCounts } from "./evidence/evidence.ts";
import { rateEvidence } from "./evidence/rates.ts";
import type { Parameters } from "./measure.ts";
import { worstPassBar } from "./worst-pass.ts";

/**
 * Counts the rows of one role in a selection, by pass and by tag. Tallies do not name tags: if one is among the rows, tags
 * are left out, with a remark if other logs name them.
 */
export function collectPresentations(selection: Selection, role: number, criterion: Parameters): Evidence {
  const { pass, tag, presentations, tagsRead } = selection.log.rows;
  const counter = presentationCounter();
  for (const row of presentationRows(selection, role)) {
    counter.add(pass[row]!, tag[row]!, presentations[row]!, tagsRead[row]!);
  }
  const counts = counter.counts();
  const remarks: Remark[] = [];
  if (counter.isMixed()) remarks.push({ code: "forms-mixed" });
  if (isOneCluster(counts.byPass)) remarks.push({ code: "one-cluster", dimension: "pass" });
  if (isOneCluster(counts.byTag)) remarks.push({ code: "one-cluster", dimension: "tag" });
  const passes = counter.passes();
  return rateEvidence({
    sample: counts,
    passes,
    remarks,
    tags: () => counts.byTag?.clusters || null,
    byPass: counter.byPass,
    bar: (limit, { confidence }) => worstPassBar(criterion, limit, { confidence, passes, n: counts.n }),
  });
}

function isOneCluster(sums: ClusterSums | null): boolean {
  return sums !== null && sums.clusters === 1 && sums.largest > 1;
}

/**
 * How many different tags the rows of a selection present in some passes; null where a log does not name its tags, or none
 * is presented.
 */
export function differentTags(selection: Selection, isCounted: (pass: number) => boolean): number | null {
  const { pass, tag } = selection.log.rows;
  const seen = new Uint8Array(selection.log.tags.length);
  let tags = 0;
  for (const row of presentationRows(selection)) {
    if (!isCounted(pass[row]!)) continue;
    const code = tag[row]!;
    if (code === -1) return null;
    if (seen[code] === 0) tags += 1;
    seen[code] = 1;
  }
  return tags === 0 ? null : tags;
}

/** Counts of presentations, by pass and, if all of them name their tags, by tag. */
export interface PresentationCounts extends ClusteredSample {
  byPass: ClusterSums;
  byTag: ClusterSums | null;
}

/** Counts presentations row by row, by pass and by tag. */
export interface PresentationCounter {
  /** `tag` is -1 if the log does not name it: then tags are left out. */
  add(pass: number, tag: number, presented: number, read: number): void;
  counts(): PresentationCounts;
  /** What each pass came to. */
  readonly byPass: ReadonlyMap<number, PassCounts>;
  /** Passes with at least one presentation. */
  passes(): number;
  /** Whether some presentations name their tag and others do not. */
  isMixed(): boolean;
}

export function presentationCounter(): PresentationCounter {
  const byPass: Clusters = new Map();
  const byTag: Clusters = new Map();
  let n = 0;
  let k = 0;
  let untagged = false;
  return {
    byPass,
    add(pass, tag, presented, read) {
      n += presented;
      k += read;
      addTo(byPass, pass, presented, presented - read);
      if (tag === -1) untagged = true;
      else addTo(byTag, tag, presented, presented - read);
    },
    counts: () => {
      const passes = clusterSums(byPass.values());
      const tags = untagged ? null : clusterSums(byTag.values());
      return { n, k, clusterings: tags === null ? [passes] : [passes, tags], byPass: passes, byTag: tags };
    },
    passes: () => byPass.size,
    isMixed: () => untagged && byTag.size > 0,
  };
}

type Clusters = Map<number, PassCounts>;

function addTo(clusters: Clusters, key: number, n: number, failures: number): void {
  const cluster = clusters.get(key);
  if (cluster === undefined) clusters.set(key, { n, failures });
  else {
    cluster.n += n;
    cluster.failures += failures;
  }
}
