import { Role } from "../../model/pass-log.ts";
import { trimmed } from "./cells.ts";
import { openNothing } from "./listed.ts";
import type { LogContext, LogFile, TakeRecord } from "./log-context.ts";
import { ManifestWalk } from "./manifest-walk.ts";
import { lostPass } from "./pass-book.ts";
import { keepExtra, PassColumns } from "./pass-columns.ts";
import { PassKey, refuseRepeat } from "./pass-key.ts";
import { RowColumns } from "./row-columns.ts";

/**
 * Reads a log with one row a pass that says when it was walked and with which load. Its rows open as tags that were not
 * read; who was heard is filled in from the reader's own log.
 */
export function timedReader(context: LogContext, file: LogFile): TakeRecord {
  const { rows } = context;
  const { fields } = file.header;
  const keys = new PassKey(context, file);
  const passColumns = new PassColumns(context, file);
  const rowColumns = new RowColumns(rows, file.header, file.decimalComma);
  const walk = new ManifestWalk(context, file);
  const manifestField = fields.get("manifest")!;
  const timeFields = [fields.get("started_at")!, fields.get("ended_at")!];

  return (record, ordinal) => {
    const pass = keys.passOf(record, ordinal);
    if (pass !== null && refuseRepeat(pass, ordinal, file)) return;
    passColumns.take(pass ?? lostPass("timed", file.index, ordinal), record, ordinal);
    for (const field of timeFields) {
      if (trimmed(record[field]!) !== "") continue;
      const advice = "Without its start and end nobody can tell which reads belong to the pass: fill it in.";
      file.report.cell(ordinal, field, "time-blank", "", "a time", advice);
    }
    const manifest = walk.named(record[manifestField]!, ordinal, manifestField);
    if (pass === null || manifest === null || manifest.broken) return;
    pass.manifest = manifest.name;
    pass.straysRecorded = true;
    for (const [name, texts] of manifest.extras) for (const text of texts) keepExtra(pass, name, text);
    const first = rows.length;
    for (const item of manifest.rows) {
      const row = rows.open(pass.index, ordinal);
      rows.tag[row] = item.tag;
      rows.manifestRecord[row] = item.record;
      rows.role[row] = item.presented ? Role.presented : Role.notPresented;
    }
    const walked = rows.length;
    if (!manifest.rows.some((item) => item.presented)) openNothing(pass, ordinal, context);
    for (let row = first; row < rows.length; row += 1) rowColumns.take(row, record);
    walk.fill(first, walked, manifest, rowColumns, record, ordinal);
  };
}
