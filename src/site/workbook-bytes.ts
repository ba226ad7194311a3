import { type DataValidation, writeXlsx } from "hucre/xlsx";
import type { SiteWorkbook, WorkbookColumn } from "../pages/parts/workbook.ts";

/** The same in every build: a workbook would else tell when it was written. */
const written = new Date(Date.UTC(1980, 0, 1));
const listsName = "lists";
const timeFormat = "yyyy-mm-dd hh:mm:ss";
/** Below the table, for passes that are walked again. */
const rowsToAdd = 50;
const narrowest = 10;
const widest = 40;

/** A workbook with its table on the first sheet, and what its cells offer to choose from on a hidden one. */
export function workbookBytes({ sheet, columns, rows }: SiteWorkbook): Promise<Uint8Array> {
  const lists = columns.filter(({ choices }) => choices.length > 0);
  const longest = Math.max(0, ...lists.map(({ choices }) => choices.length));
  const listRows = Array.from({ length: longest }, (_, i) => lists.map(({ choices }) => choices[i] ?? null));
  const table = {
    name: sheet,
    columns: columns.map((column, c) => ({
      width: widthOf(column, rows, c),
      ...(column.isTime ? { numFmt: timeFormat } : {}),
    })),
    rows: [columns.map(({ header }) => header), ...rows],
    freezePane: { rows: 1 },
    dataValidations: lists.map((column, list): DataValidation => {
      const [at, from] = [columnName(columns.indexOf(column)), columnName(list)];
      return {
        type: "list",
        formula1: `${listsName}!$${from}$1:$${from}$${column.choices.length}`,
        range: `${at}2:${at}${rows.length + 1 + rowsToAdd}`,
        allowBlank: true,
        showErrorMessage: column.isClosed,
      };
    }),
  };
  const hidden = lists.length === 0 ? [] : [{ name: listsName, hidden: true, rows: listRows }];
  return writeXlsx({ sheets: [table, ...hidden], properties: { created: written, modified: written } });
}

function widthOf({ header, isTime, choices }: WorkbookColumn, rows: SiteWorkbook["rows"], c: number): number {
  const texts = [header, isTime ? timeFormat : "", ...choices, ...rows.map((row) => String(row[c] ?? ""))];
  return Math.min(widest, Math.max(narrowest, ...texts.map(({ length }) => length + 2)));
}

/** 0 is A, 26 is AA. */
function columnName(column: number): string {
  const before = Math.floor(column / 26);
  return `${before > 0 ? columnName(before - 1) : ""}${String.fromCharCode(65 + (column % 26))}`;
}
