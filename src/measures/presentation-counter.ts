import { clusterSums } from "../statistics/cluster-sums.ts";
import type { ClusteredCounts } from "../statistics/effective-sample.ts";

/** Counts presentations one row at a time and keeps how they fall into passes and tags. */
export interface PresentationCounter {
  /** `tag` is -1 where the log does not name it: then the tags drop out of the design. */
  add(pass: number, tag: number, presented: number, read: number): void;
  counts(): ClusteredCounts;
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
    add(pass, tag, presented, read) {
      n += presented;
      k += read;
      addTo(byPass, pass, presented, presented - read);
      if (tag === -1) untagged = true;
      else addTo(byTag, tag, presented, presented - read);
    },
    counts: () => ({
      n,
      k,
      byPass: clusterSums(byPass.values()),
      byTag: untagged ? null : clusterSums(byTag.values()),
    }),
    passes: () => byPass.size,
    isMixed: () => untagged && byTag.size > 0,
  };
}

type Clusters = Map<number, { n: number; misses: number }>;

function addTo(clusters: Clusters, key: number, n: number, misses: number): void {
  const cluster = clusters.get(key);
  if (cluster === undefined) clusters.set(key, { n, misses });
  else {
    cluster.n += n;
    cluster.misses += misses;
  }
}
