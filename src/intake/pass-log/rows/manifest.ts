import { Role } from "../../../model/pass-log.ts";
import { Answer, answerOf, trimmed } from "../../csv/cells.ts";
import type { CsvRecord } from "../../csv/records.ts";
import type { Sheet } from "../../csv/sheet.ts";
import { columnMissing, columnOfAnotherForm } from "../../problems/csv-file.ts";
import {
  answerBlank,
  answerUnclear,
  conditionStatedTwice,
  manifestBlank,
  manifestUnknown,
  tagBlank,
  tagTwice,
  tagWithBlanks,
} from "../../problems/pass-log.ts";
import type { ProblemList } from "../../problems/problem-list.ts";
import type { CsvReport } from "../../problems/reports.ts";
import type { DeclaredColumns } from "../../tables/declared-columns.ts";
import {
  type ColumnMeanings,
  extrasLike,
  type Header,
  looksLikeHeader,
  readHeader,
  remarkOnExtras,
} from "../../tables/header.ts";
import { openSheet } from "../../tables/open-sheet.ts";
import { ConditionCells, TagCells } from "./cells.ts";
import { type ColumnTable, type Row, unreadTag } from "./table.ts";

/** A load, listed once and walked many times. */
export interface Manifest {
  name: string;
  sheet: Sheet;
  /** Null where the file is empty, or has no usable header. */
  header: Header | null;
  /** Whether it could not be read: then nothing can be said about passes that walk it. */
  broken: boolean;
  /** By number of the tag. */
  items: ReadonlyMap<number, ManifestItem>;
  /** Those that a pass presents; the others are bystanders. */
  presented: readonly ManifestItem[];
  /** Undeclared columns with the distinct texts in them. */
  extras: ReadonlyMap<string, ReadonlySet<string>>;
}

/** One tag of a load. */
export interface ManifestItem {
  tag: number;
  presented: boolean;
  /** Byte at which its record starts. */
  at: number;
  /** By column of the table: the number of the text; -1 for a blank. */
  texts: readonly number[];
}

/** What manifests are read with. */
export interface ManifestReading {
  table: ColumnTable;
  declared: DeclaredColumns;
  /** Columns that pass logs have, which a manifest cannot have. */
  reserved: ReadonlySet<string>;
  problems: ProblemList;
}

/** Reads one manifest. */
export async function readManifest(
  file: { name: string; path: string; onDisk: string; sheet: string | null },
  { table, declared, reserved, problems }: ManifestReading,
): Promise<Manifest> {
  const sheet = openSheet({ ...file, rowsAre: "tags" }, problems);
  const items = new Map<number, ManifestItem>();
  const extras = new Map<string, Set<string>>();
  const meanings = { own: ["tag", "presented"], declared };
  const first = await sheet.header((record) => looksLikeHeader(record, meanings, 1));
  const header = first === null ? null : manifestHeader(first, { ...meanings, reserved }, sheet);
  if (header === null) await sheet.skipRows();
  else {
    const reader = new ItemReader(sheet, header, table);
    for await (const records of sheet.rows(header.width)) {
      for (const record of records) {
        keepExtras(extras, header, record);
        const item = reader.read(record, items);
        if (item !== null) items.set(item.tag, item);
      }
    }
  }
  return {
    name: file.name,
    sheet,
    header,
    broken: sheet.isFaulty || (first !== null && header === null),
    items,
    presented: [...items.values()].filter((item) => item.presented),
    extras,
  };
}

/** Null where the header makes the rest unreadable. */
function manifestHeader(
  first: CsvRecord,
  meanings: ColumnMeanings & { reserved: ReadonlySet<string> },
  sheet: Sheet,
): Header | null {
  const { report } = sheet;
  const { reserved } = meanings;
  const header = readHeader(first, meanings, sheet);
  for (const { name, field } of header.extras) {
    if (reserved.has(name)) report.at({ record: first.at, field }, columnOfAnotherForm.inManifest({ name }));
  }
  header.extras = header.extras.filter(({ name }) => !reserved.has(name));
  remarkOnExtras(header, { file: "manifest", possible: meanings.own }, report);
  if (header.fields.has("tag")) return header;
  const names = header.extras.map(({ name }) => name);
  const near =
    extrasLike("tag", header)[0] ?? names.find((name) => /^(?:tags|epcs|codes|ids?)$/i.test(name)) ?? null;
  report.at({ record: first.at, field: null }, columnMissing.tags({ near }));
  return null;
}

class ItemReader {
  readonly #report: CsvReport;
  readonly #table: ColumnTable;
  readonly #tags: TagCells;
  readonly #conditions: ConditionCells;
  readonly #tagField: number;
  readonly #presentedField: number | undefined;

