import type { ChangedTag, Comparison, Result } from "../../model/result.ts";
import { comparisonsOf, type RoundPair, roundPairs } from "../changes/round-pairs.ts";
import { fileStem } from "../file-stem.ts";
import { facilityPaths } from "../paths.ts";
import { comparisonReasonSentence, standsAfterAll } from "../words/comparisons.ts";
import type { Column } from "./csv.ts";
import { groupCell } from "./finding-columns.ts";
import { type Table, table } from "./table.ts";

/** The tables behind the page of one pair of rounds. */
export interface PairTables {
  comparisons: Table;
  /** Null where no tag is known to have changed. */
  tags: Table | null;
}

export function pairTables(result: Result, pair: RoundPair): PairTables {
  const stem = fileStem(facilityPaths(result).changes(pair));
  const comparisons = comparisonsOf(pair, result);
  const tags = comparisons.flatMap(changedTags);
  const title = (id: string) => result.rounds.find((round) => round.id === id)?.title ?? id;
  const which = `${title(pair.before)} to ${title(pair.after)}`;
  return {
    comparisons: table(
      `${stem}-changes.csv`,
      `${which}: every comparison, the whole of each read point and each condition, with its reasons.`,
      comparisonColumns(result),
      comparisons,
    ),
    tags:
      tags.length === 0
        ? null
        : table(
            `${stem}-changed-tags.csv`,
            `${which}: tags newly missed and newly read every time, with how often.`,
            tagColumns,
            tags,
          ),
  };
}

/** The tables of every pair of rounds. */
export function changeTables(result: Result): Table[] {
  return roundPairs(result).flatMap((pair) => {
    const { comparisons, tags } = pairTables(result, pair);
    return tags === null ? [comparisons] : [comparisons, tags];
  });
}

function comparisonColumns({ readPoints, rounds, conditions }: Result): Column<Comparison>[] {
  const names = new Map(readPoints.map(({ id, name }) => [id, name]));
  return [
    { header: "before", cell: ({ before }) => before },
    { header: "after", cell: ({ after }) => after },
    { header: "read_point", cell: ({ readPoint }) => readPoint },
    { header: "read_point_name", cell: ({ readPoint }) => names.get(readPoint) ?? readPoint },
    { header: "group", cell: ({ group }) => groupCell(group) },
    { header: "exploratory", cell: ({ exploratory }) => (exploratory ? "yes" : "no") },
    { header: "change", cell: ({ change }) => change },
    { header: "stands_after_all_looks", cell: stands },
    { header: "design", cell: ({ design }) => design },
    {
      header: "standardised",
      cell: ({ design, standardised }) => (design === null ? null : standardised ? "yes" : "no"),
    },
    ...armColumns("before"),
    ...armColumns("after"),
    { header: "difference_value_fraction", cell: ({ difference }) => difference?.value ?? null },
    { header: "difference_lower_fraction", cell: ({ difference }) => difference?.lower ?? null },
    { header: "difference_upper_fraction", cell: ({ difference }) => difference?.upper ?? null },
    { header: "confidence_fraction", cell: ({ difference }) => difference?.confidence ?? null },
    { header: "p", cell: ({ p }) => p },
    { header: "p_adjusted_holm", cell: ({ pAdjusted }) => pAdjusted },
    { header: "test", cell: ({ test }) => test },
    { header: "pairs_read_both", cell: ({ pairs }) => pairs?.readBoth ?? null },
    { header: "pairs_read_only_before", cell: ({ pairs }) => pairs?.readOnlyBefore ?? null },
    { header: "pairs_read_only_after", cell: ({ pairs }) => pairs?.readOnlyAfter ?? null },
    { header: "pairs_missed_both", cell: ({ pairs }) => pairs?.missedBoth ?? null },
    {
      header: "reasons",
      cell: ({ reasons }) =>
        reasons.map((reason) => comparisonReasonSentence(reason, rounds, conditions)).join(" "),
    },
  ];
}

/** Only a condition that got better or worse can turn out to be a hint. */
function stands(comparison: Comparison): string | null {
  if (!comparison.exploratory || !["better", "worse"].includes(comparison.change)) return null;
  return standsAfterAll(comparison) ? "yes" : "no";
}

function armColumns(arm: "before" | "after"): Column<Comparison>[] {
  const column = (name: string, pick: "k" | "n" | "value" | "lower" | "upper" | "effectiveN") => ({
    header: `${arm}_${name}`,
    cell: ({ estimates }: Comparison) => estimates?.[arm][pick] ?? null,
  });
  return [
    column("k", "k"),
    column("n", "n"),
    column("value_fraction", "value"),
    column("lower_fraction", "lower"),
    column("upper_fraction", "upper"),
    column("effective_n", "effectiveN"),
  ];
}

interface TagRow {
  comparison: Comparison;
  kind: "newly missed" | "newly read";
  changed: ChangedTag;
}

function changedTags(comparison: Comparison): TagRow[] {
  const { newlyMissed = [], newlyRead = [] } = comparison.tags ?? {};
  return [
    ...newlyMissed.map((changed): TagRow => ({ comparison, kind: "newly missed", changed })),
    ...newlyRead.map((changed): TagRow => ({ comparison, kind: "newly read", changed })),
  ];
}

const tagColumns: Column<TagRow>[] = [
  { header: "before", cell: ({ comparison }) => comparison.before },
  { header: "after", cell: ({ comparison }) => comparison.after },
  { header: "read_point", cell: ({ comparison }) => comparison.readPoint },
  { header: "change", cell: ({ kind }) => kind },
  { header: "tag", cell: ({ changed }) => changed.tag },
  { header: "uri", cell: ({ changed }) => changed.uri },
  { header: "before_presented", cell: ({ changed }) => changed.before.presented },
  { header: "before_missed", cell: ({ changed }) => changed.before.missed },
  { header: "after_presented", cell: ({ changed }) => changed.after.presented },
  { header: "after_missed", cell: ({ changed }) => changed.after.missed },
];
