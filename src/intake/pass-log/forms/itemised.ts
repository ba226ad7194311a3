import { noRssi, Role } from "../../../model/pass-log.ts";
import { Answer, answerOf, trimmed, wholeNumberOf } from "../../csv/cells.ts";
import type { CsvRecord } from "../../csv/records.ts";
import {
  answerBlank,
  answerUnclear,
  antennasTooMany,
  countUnreadable,
  readContradictsItself,
  tagBlank,
} from "../../problems/pass-log.ts";
import type { CsvReport } from "../../problems/reports.ts";
import type { TextTable } from "../../tables/text-table.ts";
import { ConditionCells, RssiCells, TagCells } from "../rows/cells.ts";
import type { LogForm, OpenLog, RecordReader } from "../rows/log-form.ts";
import type { Row } from "../rows/table.ts";

/** A row a tag. */
export const itemised: LogForm = {
  id: "itemised",
  name: "an itemised log",
  summary: "itemised (tag, read), one row a tag",
  columns: ["tag", "presented", "read", "rssi_dbm", "antenna", "reads"],
  needed: ["tag", "read"],
  marks: ["tag", "read"],
  isRowAPass: false,
  namesTags: true,
  readsFrom: "pass-log",
  foreignAdvice: (column) =>
    column === "stray_tags"
      ? "In an itemised log a stray is a row of its own, with presented = no and read = yes."
      : "Remove the column.",
  open: itemisedReader,
};

function itemisedReader({ file, table }: OpenLog): RecordReader {
  const { header, report, sheet } = file;
  const field = (name: string) => header.fields.get(name) ?? -1;
  const tagField = field("tag");
  const presentedField = field("presented");
  const readField = field("read");
  const rssiField = field("rssi_dbm");
  const antennaField = field("antenna");
  const readsField = field("reads");
  const conditions = new ConditionCells(table, header, sheet.decimalComma);
  const tags = new TagCells(table.tags, report);
  const rssi = new RssiCells(report, sheet.decimalComma);
  const antennas = new AntennaCells(table.antennas, report);

  return (record) => {
    const { cells, at } = record;
    const presented = presentedField < 0 ? Answer.yes : answerOf(cells[presentedField]!);
    const read = answerOf(cells[readField]!);
    const tag = tags.read(record, tagField);
    const isClear = presented <= Answer.yes && read <= Answer.yes;
    if (presented > Answer.yes) reportAnswer(record, presentedField, report);
    if (read > Answer.yes) reportAnswer(record, readField, report);
    if (isClear && tag < 0 && (presented === Answer.yes || read === Answer.yes)) {
      report.cell({ record: at, field: tagField, value: "" }, tagBlank.itemised());
    }
    if (isClear && read === Answer.no) {
      checkUnread(record, { fields: [rssiField, antennaField, readsField], readsField, report });
    }
    const isRead = read === Answer.yes;
    const readCount = isRead && readsField >= 0 ? readsOf(record, readsField, report) : 0;
    const rssiDbm = isRead && rssiField >= 0 ? rssi.read(record, rssiField) : noRssi;
    if (!isClear) return null;
    const texts = conditions.read(record);
    const row: Row =
      tag < 0
        ? { ...nothing, texts }
        : {
            tag,
            role: presented === Answer.yes ? Role.presented : Role.notPresented,
            presentations: 1,
            tagsRead: isRead ? 1 : 0,
            readCount,
            rssiDbm,
            antenna: isRead && antennaField >= 0 ? antennas.read(record, antennaField) : -1,
            texts,
          };
    return {
      rows: [row],
      straysRecorded: presentedField >= 0,
      tallyStrays: null,
      rssiRecorded: rssiField >= 0,
      manifest: null,
    };
  };
}

/** A pass that presented nothing; its one row says only how it was made. */
const nothing = {
  tag: -1,
  role: Role.nothing,
  presentations: 0,
  tagsRead: 0,
  readCount: 0,
  rssiDbm: noRssi,
  antenna: -1,
};

function reportAnswer({ cells, at }: CsvRecord, field: number, report: CsvReport): void {
  const column = report.names[field]!;
  report.cell(
    { record: at, field, value: cells[field]! },
    answerOf(cells[field]!) === Answer.blank ? answerBlank.with({ column }) : answerUnclear.with(),
  );
}

/** A tag that was not read has no strength, no antenna and no reads. */
function checkUnread(
  { cells, at }: CsvRecord,
  { fields, readsField, report }: { fields: number[]; readsField: number; report: CsvReport },
): void {
  for (const field of fields) {
    const cell = field < 0 ? "" : cells[field]!;
    if (cell === "" || trimmed(cell) === "") continue;
    const column = report.names[field]!;
    if (field === readsField && wholeNumberOf(trimmed(cell)) === 0) continue;
    report.cell({ record: at, field, value: cell }, readContradictsItself.unread({ column }));
  }
}

/** How often a tag was read; 0 where the cell is blank. */
function readsOf({ cells, at }: CsvRecord, field: number, report: CsvReport): number {
  const text = trimmed(cells[field]!);
  if (text === "") return 0;
  const reads = wholeNumberOf(text);
  if (reads > 0) return reads;
  const problem = reads === 0 ? readContradictsItself.uncounted() : countUnreadable.ofReads();
  report.cell({ record: at, field, value: text }, problem);
  return 0;
}

const mostAntennas = 32_768;

/** Cells that name the antenna which read the tag. */
class AntennaCells {
  readonly #antennas: TextTable;
  readonly #report: CsvReport;

  constructor(antennas: TextTable, report: CsvReport) {
    this.#antennas = antennas;
    this.#report = report;
  }

  /** The number of the antenna; -1 for a blank. */
  read({ cells, at }: CsvRecord, field: number): number {
    const name = trimmed(cells[field]!);
    const antenna = name === "" ? -1 : this.#antennas.idOf(name);
    if (antenna < mostAntennas) return antenna;
    this.#report.cell({ record: at, field, value: name }, antennasTooMany.with({ most: mostAntennas }));
    return -1;
  }
}