  constructor({ report, decimalComma }: Sheet, header: Header, table: ColumnTable) {
    this.#report = report;
    this.#table = table;
    this.#tags = new TagCells(table.tags, report);
    this.#conditions = new ConditionCells(table, header, decimalComma);
    this.#tagField = header.fields.get("tag")!;
    this.#presentedField = header.fields.get("presented");
  }

  /** Null, with the reason reported, where the record adds no tag to the others. */
  read(record: CsvRecord, others: ReadonlyMap<number, ManifestItem>): ManifestItem | null {
    const tag = this.#tags.read(record, this.#tagField);
    const presented = this.#presented(record);
    const place = { record: record.at, field: this.#tagField };
    if (tag < 0) {
      this.#report.cell({ ...place, value: "" }, tagBlank.inManifest());
      return null;
    }
    const code = this.#table.tags.texts[tag]!;
    if (/\s/.test(code)) this.#report.cell({ ...place, value: code }, tagWithBlanks);
    if (others.has(tag)) {
      this.#report.cell({ ...place, value: code }, tagTwice.inManifest());
      return null;
    }
    return { tag, presented, at: record.at, texts: this.#conditions.read(record) };
  }

  #presented({ cells, at }: CsvRecord): boolean {
    const field = this.#presentedField;
    if (field === undefined) return true;
    const answer = answerOf(cells[field]!);
    if (answer <= Answer.yes) return answer === Answer.yes;
    const problem = answer === Answer.blank ? answerBlank : answerUnclear;
    this.#report.cell({ record: at, field, value: cells[field]! }, problem.inManifest());
    return true;
  }
}

function keepExtras(extras: Map<string, Set<string>>, header: Header, { cells }: CsvRecord): void {
  for (const { name, field } of header.extras) {
    const text = trimmed(cells[field]!);
    if (text === "") continue;
    const texts = extras.get(name);
    if (texts === undefined) extras.set(name, new Set([text]));
    else texts.add(text);
  }
}

/** The manifest that a record names; null, with the reason reported, where there is none. */
export function namedManifest(
  { cells, at }: CsvRecord,
  field: number,
  { manifests, report }: { manifests: ReadonlyMap<string, Manifest>; report: CsvReport },
): Manifest | null {
  const name = trimmed(cells[field]!);
  const manifest = manifests.get(name) ?? manifests.get(name.replace(/\.(?:csv|xlsx)$/i, ""));
  if (manifest !== undefined) return manifest;
  const known = [...manifests.keys()];
  const place = { record: at, field, value: name };
  report.cell(place, name === "" ? manifestBlank.with({ known }) : manifestUnknown.with({ name, known }));
  return null;
}

/** What a record says of the load that was walked. */
export interface WalkedLoad {
  manifest: Manifest;
  record: CsvRecord;
  /** What the log says of the conditions, by column of the table. */
  texts: readonly number[];
  /** Whether bystanders can be counted. */
  withBystanders: boolean;
  isRead(item: ManifestItem): boolean;
}

/** The pass log that names a manifest. */
interface Log {
  header: Header;
  report: CsvReport;
}

/** The rows of a pass that walks a manifest: a row a tag, or one that says that nothing was presented. */
export function manifestRows(load: WalkedLoad, table: ColumnTable, log: Log): Row[] {
  const { manifest, texts, withBystanders, isRead } = load;
  const items = [...manifest.items.values()].filter((item) => item.presented || withBystanders);
  checkStatedOnce({ ...load, items }, table, log);
  const rows = items.map((item): Row => {
    const role = item.presented ? Role.presented : Role.notPresented;
    const own = texts.map((id, column) => (id >= 0 ? id : item.texts[column]!));
    return { ...unreadTag(item.tag, role, own), tagsRead: isRead(item) ? 1 : 0 };
  });
  if (manifest.presented.length > 0) return rows;
  return [...rows, { ...unreadTag(-1, Role.nothing, texts), presentations: 0 }];
}

/** A condition is stated in one place, the log or the manifest. */
function checkStatedOnce(
  { items, manifest, record, texts }: WalkedLoad & { items: readonly ManifestItem[] },
  table: ColumnTable,
  { header, report }: Log,
): void {
  for (const [c, column] of table.columns.entries()) {
    if (texts[c]! < 0) continue;
    const item = items.find((each) => each.texts[c]! >= 0);
    if (item === undefined) continue;
    const place = { record: record.at, field: header.fields.get(column.name)! };
    report.cell(
      { ...place, value: column.texts.texts[texts[c]!]! },
      conditionStatedTwice.with({
        path: manifest.sheet.path,
        text: column.texts.texts[item.texts[c]!]!,
      }),
    );
  }
}
