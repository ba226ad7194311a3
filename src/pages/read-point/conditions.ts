import { percent } from "../../measures/scales.ts";
import type { Estimate } from "../../model/estimate.ts";
import { counted, joined } from "../../model/number-words.ts";
import type { RoundResult } from "../../model/result/round.ts";
import type { TableFiles } from "../parts/csv.ts";
import { type Figure, type FigureView, figure } from "../parts/figure.ts";
import type { Names } from "../parts/names.ts";
import { countOf, rateCell, rateColumns, shownRateColumns } from "../parts/rate-columns.ts";
import type { IntervalRow } from "../pictures/interval-line.ts";
import { intervalPicture } from "../pictures/interval-picture.ts";

/** Whether any presented tag of the round was walked under a stated value of the condition. */
export function isStated({ byCondition }: RoundResult, column: string): boolean {
  const breakdown = byCondition.find((entry) => entry.column === column);
  return breakdown?.groups.some(({ passes }) => passes > 0) ?? false;
}

/** `Engine and Storage zone`: the conditions that no log of this round states; empty where all are stated. */
export function unstatedConditions(round: RoundResult, names: Names): string {
  const columns = round.byCondition.map(({ column }) => column).filter((column) => !isStated(round, column));
  return joined(columns.map(names.condition));
}

/** One value of one condition. */
interface ConditionRow {
  column: string;
  value: string;
  passes: number;
  rate: Estimate;
}

const isWalked = ({ rate }: ConditionRow) => rate.n > 0;

/** The read rate under each value of each stated condition, on one axis; null where the round states none. */
export function conditionFigure(
  round: RoundResult,
  names: Names,
  files: TableFiles,
): Figure<FigureView> | null {
  const rows = round.byCondition
    .filter(({ column }) => isStated(round, column))
    .flatMap(({ column, groups }) =>
      groups.map(
        ({ value, passes, tagReadRate }): ConditionRow => ({ column, value, passes, rate: tagReadRate }),
      ),
    );
  if (rows.length === 0) return null;
  const caption = captionOf(rows, names);
  return figure({
    id: "conditions",
    caption,
    howToRead:
      "Each line covers the rates that fit the tags walked under that value; the upright mark is the observed rate. No limit is drawn, because these rows are not judged: they show where to look. Few passes give a long line.",
    picture: () =>
      intervalPicture({
        id: "by-condition",
        title: "Read rate by each condition",
        description: caption,
        rows: rows.map((row) => intervalRow(row, names)),
        scale: "stretched",
      }),
    tableCaption: "Read rate by each condition",
    columns: [
      { header: "condition", value: ({ column }) => column },
      {
        header: "value",
        value: ({ value }) => value,
        label: "Value",
        text: ({ column, value }) => ({ text: names.value(column, value), detail: names.condition(column) }),
      },
      {
        header: "passes",
        value: ({ passes }) => passes,
        label: "Passes",
        text: ({ passes }) => counted(passes, "pass", "passes"),
        as: "number",
      },
      ...rateColumns<ConditionRow>(({ rate }) => rate),
      ...shownRateColumns<ConditionRow>(({ rate }) => rate, isWalked),
    ],
    rows,
    file: files("conditions", "read rate by each condition."),
  });
}

function intervalRow(row: ConditionRow, names: Names): IntervalRow {
  return {
    label: names.value(row.column, row.value),
    detail: names.condition(row.column),
    state: null,
    conceded: "none",
    scale: percent,
    sense: "at-least",
    limit: null,
    lines: [
      {
        label: null,
        estimate: row.rate,
        count: isWalked(row) ? countOf(row.rate) : "",
        figures: rateCell(row.rate).figures,
        earlier: false,
        emptyWord: "not walked",
      },
    ],
  };
}

/** Where the lowest rates were seen, and what was not walked. */
function captionOf(rows: ConditionRow[], names: Names): string {
  const columns = [...new Set(rows.map(({ column }) => column))];
  const lowest = columns.flatMap((column) => {
    const low = lowestOf(rows.filter((row) => row.column === column));
    if (low === null) return [];
    return [`${names.condition(column)} ${names.value(column, low.value)} (${countOf(low.rate)})`];
  });
  const gaps = rows.filter((row) => !isWalked(row)).map(({ column, value }) => names.value(column, value));
  const first =
    lowest.length > 0
      ? `Lowest rates: ${lowest.join("; ")}.`
      : rows.some(isWalked)
        ? "No tag was missed under any condition."
        : "No pass of this round was walked under any of the conditions.";
  return gaps.length === 0 ? first : `${first} Not walked: ${gaps.join(", ")}.`;
}

/** Null where nothing was missed. */
function lowestOf(rows: ConditionRow[]): ConditionRow | null {
  const missed = rows.filter(({ rate }) => rate.k < rate.n);
  const shareOf = ({ rate }: ConditionRow) => rate.k / rate.n;
  return missed.reduce<ConditionRow | null>(
    (low, row) => (low === null || shareOf(row) < shareOf(low) ? row : low),
    null,
  );
}
