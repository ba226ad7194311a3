import normalCdf from "@stdlib/stats-base-dists-normal-cdf";
import { timesAsOften } from "../../../measures/rounding.ts";
import type { Candidate, DiagnosedPoint, MissCounts } from "./candidate.ts";
import type { DiagnosedColumn } from "./columns.ts";
import { countsOf, deviance, ratioOf } from "./miss-counts.ts";
import type { WalkedCells } from "./walked-cells.ts";

/** Clusters that could make chance look like a cause: the passes, and where the logs name them the tags. */
interface Clusters {
  /** Of each presented row, in their order. */
  of: Int32Array;
  length: number;
}

/** Each value of each column, and each pair of values of two columns, against everything else; tag models are compared elsewhere. */
export function conditionCandidates(point: DiagnosedPoint, cells: WalkedCells): Candidate[] {
  const { columns } = cells;
  const models = point.walked.facility.compareTags;
  const parts = columns.flatMap((column, at) =>
    column.column === models ? [] : column.names.map((_, value) => [{ column: at, value }]),
  );
  const pairs = parts.flatMap(([first], i) =>
    parts.slice(i + 1).flatMap(([second]) => (first!.column === second!.column ? [] : [[first!, second!]])),
  );
  const presentedOf = columns.map(({ names }) => new Float64Array(names.length));
  for (const [cell, values] of cells.values.entries()) {
    for (const [column, value] of values.entries())
      if (value !== -1) presentedOf[column]![value]! += cells.n[cell]!;
  }
  const tested = [...parts, ...pairs].flatMap((values) => {
    let presented = 0;
    let missed = 0;
    for (let cell = 0; cell < cells.values.length; cell += 1) {
      if (!isInside(cells.values[cell]!, values)) continue;
      presented += cells.n[cell]!;
      missed += cells.k[cell]!;
    }
    if (presented === 0 || presented === point.presentations) return [];
    // A pair that is all of one of its values says no more than that value.
    const isOneValue = values.some(({ column, value }) => presentedOf[column]![value] === presented);
    return values.length > 1 && isOneValue ? [] : [{ values, counts: countsOf(point, missed, presented) }];
  });
  return tested.map(({ values, counts }): Candidate => {
    const { p, designEffect } = chanceOf(point, { values, counts, cells, tests: tested.length });
    const [first, second = first] = values.map(({ column, value }) => ({ ...columns[column]!, value }));
    const named = values.map(
      ({ column, value }) => [columns[column]!, columns[column]!.names[value]!] as const,
    );
    return {
      kind: "condition",
      subject: Object.fromEntries(named.map(([{ column }, name]) => [column, name])),
      p,
      counts,
      // Worked out for the few that are shown.
      get ratio() {
        return counts.missed === 0 ? null : ratioOf(counts, point.confidence, designEffect);
      },
      covers: (row) => first!.valueIn(row) === first!.value && second!.valueIn(row) === second!.value,
      explains: 0,
      get sentence() {
        return sentenceOf(named, counts, this.ratio);
      },
    };
  });
}

/** A value of a column, by their numbers. */
interface ColumnValue {
  column: number;
  value: number;
}

/** Whether a cell of `walkedCells` has all of some values. */
function isInside(cell: readonly number[], values: readonly ColumnValue[]): boolean {
  for (let i = 0; i < values.length; i += 1) if (cell[values[i]!.column] !== values[i]!.value) return false;
  return true;
}

function sentenceOf(
  named: readonly (readonly [DiagnosedColumn, string])[],
  counts: MissCounts,
  ratio: Candidate["ratio"],
): string {
  const where = named.map(([{ label }, name]) => `${label} ${name}`).join(" and ");
  const often = ratio === null ? "" : `: ${timesAsOften(ratio)}`;
  return `With ${where}, ${counts.missed} of ${counts.presented} tags were missed, elsewhere ${counts.elsewhereMissed} of ${counts.elsewherePresented}${often}.`;
}

