import type { ChangedTag, Comparison } from "../../model/result/comparison.ts";
import { yesOrNo } from "../parts/columns.ts";
import { type CsvColumn, type CsvTable, csvTable } from "../parts/csv.ts";
import { groupCell } from "../parts/finding-columns.ts";
import type { FacilityContext } from "../parts/page.ts";
import { comparisonsOf, type RoundPair } from "../parts/round-pairs.ts";
import { comparisonReasonSentence, holdsAfterAdjustment } from "../words/comparisons.ts";
import { pairTitle } from "./read-point-changes.ts";

/** The tables behind the page of one pair of rounds. */
export interface PairTables {
  comparisons: CsvTable;
  /** Null where no tag is known to have changed. */
  tags: CsvTable | null;
}

export function pairTables(facility: FacilityContext, pair: RoundPair): PairTables {
  const { result, names, paths } = facility;
  const stem = paths.changesStem(pair);
  const which = pairTitle(names, pair);
  const comparisons = comparisonsOf(pair, result);
  const tags = comparisons.flatMap(changedTags);
  return {
    comparisons: csvTable(
      {
        name: `${stem}-changes`,
        holds: `${which}: every comparison, the whole of each read point and each condition, with its reasons.`,
      },
      comparisonColumns(facility),
      comparisons,
    ),
    tags:
      tags.length === 0
        ? null
        : csvTable(
            {
              name: `${stem}-changed-tags`,
              holds: `${which}: tags newly missed and newly read every time, with how often.`,
            },
            tagColumns,
            tags,
          ),
  };
}

function comparisonColumns({
  result: { rounds, conditions },
  names,
}: FacilityContext): CsvColumn<Comparison>[] {
  return [
    { header: "before", value: ({ before }) => before },
    { header: "after", value: ({ after }) => after },
    { header: "read_point", value: ({ readPoint }) => readPoint },
    { header: "read_point_name", value: ({ readPoint }) => names.readPoint(readPoint) },
    { header: "group", value: ({ group }) => groupCell(group) },
    { header: "exploratory", value: ({ exploratory }) => yesOrNo(exploratory) },
    { header: "change", value: ({ change }) => change },
    { header: "stands_after_all_looks", value: stands },
    { header: "design", value: ({ design }) => design },
    {
      header: "standardised",
      value: ({ design, standardised }) => (design === null ? null : yesOrNo(standardised)),
    },
    ...armColumns("before"),
    ...armColumns("after"),
    { header: "difference_value_fraction", value: ({ difference }) => difference?.value ?? null },
    { header: "difference_lower_fraction", value: ({ difference }) => difference?.lower ?? null },
    { header: "difference_upper_fraction", value: ({ difference }) => difference?.upper ?? null },
    { header: "confidence_fraction", value: ({ difference }) => difference?.confidence ?? null },
    { header: "p", value: ({ p }) => p },
    { header: "p_adjusted_holm", value: ({ pAdjusted }) => pAdjusted },
    { header: "test", value: ({ test }) => test },
    { header: "pairs_read_both", value: ({ pairs }) => pairs?.readBoth ?? null },
    { header: "pairs_read_only_before", value: ({ pairs }) => pairs?.readOnlyBefore ?? null },
    { header: "pairs_read_only_after", value: ({ pairs }) => pairs?.readOnlyAfter ?? null },
    { header: "pairs_missed_both", value: ({ pairs }) => pairs?.missedBoth ?? null },
    {
      header: "reasons",
      value: ({ reasons }) =>
        reasons.map((reason) => comparisonReasonSentence(reason, rounds, conditions)).join(" "),
    },
  ];
}

/** Null for a comparison that is not exploratory, and for one without a change. */
function stands(comparison: Comparison): string | null {
  if (!comparison.exploratory || !["better", "worse"].includes(comparison.change)) return null;
  return yesOrNo(holdsAfterAdjustment(comparison));
}

function armColumns(arm: "before" | "after"): CsvColumn<Comparison>[] {
  const column = (name: string, pick: "k" | "n" | "value" | "lower" | "upper" | "effectiveN") => ({
    header: `${arm}_${name}`,
    value: ({ estimates }: Comparison) => estimates?.[arm][pick] ?? null,
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

const tagColumns: CsvColumn<TagRow>[] = [
  { header: "before", value: ({ comparison }) => comparison.before },
  { header: "after", value: ({ comparison }) => comparison.after },
  { header: "read_point", value: ({ comparison }) => comparison.readPoint },
  { header: "change", value: ({ kind }) => kind },
  { header: "tag", value: ({ changed }) => changed.tag },
  { header: "uri", value: ({ changed }) => changed.uri },
  { header: "before_presented", value: ({ changed }) => changed.before.presented },
  { header: "before_missed", value: ({ changed }) => changed.before.missed },
  { header: "after_presented", value: ({ changed }) => changed.after.presented },
  { header: "after_missed", value: ({ changed }) => changed.after.missed },
];
