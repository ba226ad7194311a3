import { isSpreadsheetNumber } from "../../codes/canonical-code.ts";
import { Role } from "../../model/pass-log.ts";
import { quoted } from "../quotation.ts";
import { didYouMean } from "../suggestion.ts";
import { codesOf, trimmed } from "./cells.ts";
import type { LogContext, LogFile, TakeRecord } from "./log-context.ts";
import type { Manifest, ManifestRow } from "./manifest.ts";
import { ManifestWalk } from "./manifest-walk.ts";
import { lostPass, type OpenPass } from "./pass-book.ts";
import { keepExtra, PassColumns } from "./pass-columns.ts";
import { PassKey, refuseRepeat } from "./pass-key.ts";
import { RowColumns } from "./row-columns.ts";

/** The word for "looked, and there was none": a blank cell says that nobody looked. */
const none = /^(?:none|-)$/i;
/** What people write instead, or who take the column for a count. */
const notCodes = /^(?:\d{1,2}|no|nil|yes|n\/a)$/i;
/** What stands in a log that was made ready to fill, where nobody filled it in. */
const toFillIn = "?";

/** Reads a log with one row a pass that names a manifest, the tags missed of it, and the strays. */
export function listedReader(context: LogContext, file: LogFile): TakeRecord {
  const { rows } = context;
  const { fields } = file.header;
  const keys = new PassKey(context, file);
  const passColumns = new PassColumns(context, file);
  const rowColumns = new RowColumns(rows, file.header, file.decimalComma);
  const manifestField = fields.get("manifest")!;
  const missedField = fields.get("missed_tags")!;
  const strayField = fields.get("stray_tags") ?? -1;
  const cells = new ListedCells(context, file);
  const walk = new ManifestWalk(context, file);

  return (record, ordinal) => {
    const pass = keys.passOf(record, ordinal);
    if (pass !== null && refuseRepeat(pass, ordinal, file)) return;
    passColumns.take(pass ?? lostPass("listed", file.index, ordinal), record, ordinal);
    const manifest = walk.named(record[manifestField]!, ordinal, manifestField);
    if (manifest === null || manifest.broken) return;
    const missed = cells.codes(record[missedField]!, ordinal, missedField);
    const strayCell = strayField < 0 ? "" : trimmed(record[strayField]!);
    const strays = strayCell === "" ? [] : cells.codes(strayCell, ordinal, strayField);
    const missedRows = cells.missedRows(missed, manifest, ordinal, missedField);
    const heardRows = new Set<ManifestRow>();
    const foreign = cells.foreignCodes(strays, manifest, heardRows, ordinal, strayField);
    if (pass === null) return;

    pass.manifest = manifest.name;
    pass.straysRecorded = strayCell !== "";
    for (const [name, texts] of manifest.extras) for (const text of texts) keepExtra(pass, name, text);
    const first = rows.length;
    for (const item of manifest.rows) {
      // Without a word on strays nobody knows whether a bystander was heard.
      if (!item.presented && !pass.straysRecorded) continue;
      const row = rows.open(pass.index, ordinal);
      rows.tag[row] = item.tag;
      rows.manifestRecord[row] = item.record;
      rows.role[row] = item.presented ? Role.presented : Role.notPresented;
      rows.reads[row] = item.presented ? (missedRows.has(item) ? 0 : 1) : heardRows.has(item) ? 1 : 0;
    }
    const walked = rows.length;
    if (!manifest.rows.some((item) => item.presented)) openNothing(pass, ordinal, context);
    for (const code of foreign) {
      const row = rows.open(pass.index, ordinal);
      rows.tag[row] = rows.tags.idOf(code);
      rows.role[row] = Role.stray;
      rows.reads[row] = 1;
    }
    for (let row = first; row < rows.length; row += 1) rowColumns.take(row, record);
    walk.fill(first, walked, manifest, rowColumns, record, ordinal);
  };
}