/**
 * How often chance alone shows so many more misses: a likelihood ratio test of more against as many, divided by the design effect
 * of passes or of tags, whichever is larger. The largest p is that of three looks: at all of it, without the pass and without
 * the tag that missed most, so that one pass or one tag is not taken for a condition.
 */
function chanceOf(
  point: DiagnosedPoint,
  {
    values,
    counts,
    cells,
    tests,
  }: { values: readonly ColumnValue[]; counts: MissCounts; cells: WalkedCells; tests: number },
): { p: number; designEffect: number } {
  const plain = chanceOfMore(counts);
  // What is not carried anyway is not looked at row by row.
  if (plain * tests > 0.1) return { p: plain, designEffect: 1 };
  const { log } = point.walked;
  const inside = cells.values.map((cell) => isInside(cell, values));
  const clusterings: Clusters[] = [{ of: point.of.pass, length: log.passes.length }];
  if (point.namesTags) clusterings.push({ of: point.of.tag, length: log.tags.length });
  const looks = clusterings.map((clusters) => lookByCluster(point, { inside, counts, cells, clusters }));
  const designEffect = Math.max(1, ...looks.map((look) => look.designEffect));
  return {
    p: Math.max(chanceOfMore(counts, designEffect), ...looks.map(({ without }) => chanceOfMore(without))),
    designEffect,
  };
}

function chanceOfMore(
  { missed, presented, elsewhereMissed, elsewherePresented }: MissCounts,
  designEffect = 1,
): number {
  const all = presented + elsewherePresented;
  const misses = missed + elsewhereMissed;
  if (presented === 0 || elsewherePresented === 0 || missed * all <= misses * presented) return 1;
  const expected = (misses * presented) / all;
  const reads = deviance(presented - missed, all - misses, ((all - misses) * presented) / all);
  return normalCdf(-Math.sqrt((deviance(missed, misses, expected) + reads) / designEffect), 0, 1);
}

/** The clusters' scatter as a factor on the variance of the log odds, and the counts without the worst one. */
function lookByCluster(
  { of }: DiagnosedPoint,
  {
    inside,
    counts,
    cells,
    clusters,
  }: { inside: readonly boolean[]; counts: MissCounts; cells: WalkedCells; clusters: Clusters },
): { designEffect: number; without: MissCounts } {
  const own = new Float64Array(clusters.length);
  const ownMissed = new Float64Array(clusters.length);
  const other = new Float64Array(clusters.length);
  const otherMissed = new Float64Array(clusters.length);
  for (let i = 0; i < of.n.length; i += 1) {
    const cluster = clusters.of[i]!;
    if (inside[cells.ofRow[i]!]!) {
      own[cluster]! += of.n[i]!;
      ownMissed[cluster]! += of.missed[i]!;
    } else {
      other[cluster]! += of.n[i]!;
      otherMissed[cluster]! += of.missed[i]!;
    }
  }
  const rate = (counts.missed + 0.5) / (counts.presented + 1);
  const elsewhere = (counts.elsewhereMissed + 0.5) / (counts.elsewherePresented + 1);
  const weight = counts.presented * rate * (1 - rate);
  const elsewhereWeight = counts.elsewherePresented * elsewhere * (1 - elsewhere);
  let squares = 0;
  let used = 0;
  let worst = 0;
  for (let cluster = 0; cluster < clusters.length; cluster += 1) {
    if (own[cluster]! + other[cluster]! === 0) continue;
    used += 1;
    const score =
      (ownMissed[cluster]! - own[cluster]! * rate) / weight -
      (otherMissed[cluster]! - other[cluster]! * elsewhere) / elsewhereWeight;
    squares += score * score;
    if (ownMissed[cluster]! > ownMissed[worst]!) worst = cluster;
  }
  const variance = (squares * used) / Math.max(1, used - 1);
  return {
    designEffect: variance / (1 / weight + 1 / elsewhereWeight),
    without: {
      missed: counts.missed - ownMissed[worst]!,
      presented: counts.presented - own[worst]!,
      elsewhereMissed: counts.elsewhereMissed - otherMissed[worst]!,
      elsewherePresented: counts.elsewherePresented - other[worst]!,
    },
  };
}
