import type { InputFile } from "../../model/result.ts";
import { reservedColumns } from "../log-columns.ts";
import { quoted } from "../quotation.ts";
import { trimmed, Word, wordOf } from "./cells.ts";
import type { CsvReporter } from "./csv-reporter.ts";
import { type Header, readHeader, remarkOnExtras } from "./header.ts";
import { RowColumns } from "./row-columns.ts";
import type { RowStore } from "./row-store.ts";
import { TagCells } from "./tag-cells.ts";
import type { Vocabulary } from "./vocabulary.ts";

export interface ManifestRow {
  /** Index into the table of tags. */
  tag: number;
  presented: boolean;
  record: number;
  /** By the manifest's stored columns; -1 for a blank. */
  texts: number[];
}

/** A load, listed once and walked many times. */
export interface Manifest {
  name: string;
  path: string;
  report: CsvReporter;
  rows: ManifestRow[];
  byTag: Map<number, ManifestRow>;
  header: Header | null;
  /** Which stored columns it has, by name. */
  columns: Map<string, number>;
  /** Undeclared columns with the distinct texts in them. */
  extras: Map<string, Set<string>>;
  hasBystanders: boolean;
  /** Nothing can be said about passes that walk it. */
  broken: boolean;
  /** Passes that walk it: valid ones, void ones. */
  walked: { valid: number; void: number };
  input: InputFile;
}

/** Collects one manifest, record by record. */
export class ManifestReader {
  readonly manifest: Manifest;
  readonly #store: RowStore;
  readonly #vocabulary: Vocabulary;
  readonly #report: CsvReporter;
  readonly #tags: TagCells;
  #columns: RowColumns | null = null;

  constructor(manifest: Manifest, store: RowStore, vocabulary: Vocabulary) {
    this.manifest = manifest;
    this.#store = store;
    this.#vocabulary = vocabulary;
    this.#report = manifest.report;
    this.#tags = new TagCells(store, manifest.report);
  }

  /** False where the header makes the rest unreadable. */
  header(cells: string[], ordinal: number, decimalComma: boolean): Header | null {
    const header = readHeader(cells, ordinal, ["tag", "presented"], this.#vocabulary, this.#report);
    for (const { name, field } of header.extras) {
      if (!reservedColumns.has(name)) continue;
      this.#report.error(
        ordinal,
        field,
        "column-of-another-form",
        `the column ${quoted(name)}`,
        "tag, presented, and what describes the tags",
        "A manifest lists a load; what happened in a pass belongs in the pass log.",
      );
    }
    header.extras = header.extras.filter(({ name }) => !reservedColumns.has(name));
    remarkOnExtras(header, "manifest", this.#report);
    this.manifest.header = header;
    if (!header.fields.has("tag")) {
      const expected = "tag, which a manifest needs";
      const near = header.extras
        .map(({ name }) => name)
        .find((name) => /^(tags?|epcs?|codes?|uii|ids?)$/i.test(name));
      const advice = near === undefined ? "Add the column." : `Is ${quoted(near)} meant? Then call it "tag".`;
      this.#report.error(ordinal, null, "column-missing", 'no column "tag"', expected, advice);
      return null;
    }
    this.#columns = new RowColumns(this.#store, header, decimalComma);
    this.#columns.columns.forEach((column, i) => {
      this.manifest.columns.set(column.name, i);
    });
    return header;
  }

  row(record: string[], ordinal: number): void {
    const columns = this.#columns;
    const { header } = this.manifest;
    if (columns === null || header === null) return;
    const tagField = header.fields.get("tag")!;
    const tag = this.#tags.idOf(record[tagField]!, ordinal, tagField);
    const presented = this.#presented(record, ordinal, header);
    for (const { name, field } of header.extras) {
      const text = trimmed(record[field]!);
      if (text === "") continue;
      const texts = this.manifest.extras.get(name);
      if (texts === undefined) this.manifest.extras.set(name, new Set([text]));
      else texts.add(text);
    }
    if (tag < 0) {
      const advice = "Fill in the code, or remove the row.";
      this.#report.cell(ordinal, tagField, "tag-blank", "", "a tag's code in every row", advice);
      return;
    }
    const code = this.#store.tags.texts[tag]!;
    if (/\s/.test(code)) {
      this.#report.cell(
        ordinal,
        tagField,
        "tag-with-blanks",
        code,
        "a code without blanks",
        "Pass logs name the tags of a manifest with blanks between them: write the code without any.",
      );
    }
    if (this.manifest.byTag.has(tag)) {
      this.#report.cell(
        ordinal,
        tagField,
        "tag-twice",
        code,
        "each tag once in a manifest",
        "The code already stands in an earlier row: remove one, or correct the code.",
      );
      return;
    }
    const row: ManifestRow = {
      tag,
      presented,
      record: ordinal,
      texts: columns.columns.map((_, i) => columns.idOf(i, record)),
    };
    this.manifest.rows.push(row);
    this.manifest.byTag.set(tag, row);
    if (!presented) this.manifest.hasBystanders = true;
  }

  #presented(record: string[], ordinal: number, header: Header): boolean {
    const field = header.fields.get("presented");
    if (field === undefined) return true;
    const word = wordOf(record[field]!);
    if (word <= Word.yes) return word === Word.yes;
    this.#report.cell(
      ordinal,
      field,
      word === Word.blank ? "answer-blank" : "answer-unclear",
      record[field]!,
      "yes or no (or y, n, true, false, 1, 0)",
      "Write yes for a tag of the load, no for one placed near by that must not be read.",
    );
    return true;
  }
}
