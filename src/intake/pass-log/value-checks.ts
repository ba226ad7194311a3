import { decimalOf } from "../../model/decimal.ts";
import { listing } from "../quotation.ts";
import type { LogContext } from "./log-context.ts";
import { rowPlace } from "./row-place.ts";
import type { StoredColumn } from "./row-store.ts";

/** Whether the values of banded columns, and of those taken as a range, are numbers with a band to fall into. */
export function checkValues(context: LogContext): void {
  const { rows, vocabulary } = context;
  for (const column of rows.columns) {
    if (!vocabulary.numeric.has(column.name)) continue;
    const values = vocabulary.values.get(column.name)!;
    const numbers = column.table.texts.map(decimalOf);
    const wrong = column.table.texts.map(
      (text, i) => Number.isNaN(numbers[i]!) || values.nameOf(text) === null,
    );
    if (wrong.includes(true)) reportWrong(column, numbers, wrong, values.names ?? [], context);
  }
}

function reportWrong(
  column: StoredColumn,
  numbers: number[],
  wrong: boolean[],
  names: readonly string[],
  context: LogContext,
): void {
  const blamed = new Set<string>();
  for (let row = 0; row < context.rows.length; row += 1) {
    const id = column.index[row]!;
    if (id < 0 || !wrong[id]) continue;
    const place = rowPlace(context, row, column.name);
    if (place === null) continue;
    const key = `${place.report.file}\u0000${place.record}`;
    if (blamed.has(key)) continue;
    blamed.add(key);
    const text = column.table.texts[id]!;
    if (Number.isNaN(numbers[id]!)) {
      place.report.cell(
        place.record,
        place.field,
        "condition-not-a-number",
        text,
        "a number",
        /^[-+]?\d+,\d+$/.test(text)
          ? `Write a decimal point: ${text.replace(",", ".")}.`
          : "Write the number alone, without its unit; the unit stands in the column's name.",
      );
    } else {
      place.report.cell(
        place.record,
        place.field,
        "value-outside-bands",
        text,
        `a value within the bands ${listing([...names])}`,
        "Correct the value, or widen the bands in facility.yaml.",
      );
    }
  }
}