export function openNothing(pass: OpenPass, ordinal: number, context: LogContext): void {
  const row = context.rows.open(pass.index, ordinal);
  context.rows.role[row] = Role.nothing;
  context.rows.presentations[row] = 0;
}

class ListedCells {
  readonly #context: LogContext;
  readonly #file: LogFile;

  constructor(context: LogContext, file: LogFile) {
    this.#context = context;
    this.#file = file;
  }

  /** The codes in a cell, each once. */
  codes(cell: string, ordinal: number, field: number): string[] {
    if (none.test(cell.trim())) return [];
    if (cell.trim() === toFillIn) {
      this.#file.report.cell(
        ordinal,
        field,
        "tags-to-fill-in",
        cell,
        "the codes of the tags, or the word none",
        "Nobody filled this in yet: write what was seen, or remove the row if the pass was not walked.",
      );
      return [];
    }
    const codes = codesOf(cell);
    if (codes.length === 1 && notCodes.test(codes[0]!) && this.#context.rows.tags.find(codes[0]!) < 0) {
      this.#file.report.cell(
        ordinal,
        field,
        "tags-not-codes",
        cell,
        "the codes of the tags, or the word none",
        'A listed log names the tags: write their codes, or "none". Logs that only count are of the tally form.',
      );
      return [];
    }
    const distinct = new Set<string>();
    for (const code of codes) {
      if (/[,;|]/.test(code) && !isSpreadsheetNumber(code)) {
        this.#file.report.cell(
          ordinal,
          field,
          "tags-not-parted",
          code,
          "codes parted by blanks",
          "Put blanks between the codes instead of other marks.",
        );
      } else if (isSpreadsheetNumber(code)) {
        this.#file.report.cell(
          ordinal,
          field,
          "tag-in-exponent-notation",
          code,
          "the tag's code in full",
          "A spreadsheet took the code for a number and its digits are lost: import the column as text from the original file.",
        );
      } else if (distinct.has(code)) {
        const advice = "Remove the repetition, or correct the code.";
        this.#file.report.cell(ordinal, field, "tag-twice", code, "each tag once in a pass", advice);
      } else distinct.add(code);
    }
    return [...distinct];
  }

  missedRows(codes: string[], manifest: Manifest, ordinal: number, field: number): Set<ManifestRow> {
    const missed = new Set<ManifestRow>();
    const { tags } = this.#context.rows;
    for (const code of codes) {
      const row = manifest.byTag.get(tags.find(code));
      if (row?.presented) {
        missed.add(row);
        continue;
      }
      const presented = manifest.rows.filter((item) => item.presented).map((item) => tags.texts[item.tag]!);
      this.#file.report.cell(
        ordinal,
        field,
        row === undefined ? "missed-tag-not-on-manifest" : "missed-tag-not-presented",
        code,
        `a tag that manifest ${quoted(manifest.name)} presents`,
        row === undefined
          ? `${didYouMean(code, presented)}Correct the code, or add the tag to the manifest.`
          : "The manifest says the tag was not presented, so it cannot be missed: correct one of the two.",
      );
    }
    return missed;
  }

  /** The codes that the manifest does not know; its bystanders that were heard go into `heard`. */
  foreignCodes(
    codes: string[],
    manifest: Manifest,
    heard: Set<ManifestRow>,
    ordinal: number,
    field: number,
  ): string[] {
    const foreign: string[] = [];
    for (const code of codes) {
      const row = manifest.byTag.get(this.#context.rows.tags.find(code));
      if (row === undefined) foreign.push(code);
      else if (!row.presented) heard.add(row);
      else {
        this.#file.report.cell(
          ordinal,
          field,
          "stray-tag-presented",
          code,
          `a tag that manifest ${quoted(manifest.name)} does not present`,
          "A presented tag is no stray: remove it here, or correct the manifest.",
        );
      }
    }
    return foreign;
  }
}
