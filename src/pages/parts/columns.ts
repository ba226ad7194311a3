import { countText, decimalText, statedNumber } from "../../model/number-words.ts";
import { pText } from "../words/figures.ts";
import { codeName } from "../words/labels.ts";
import type { Column } from "./figure.ts";
import { countOf } from "./rate-columns.ts";

/* The kinds of columns that many tables have: each is in the file and on the page, and written there in one way. */

interface Named {
  header: string;
  label: string;
}

interface Figures extends Named {
  as?: "number" | "strong number";
  /** What the page says of a row without a figure. */
  none?: string;
}

/** A text, the same in the file and on the page. */
export function textColumn<Row>({ header, label }: Named, value: (row: Row) => string): Column<Row> {
  return { header, value, label, text: value };
}

/** Whole numbers. */
export function countColumn<Row>(named: Figures, value: (row: Row) => number | null): Column<Row> {
  return figureColumn(named, value, countText);
}

/** Figures with so many decimals on the page, one where nothing is said. */
export function decimalColumn<Row>(
  { digits = 1, ...named }: Figures & { digits?: number },
  value: (row: Row) => number | null,
): Column<Row> {
  return figureColumn(named, value, (figure) => decimalText(figure, digits));
}

/** Figures as they were stated. */
export function statedColumn<Row>(named: Figures, value: (row: Row) => number | null): Column<Row> {
  return figureColumn(named, value, statedNumber);
}

/** How often chance alone shows as much. */
export function pColumn<Row>(header: string, value: (row: Row) => number | null): Column<Row> {
  return figureColumn({ header, label: "p", none: "" }, value, pText);
}

function figureColumn<Row>(
  { header, label, as = "number", none = "not known" }: Figures,
  value: (row: Row) => number | null,
  write: (figure: number) => string,
): Column<Row> {
  return {
    header,
    value,
    label,
    text: (row) => {
      const figure = value(row);
      return figure === null ? none : write(figure);
    },
    as,
  };
}

/** A tag's code and below it what it names; its URI besides in the file. */
export function codeColumns<Row extends { tag: string; uri: string | null }>(): Column<Row>[] {
  return [
    {
      header: "code",
      value: ({ tag }) => tag,
      label: "Code",
      text: ({ tag, uri }) => ({ text: tag, detail: codeName(tag, uri), code: true }),
    },
    { header: "uri", value: ({ uri }) => uri },
  ];
}

/** The strongest read of something; where a log has no signal it says so. */
export function strongestColumn<Row extends { strongestDbm: number | null }>(): Column<Row> {
  return decimalColumn(
    { header: "strongest_dbm", label: "Strongest, dBm", none: "not recorded" },
    ({ strongestDbm }) => strongestDbm,
  );
}

export function yesNoColumn<Row>({ header, label }: Named, value: (row: Row) => boolean): Column<Row> {
  return textColumn({ header, label }, (row) => yesOrNo(value(row)));
}

export function yesOrNo(value: boolean): "yes" | "no" {
  return value ? "yes" : "no";
}

/** So many of so many: one column on the page, `3 of 40`, and two in the file. */
export function countOfColumns<Row>(
  { headers: [k, n], label }: { headers: readonly [k: string, n: string]; label: string },
  counts: (row: Row) => { k: number; n: number },
): Column<Row>[] {
  return [
    { header: k, value: (row) => counts(row).k, label, text: (row) => countOf(counts(row)), as: "number" },
    { header: n, value: (row) => counts(row).n },
  ];
}

/** The column as it is, or in the file alone. */
export function shownIf<Row>(isShown: boolean, column: Column<Row>): Column<Row> {
  if (isShown || !("header" in column)) return column;
  const { header, value } = column;
  return { header, value };
}
