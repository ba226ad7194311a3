import { Role } from "../../model/pass-log.ts";
import { trimmed, wholeNumberOf } from "./cells.ts";
import type { LogContext, LogFile, TakeRecord } from "./log-context.ts";
import { lostPass } from "./pass-book.ts";
import { PassColumns } from "./pass-columns.ts";
import { PassKey, refuseRepeat } from "./pass-key.ts";
import { RowColumns } from "./row-columns.ts";

/** Reads a log with one row a pass that only counts. */
export function tallyReader(context: LogContext, file: LogFile): TakeRecord {
  const { rows } = context;
  const { fields } = file.header;
  const keys = new PassKey(context, file);
  const passColumns = new PassColumns(context, file);
  const rowColumns = new RowColumns(rows, file.header, file.decimalComma);
  const presentedField = fields.get("tags_presented")!;
  const readField = fields.get("tags_read")!;
  const strayField = fields.get("stray_tags") ?? -1;

  const count = (record: string[], ordinal: number, field: number): number => {
    const text = trimmed(record[field]!);
    const value = wholeNumberOf(text);
    if (!Number.isNaN(value)) return value;
    file.report.cell(
      ordinal,
      field,
      text === "" ? "count-blank" : "count-unreadable",
      text,
      "a whole number of tags",
      text === "" ? "Fill it in; write 0 for none." : "Write how many, in digits.",
    );
    return Number.NaN;
  };

  return (record, ordinal) => {
    const pass = keys.passOf(record, ordinal);
    if (pass !== null && refuseRepeat(pass, ordinal, file)) return;
    passColumns.take(pass ?? lostPass("tally", file.index, ordinal), record, ordinal);
    const presented = count(record, ordinal, presentedField);
    const read = count(record, ordinal, readField);
    const strayCell = strayField < 0 ? "" : trimmed(record[strayField]!);
    const strays = strayCell === "" ? null : count(record, ordinal, strayField);
    if (read > presented) {
      file.report.cell(
        ordinal,
        readField,
        "read-more-than-presented",
        String(read),
        `at most ${presented}, the tags presented`,
        "Tags heard beyond those presented are strays: count them under stray_tags.",
      );
    }
    if (pass === null || Number.isNaN(presented) || Number.isNaN(read)) return;
    pass.straysRecorded = strays !== null;
    pass.tallyStrays = strays;
    const row = rows.open(pass.index, ordinal);
    rowColumns.take(row, record);
    rows.presentations[row] = presented;
    rows.reads[row] = read;
    if (presented === 0) rows.role[row] = Role.nothing;
  };
}
