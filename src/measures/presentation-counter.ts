import { type ClusteredSample, type ClusterSums, clusterSums } from "../statistics/effective-sample.ts";

/** Presentations counted, and how they fall into passes and, where all of them name theirs, tags. */
export interface PresentationCounts extends ClusteredSample {
  byPass: ClusterSums;
  byTag: ClusterSums | null;
}

/** Counts presentations one row at a time and keeps how they fall into passes and tags. */
export interface PresentationCounter {
  /** `tag` is -1 where the log does not name it: then the tags drop out of the design. */
  add(pass: number, tag: number, presented: number, read: number): void;
  counts(): PresentationCounts;
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
    counts: () => {
      const passes = clusterSums(byPass.values());
      const tags = untagged ? null : clusterSums(byTag.values());
      return { n, k, clusterings: tags === null ? [passes] : [passes, tags], byPass: passes, byTag: tags };
    },
    passes: () => byPass.size,
    isMixed: () => untagged && byTag.size > 0,
  };
}

type Clusters = Map<number, { n: number; failures: number }>;

function addTo(clusters: Clusters, key: number, n: number, failures: number): void {
  const cluster = clusters.get(key);
  if (cluster === undefined) clusters.set(key, { n, failures });
  else {
    cluster.n += n;
    cluster.failures += failures;
  }
}
