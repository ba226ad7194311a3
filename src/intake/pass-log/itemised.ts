import { Role } from "../../model/pass-log.ts";
import { trimmed, Word, wholeNumberOf, wordOf } from "./cells.ts";
import type { LogContext, LogFile, TakeRecord } from "./log-context.ts";
import { lostPass } from "./pass-book.ts";
import { PassColumns } from "./pass-columns.ts";
import { PassKey } from "./pass-key.ts";
import { RowColumns } from "./row-columns.ts";
import { RssiCells } from "./rssi-cells.ts";
import { TagCells } from "./tag-cells.ts";

/** Reads a log with one row a tag. */
export function itemisedReader(context: LogContext, file: LogFile): TakeRecord {
  const { rows } = context;
  const { fields } = file.header;
  const keys = new PassKey(context, file);
  const passColumns = new PassColumns(context, file);
  const rowColumns = new RowColumns(rows, file.header, file.decimalComma);
  const tags = new TagCells(rows, file.report);
  const rssi = new RssiCells(file);
  const checks = new ReadCells(file);
  const tagField = fields.get("tag")!;
  const presentedField = fields.get("presented") ?? -1;
  const readField = fields.get("read")!;
  const rssiField = fields.get("rssi_dbm") ?? -1;
  const antennaField = fields.get("antenna") ?? -1;
  const readsField = fields.get("reads") ?? -1;

  return (record, ordinal) => {
    const pass = keys.passOf(record, ordinal);
    if (pass !== null) {
      pass.straysRecorded = presentedField >= 0;
      pass.rssiRecorded = rssiField >= 0;
    }
    passColumns.take(pass ?? lostPass("itemised", file.index, ordinal), record, ordinal);
    const presented = presentedField < 0 ? Word.yes : wordOf(record[presentedField]!);
    const read = wordOf(record[readField]!);
    const tag = tags.idOf(record[tagField]!, ordinal, tagField);
    const clear = checks.words(record, ordinal, presented, presentedField, read, readField);
    const rssiCell = rssiField < 0 ? "" : record[rssiField]!;
    const antennaCell = antennaField < 0 ? "" : record[antennaField]!;
    const readsCell = readsField < 0 ? "" : record[readsField]!;
    if (clear && tag < 0 && (presented === Word.yes || read === Word.yes)) checks.blankTag(ordinal, tagField);
    if (clear && read === Word.no) {
      checks.silent(ordinal, rssiCell, rssiField, antennaCell, antennaField, readsCell, readsField);
    }
    if (readsCell !== "" && read === Word.yes) checks.counted(ordinal, readsCell, readsField);
    const strength = read === Word.yes ? rssi.dbmOf(rssiCell, ordinal, rssiField) : rssi.none;
    if (pass === null || !clear) return;

    const row = rows.open(pass.index, ordinal);
    rowColumns.take(row, record);
    if (tag < 0) {
      rows.role[row] = Role.nothing;
      rows.presentations[row] = 0;
      return;
    }
    rows.tag[row] = tag;
    if (presented === Word.no) rows.role[row] = Role.notPresented;
    if (read !== Word.yes) return;
    rows.reads[row] = 1;
    rows.rssiDbm[row] = strength;
    if (antennaCell !== "") {
      const antenna = trimmed(antennaCell);
      if (antenna !== "")
        rows.antenna[row] = checks.antenna(rows.antennas.idOf(antenna), ordinal, antennaField, antenna);
    }
  };
}

/** What the cells of one row say about each other. */
class ReadCells {
  readonly #file: LogFile;

  constructor(file: LogFile) {
    this.#file = file;
  }

  /** Whether both words can be understood. */
  words(
    record: string[],
    ordinal: number,
    presented: Word,
    presentedField: number,
    read: Word,
    readField: number,
  ): boolean {
    if (presented <= Word.yes && read <= Word.yes) return true;
    if (presented > Word.yes) this.#word(ordinal, presentedField, record[presentedField]!, presented);
    if (read > Word.yes) this.#word(ordinal, readField, record[readField]!, read);
    return false;
  }

  #word(ordinal: number, field: number, cell: string, word: Word): void {
    const name = this.#file.report.names[field]!;
    this.#file.report.cell(
      ordinal,
      field,
      word === Word.blank ? "answer-blank" : "answer-unclear",
      cell,
      "yes or no (or y, n, true, false, 1, 0)",
      word === Word.blank
        ? `Fill it in: a blank does not say whether the tag was ${name}.`
        : "Write yes or no.",
    );
  }

  blankTag(ordinal: number, field: number): void {
    this.#file.report.cell(
      ordinal,
      field,
      "tag-blank",
      "",
      "a tag's code; blank only where presented and read are both no",
      "Fill in the code. A pass that presented nothing has one row with a blank tag, presented = no and read = no.",
    );
  }

  /** A tag that was not read has no strength, no antenna and no reads. */
  silent(
    ordinal: number,
    rssi: string,
    rssiField: number,
    antenna: string,
    antennaField: number,
    reads: string,
    readsField: number,
  ): void {
    if (rssi !== "") this.#unread(ordinal, rssiField, rssi);
    if (antenna !== "") this.#unread(ordinal, antennaField, antenna);
    if (reads !== "" && wholeNumberOf(trimmed(reads)) !== 0) this.#unread(ordinal, readsField, reads);
  }

  #unread(ordinal: number, field: number, cell: string): void {
    if (trimmed(cell) === "") return;
    const name = this.#file.report.names[field]!;
    this.#file.report.cell(
      ordinal,
      field,
      "read-contradicts-itself",
      cell,
      `no ${name} where read = no`,
      "Either the tag was read, then write read = yes; or it was not, then leave this blank.",
    );
  }

  counted(ordinal: number, cell: string, field: number): void {
    const text = trimmed(cell);
    if (text === "") return;
    const reads = wholeNumberOf(text);
    if (Number.isNaN(reads)) {
      const expected = "a whole number of reads";
      this.#file.report.cell(
        ordinal,
        field,
        "count-unreadable",
        text,
        expected,
        "Write how often the tag was read.",
      );
    } else if (reads === 0) {
      this.#file.report.cell(
        ordinal,
        field,
        "read-contradicts-itself",
        text,
        "at least 1 where read = yes",
        "Either the tag was read, then write how often or leave this blank; or it was not, then write read = no.",
      );
    }
  }

  antenna(id: number, ordinal: number, field: number, name: string): number {
    if (id <= 32767) return id;
    this.#file.report.cell(
      ordinal,
      field,
      "antennas-too-many",
      name,
      "at most 32768 different antennas",
      "The column seems to hold something other than the antenna's number or name.",
    );
    return -1;
  }
}
