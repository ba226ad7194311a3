import type { PassLog } from "../model/pass-log.ts";
import type { Remark } from "../model/result/remark.ts";
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
  const { counts, byPass, passes, isMixed } = new PresentationCounter(selection.log).count(
    presentationRows(selection, role),
  );
  const remarks: Remark[] = [];
  if (isMixed) remarks.push({ code: "forms-mixed" });
  if (isOneCluster(counts.byPass)) remarks.push({ code: "one-cluster", dimension: "pass" });
  if (isOneCluster(counts.byTag)) remarks.push({ code: "one-cluster", dimension: "tag" });
  return rateEvidence({
    sample: counts,
    passes,
    remarks,
    tags: () => counts.byTag?.clusters || null,
    byPass: byPass(),
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

/** Some rows, counted. */
interface CountedPresentations {
  counts: PresentationCounts;
  /** What each pass came to. */
  byPass(): Map<number, PassCounts>;
  /** Passes with at least one presentation. */
  passes: number;
  /** Tags that are presented, by their numbers; null where a row names none. */
  tags: readonly number[] | null;
  /** Whether some presentations name their tag and others do not. */
  isMixed: boolean;
}

/** Counts presentations of a log, by pass and by tag. Meant to be asked about many sets of rows. */
export class PresentationCounter {
  readonly #log: PassLog;
  readonly #passes: Clusters;
  readonly #tags: Clusters;

  constructor(log: PassLog) {
    this.#log = log;
    this.#passes = noClusters(log.passes.length);
    this.#tags = noClusters(log.tags.length);
  }

  /**
   * Rows that do not name their tag leave tags out.
   *
   * @param rows each presents something
   * @param succeeded of a row's presentations; those read where it is left out
   */
  count(rows: Int32Array, succeeded: ((row: number) => number) | null = null): CountedPresentations {
    const { pass, tag, presentations, tagsRead } = this.#log.rows;
    const passes = this.#passes;
    const tags = this.#tags;
    let n = 0;
    let k = 0;
    let untagged = 0;
    for (let i = 0; i < rows.length; i += 1) {
      const row = rows[i]!;
      const presented = presentations[row]!;
      const successes = succeeded === null ? tagsRead[row]! : succeeded(row);
      const failures = presented - successes;
      const ofPass = pass[row]!;
      const ofTag = tag[row]!;
      n += presented;
      k += successes;
      if (passes.n[ofPass] === 0) passes.met.push(ofPass);
      passes.n[ofPass]! += presented;
      passes.failures[ofPass]! += failures;
      if (ofTag === -1) {
        untagged += 1;
        continue;
      }
      if (tags.n[ofTag] === 0) tags.met.push(ofTag);
      tags.n[ofTag]! += presented;
      tags.failures[ofTag]! += failures;
    }
    const { numbers, clusters } = taken(passes);
    const byPass = clusterSums(clusters);
    const ofTags = taken(tags);
    const byTag = untagged > 0 ? null : clusterSums(ofTags.clusters);
    return {
      counts: { n, k, clusterings: byTag === null ? [byPass] : [byPass, byTag], byPass, byTag },
      byPass: () => new Map(numbers.map((number, i) => [number, clusters[i]!])),
      passes: numbers.length,
      tags: byTag === null ? null : ofTags.numbers,
      isMixed: untagged > 0 && untagged < rows.length,
    };
  }
}

/** Trials and failures by the number of their pass, or of their tag. */
interface Clusters {
  n: Float64Array;
  failures: Float64Array;
  /** Numbers with a trial. */
  met: number[];
}

function noClusters(numbers: number): Clusters {
  return { n: new Float64Array(numbers), failures: new Float64Array(numbers), met: [] };
}

/** Those met since the last time, each with its number. */
function taken(counted: Clusters): { numbers: number[]; clusters: PassCounts[] } {
  const { n, failures, met: numbers } = counted;
  const clusters: PassCounts[] = [];
  for (const number of numbers) {
    clusters.push({ n: n[number]!, failures: failures[number]! });
    n[number] = 0;
    failures[number] = 0;
  }
  counted.met = [];
  return { numbers, clusters };
}
