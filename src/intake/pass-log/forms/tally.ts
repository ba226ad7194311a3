import { noRssi, Role } from "../../../model/pass-log.ts";
import { trimmed, wholeNumberOf } from "../../csv/cells.ts";
import { countBlank, countUnreadable, passTooLarge, readMoreThanPresented } from "../../problems/pass-log.ts";
import { ConditionCells } from "../rows/cells.ts";
import type { LogForm, OpenLog, RecordReader } from "../rows/log-form.ts";

/** The chances of each number of misses are worked out for every pass: for a larger one that takes too long. */
const mostTags = 100_000;

/** A row a pass, which only counts. */
export const tally: LogForm = {
  id: "tally",
  name: "a tally log",
  summary: "tally (tags_presented, tags_read), one row a pass",
  columns: ["tags_presented", "tags_read", "stray_tags"],
  needed: ["tags_presented", "tags_read"],
  marks: ["tags_presented", "tags_read"],
  isRowAPass: true,
  namesTags: false,
  readsFrom: "pass-log",
  foreignAdvice: () => "One row stands for a whole pass here: remove the column, or log the pass itemised.",
  open: tallyReader,
};

function tallyReader({ file, table }: OpenLog): RecordReader {
  const { header, report, sheet } = file;
  const presentedField = header.fields.get("tags_presented")!;
  const readField = header.fields.get("tags_read")!;
  const strayField = header.fields.get("stray_tags");
  const conditions = new ConditionCells(table, header, sheet.decimalComma);

  return (record) => {
    const count = (field: number): number => {
      const text = trimmed(record.cells[field]!);
      const value = wholeNumberOf(text);
      if (Number.isNaN(value)) {
        const problem = text === "" ? countBlank : countUnreadable.ofTags();
        report.cell({ record: record.at, field, value: text }, problem);
      }
      return value;
    };
    const presented = count(presentedField);
    if (presented > mostTags) {
      const place = { record: record.at, field: presentedField, value: String(presented) };
      report.cell(place, passTooLarge.with({ most: mostTags }));
    }
    const read = count(readField);
    const straysRecorded = strayField !== undefined && trimmed(record.cells[strayField]!) !== "";
    const strays = straysRecorded ? count(strayField) : null;
    if (read > presented) {
      const place = { record: record.at, field: readField, value: String(read) };
      report.cell(place, readMoreThanPresented.with({ presented }));
    }
    if (Number.isNaN(presented) || Number.isNaN(read)) return null;
    const row = {
      tag: -1,
      role: presented === 0 ? Role.nothing : Role.presented,
      presentations: presented,
      tagsRead: read,
      readCount: 0,
      rssiDbm: noRssi,
      antenna: -1,
      texts: conditions.read(record),
    };
    return { rows: [row], straysRecorded, tallyStrays: strays, rssiRecorded: false, manifest: null };
  };
}
