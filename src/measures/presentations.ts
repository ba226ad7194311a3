import type { PassLog } from "../model/pass-log.ts";
import type { Remark } from "../model/result.ts";
import { presentationRows, type Selection } from "../model/rows.ts";
import { type ClusteredSample, type ClusterSums, clusterSums } from "../statistics/effective-sample.ts";
import type { Evidence } from "./evidence/evidence.ts";
import { rateEvidence } from "./evidence/rates.ts";

/**
 * Counts the rows of one role in a selection, by pass and by tag. Tallies do not name tags: if one is among the rows, tags
 * are left out, with a remark if other logs name them.
 */
export function collectPresentations(selection: Selection, role: number): Evidence {
  const { counts, passes, isMixed } = new PresentationCounter(selection.log).count(
    presentationRows(selection, role),
  );
  const remarks: Remark[] = [];
  if (isMixed) remarks.push({ code: "forms-mixed" });
  if (isOneCluster(counts.byPass)) remarks.push({ code: "one-cluster", dimension: "pass" });
  if (isOneCluster(counts.byTag)) remarks.push({ code: "one-cluster", dimension: "tag" });
  return rateEvidence({ sample: counts, passes, remarks });
}

function isOneCluster(sums: ClusterSums | null): boolean {
  return sums !== null && sums.clusters === 1 && sums.largest > 1;
}

/** Counts of presentations, by pass and, if all of them name their tags, by tag. */
export interface PresentationCounts extends ClusteredSample {
  byPass: ClusterSums;
  byTag: ClusterSums | null;
}

/** Some rows, counted. */
export interface CountedPresentations {
  counts: PresentationCounts;
  /** Passes with at least one presentation. */
  passes: number;
  /** Whether some presentations name their tag and others do not. */
  isMixed: boolean;
}

interface Cluster {
  /** Number of the pass or of the tag. */
  key: number;
  n: number;
  failures: number;
}

/** Counts presentations of a log, by pass and by tag. Meant to be asked about many sets of rows. */
export class PresentationCounter {
  readonly #log: PassLog;
  /** By number: the cluster's place among those met so far, counted from 1. All 0 between two counts. */
  readonly #placeOfPass: Int32Array;
  readonly #placeOfTag: Int32Array;

  constructor(log: PassLog) {
    this.#log = log;
    this.#placeOfPass = new Int32Array(log.passes.length);
    this.#placeOfTag = new Int32Array(log.tags.length);
  }

  /** Rows that do not name their tag leave tags out. */
  count(rows: Int32Array): CountedPresentations {
    const { pass, tag, presentations, tagsRead } = this.#log.rows;
    const passes: Cluster[] = [];
    const tags: Cluster[] = [];
    let n = 0;
    let k = 0;
    let untagged = false;
    for (const row of rows) {
      const presented = presentations[row]!;
      const failures = presented - tagsRead[row]!;
      n += presented;
      k += tagsRead[row]!;
      addTo(passes, this.#placeOfPass, { key: pass[row]!, n: presented, failures });
      if (tag[row] === -1) untagged = true;
      else addTo(tags, this.#placeOfTag, { key: tag[row]!, n: presented, failures });
    }
    for (const { key } of passes) this.#placeOfPass[key] = 0;
    for (const { key } of tags) this.#placeOfTag[key] = 0;
    const byPass = clusterSums(passes);
    const byTag = untagged ? null : clusterSums(tags);
    return {
      counts: { n, k, clusterings: byTag === null ? [byPass] : [byPass, byTag], byPass, byTag },
      passes: passes.length,
      isMixed: untagged && tags.length > 0,
    };
  }
}

function addTo(clusters: Cluster[], places: Int32Array, added: Cluster): void {
  const place = places[added.key]!;
  if (place === 0) places[added.key] = clusters.push(added);
  else {
    const cluster = clusters[place - 1]!;
    cluster.n += added.n;
    cluster.failures += added.failures;
  }
}
