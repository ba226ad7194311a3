import { trimmed } from "../../csv/cells.ts";
import { timeBlank } from "../../problems/pass-log.ts";
import { ConditionCells } from "../rows/cells.ts";
import { type LogForm, type OpenLog, type RecordReader, unknownLoad } from "../rows/log-form.ts";
import { manifestRows, namedManifest } from "../rows/manifest.ts";

const needed = ["manifest", "started_at", "ended_at"];

/**
 * A row a pass, which says when it was walked and with which load. Its tags count as not read until the reader's own log
 * says which were.
 */
export const timed: LogForm = {
  id: "timed",
  name: "a timed log",
  summary: "or, with reader_logs, timed (manifest, started_at, ended_at)",
  columns: ["manifest"],
  needed,
  marks: [],
  isMeant: ({ fields }, hasReaderLogs) =>
    hasReaderLogs && needed.every((name) => fields.has(name)) && !fields.has("missed_tags"),
  isRowAPass: true,
  namesTags: true,
  readsFrom: "reader-log",
  foreignAdvice: () => "Which tags were read comes from the reader's log here: remove the column.",
  open: timedReader,
};

function timedReader({ file, table, manifests }: OpenLog): RecordReader {
  const { header, report, sheet } = file;
  const manifestField = header.fields.get("manifest")!;
  const timeFields = [header.fields.get("started_at")!, header.fields.get("ended_at")!];
  const conditions = new ConditionCells(table, header, sheet.decimalComma);

  return (record) => {
    for (const field of timeFields) {
      if (trimmed(record.cells[field]!) !== "") continue;
      report.cell({ record: record.at, field, value: "" }, timeBlank);
    }
    const manifest = namedManifest(record, manifestField, { manifests, report });
    const texts = conditions.read(record);
    if (manifest === null || manifest.broken) return unknownLoad(texts, true);
    const load = { manifest, record, texts, withBystanders: true, isRead: () => false };
    const rows = manifestRows(load, table, file);
    return { rows, straysRecorded: true, tallyStrays: null, rssiRecorded: false, manifest };
  };
}
