import { isSpreadsheetNumber } from "../../../codes/canonical-code.ts";
import { Role } from "../../../model/pass-log.ts";
import { codesOf, trimmed } from "../../csv/cells.ts";
import type { CsvRecord } from "../../csv/records.ts";
import {
  missedTagNotOnManifest,
  missedTagNotPresented,
  strayTagPresented,
  tagInExponentNotation,
  tagsNotCodes,
  tagsNotParted,
  tagsToFillIn,
  tagTwice,
} from "../../problems/pass-log.ts";
import { ConditionCells } from "../rows/cells.ts";
import { type LogForm, type OpenLog, type RecordReader, unknownLoad } from "../rows/log-form.ts";
import { type Manifest, type ManifestItem, manifestRows, namedManifest } from "../rows/manifest.ts";
import { unreadTag } from "../rows/table.ts";

/** A row a pass, which names a manifest, the tags missed of it, and the strays. */
export const listed: LogForm = {
  id: "listed",
  name: "a listed log",
  summary: "listed (manifest, missed_tags), one row a pass",
  columns: ["manifest", "missed_tags", "stray_tags"],
  needed: ["manifest", "missed_tags"],
  marks: ["manifest", "missed_tags"],
  isRowAPass: true,
  namesTags: true,
  readsFrom: "pass-log",
  foreignAdvice: () => "One row stands for a whole pass here: remove the column, or log the pass itemised.",
  otherwise: (column, { fields }) =>
    column === "missed_tags" && ["manifest", "started_at", "ended_at"].every((name) => fields.has(name))
      ? "where the reader's own log tells which tags were read, name that log under reader_logs in facility.yaml."
      : null,
  open: listedReader,
};

function listedReader(log: OpenLog): RecordReader {
  const { file, table, manifests } = log;
  const { header, report } = file;
  const manifestField = header.fields.get("manifest")!;
  const missedField = header.fields.get("missed_tags")!;
  const strayField = header.fields.get("stray_tags");
  const conditions = new ConditionCells(table, header, file.sheet.decimalComma);
  const cells = new TagLists(log);

  return (record) => {
    const manifest = namedManifest(record, manifestField, { manifests, report });
    const straysRecorded = strayField !== undefined && trimmed(record.cells[strayField]!) !== "";
    if (manifest === null || manifest.broken) {
      cells.codes(record, missedField);
      if (straysRecorded) cells.codes(record, strayField);
      return unknownLoad(conditions.read(record), straysRecorded);
    }
    const missed = cells.missed(record, missedField, manifest);
    const strays = straysRecorded ? cells.strays(record, strayField, manifest) : noStrays;
    const texts = conditions.read(record);
    // Without a word on strays nobody knows whether a bystander was read.
    const isRead = (item: ManifestItem) => (item.presented ? !missed.has(item) : strays.bystanders.has(item));
    const load = { manifest, record, texts, withBystanders: straysRecorded, isRead };
    const rows = manifestRows(load, table, file);
    for (const code of strays.unlisted) {
      rows.push({ ...unreadTag(table.tags.idOf(code), Role.stray, texts), tagsRead: 1 });
    }
    const isMissedBlank = trimmed(record.cells[missedField]!) === "";
    return { rows, straysRecorded, tallyStrays: null, rssiRecorded: false, isMissedBlank, manifest };
  };
}

interface Strays {
  /** Those that the manifest lists as not presented. */
  bystanders: ReadonlySet<ManifestItem>;
  /** Codes that it does not list. */
  unlisted: string[];
}

const noStrays: Strays = { bystanders: new Set(), unlisted: [] };

/** The word for "looked, and there was none": a blank cell says that nobody looked. */
const none = /^(?:none|-)$/i;
/** What people write instead, or who take the column for a count. */
const notCodes = /^(?:\d{1,2}|no|nil|yes|n\/a)$/i;
/** What stands in a log that was made ready to fill, where nobody filled it in. */
const toFillIn = "?";

/** Cells that list the codes of tags. */
class TagLists {
  readonly #log: OpenLog;

  constructor(log: OpenLog) {
    this.#log = log;
  }

  missed(record: CsvRecord, field: number, manifest: Manifest): Set<ManifestItem> {
    const missed = new Set<ManifestItem>();
    const { table, file } = this.#log;
    const { name } = manifest;
    for (const code of this.codes(record, field)) {
      const item = manifest.items.get(table.tags.find(code));
      const place = { record: record.at, field, value: code };
      if (item === undefined) {
        file.report.cell(place, missedTagNotOnManifest.with({ manifest: name }));
      } else if (item.presented) missed.add(item);
      else file.report.cell(place, missedTagNotPresented.with({ manifest: name }));
    }
    return missed;
  }

  strays(record: CsvRecord, field: number, manifest: Manifest): Strays {
    const bystanders = new Set<ManifestItem>();
    const unlisted: string[] = [];
    const { table, file } = this.#log;
    for (const code of this.codes(record, field)) {
      const item = manifest.items.get(table.tags.find(code));
      if (item === undefined) unlisted.push(code);
      else if (!item.presented) bystanders.add(item);
      else {
        const place = { record: record.at, field, value: code };
        file.report.cell(place, strayTagPresented.with({ manifest: manifest.name }));
      }
    }
    return { bystanders, unlisted };
  }

  /** The codes in a cell, each once. */
  codes({ cells, at }: CsvRecord, field: number): Set<string> {
    const { file, table } = this.#log;
    const text = trimmed(cells[field]!);
    const place = { record: at, field };
    const distinct = new Set<string>();
    if (none.test(text)) return distinct;
    const codes = codesOf(text);
    if (text === toFillIn) file.report.cell({ ...place, value: text }, tagsToFillIn);
    else if (codes.length === 1 && notCodes.test(text) && table.tags.find(text) < 0) {
      file.report.cell({ ...place, value: text }, tagsNotCodes);
    } else {
      for (const code of codes) {
        const problem = problemOf(code, distinct);
        if (problem === null) distinct.add(code);
        else file.report.cell({ ...place, value: code }, problem);
      }
    }
    return distinct;
  }
}

function problemOf(code: string, earlier: ReadonlySet<string>) {
  if (isSpreadsheetNumber(code)) return tagInExponentNotation;
  if (/[,;|]/.test(code)) return tagsNotParted;
  return earlier.has(code) ? tagTwice.inCell() : null;
}
