import { trimmed } from "../csv/cells.ts";
import type { CsvRecord } from "../csv/records.ts";
import type { Sheet } from "../csv/sheet.ts";
import { folded, nearMiss } from "../problems/card/wording.ts";
import {
  columnDuplicate,
  columnMisspelt,
  columnReadAs,
  columnUndeclared,
  columnUnit,
} from "../problems/csv-file.ts";
import type { CsvReport } from "../problems/reports.ts";
import { bareName, rankOfWord } from "./column-words.ts";
import type { DeclaredColumns } from "./declared-columns.ts";
import { type Look, lookOf } from "./looks.ts";

export interface Header {
  /** The place of its record. */
  at: number;
  /** Fields that a record must have; blank ones at the end are not counted. */
  width: number;
  /** Field by column name. */
  fields: Map<string, number>;
  /** Columns that nobody declared. */
  extras: ExtraColumn[];
}

interface ExtraColumn {
  name: string;
  field: number;
  /** What its first values look like; null where they look like nothing in particular. */
  look: Look | null;
}

/** What the columns of a file may mean. */
export interface ColumnMeanings {
  /** Columns that the tool itself reads. */
  own: readonly string[];
  declared: DeclaredColumns;
  /** Whether the words for a column may stand for it beside columns that were recognised by their own names. */
  fits?(column: string, recognised: ReadonlySet<string>): boolean;
}

/**
 * Finds and reads the header of a table; null, with the reason reported, where there is none.
 */
export async function openHeader(sheet: Sheet, meanings: ColumnMeanings): Promise<Header | null> {
  const first = await sheet.header((record) => looksLikeHeader(record, meanings, 2));
  return first === null ? null : readHeader(first, meanings, sheet);
}

/** Whether a record names columns rather than holding values, `fewest` of them or more: what stands above such a line is a title. */
export function looksLikeHeader({ cells }: CsvRecord, meanings: ColumnMeanings, fewest: number): boolean {
  return new Set(meantColumns(cells.map(trimmed), meanings).values()).size >= fewest;
}

/**
 * Reads a header. A column under another of its usual names is read as what it is, with one remark for all of them. A name that
 * is only nearly right is objected to and then taken as what it was meant to be, so that one slip does not bring a hundred
 * others with it.
 */
export function readHeader(
  { cells, at }: CsvRecord,
  meanings: ColumnMeanings,
  { sample, report }: Sheet,
): Header {
  const names = cells.map(trimmed);
  while (names.at(-1) === "") names.pop();
  report.names = names;
  const meant = meantColumns(names, meanings);
  const header: Header = { at, width: names.length, fields: new Map(), extras: [] };
  const misspelt = suggester(names, new Set(meant.values()), meanings);
  const extras = new Map<string, number>();
  const renamed: { written: string; name: string; field: number }[] = [];
  for (const [field, written] of names.entries()) {
    const place = { record: at, field };
    // A column without a name is objected to once something stands in it.
    if (written === "") continue;
    const name = meant.get(field) ?? misspelt(written, place, report);
    if (meant.has(field) && name !== written) renamed.push({ written, name: name!, field });
    const fields = name === null ? extras : header.fields;
    const first = fields.get(name ?? written);
    if (first !== undefined) report.at(place, columnDuplicate.with({ name: written, first: first + 1 }));
    else fields.set(name ?? written, field);
  }
  if (renamed.length > 0) report.at({ record: at, field: renamed[0]!.field }, columnReadAs.with({ renamed }));
  header.extras = [...extras].map(([name, field]) => ({ name, field, look: lookOf(field, sample) }));
  return header;
}

/** By field: the column that its name stands for, where it is known by this name. */
function meantColumns(names: readonly string[], meanings: ColumnMeanings): Map<number, string> {
  const { own, declared, fits = () => true } = meanings;
  const known = new Set([...own, ...declared.names]);
  const meant = new Map<number, string>();
  const taken = new Set<string>();
  const take = (field: number, column: string) => {
    meant.set(field, column);
    taken.add(column);
  };
  for (const [field, name] of names.entries()) if (known.has(name)) take(field, name);
  const byBareName = new Map([
    ...declared.labels,
    ...[...known].map((name) => [bareName(name), name] as const),
  ]);
  for (const [field, name] of names.entries()) {
    const column = meant.has(field) ? undefined : byBareName.get(bareName(name));
    if (column !== undefined && known.has(column)) take(field, column);
  }
  const recognised = new Set(taken);
  for (const column of own) {
    if (taken.has(column) || !fits(column, recognised)) continue;
    const best = bestWord(column, names, meant);
    if (best !== null) take(best, column);
  }
  return meant;
}

/** The field whose name is the best of the words for a column; null where there is none. */
function bestWord(
  column: string,
  names: readonly string[],
  meant: ReadonlyMap<number, string>,
): number | null {
  let best: { field: number; rank: number } | null = null;
  for (const [field, name] of names.entries()) {
    if (meant.has(field)) continue;
    const word = bareName(name);
    // A column whose name carries its unit may be named by the word and the unit, too.
    const rank = rankOfWord(word, column) ?? rankOfWord(word.replace(/dbm$/, ""), column);
    if (rank !== null && (best === null || rank < best.rank)) best = { field, rank };
  }
  return best?.field ?? null;
}

/** Says, with an objection, which known column a name is meant to be; null where it resembles none that is missing. */
function suggester(names: readonly string[], taken: ReadonlySet<string>, { own, declared }: ColumnMeanings) {
  const known = [...own, ...declared.names];
  const missing = known.filter((name) => !names.includes(name) && !taken.has(name));
  return (written: string, place: { record: number; field: number }, report: CsvReport): string | null => {
    const word = folded(written);
    const stem = bareName(written.replace(/[([{].*$/, ""));
    const hasUnit = /[([{/]/.test(written);
    for (const [name, unit] of declared.withUnit) {
      if (!missing.includes(name)) continue;
      const label = [...declared.labels].find(([, column]) => column === name)?.[0] ?? "";
      const isStem = [bareName(name), label].some((bare) => stem !== "" && bare === stem + bareName(unit));
      if (hasUnit && isStem) {
        report.at(place, columnUnit.with({ written, name, unit }));
        return name;
      }
      if (!isStem && !folded(name).startsWith(`${word}_`)) continue;
      report.at(place, columnMisspelt.with({ written, meant: name }));
      return name;
    }
    const near = nearMiss(written, missing);
    if (near !== null) report.at(place, columnMisspelt.with({ written, meant: near }));
    return near;
  };
}

/**
 * Remarks on the columns that nobody declared; asks about one whose values look like what the file lacks.
 *
 * @param file what it is: `pass log`
 * @param possible the columns that it may have
 */
export function remarkOnExtras(
  { at, extras, fields }: Header,
  { file, possible }: { file: string; possible: readonly string[] },
  report: CsvReport,
): void {
  for (const { name, field, look } of extras) {
    const wanted = look?.columns.filter((column) => possible.includes(column) && !fields.has(column)) ?? [];
    report.at(
      { record: at, field },
      look === null || wanted.length === 0
        ? columnUndeclared.with({ name, file })
        : columnUndeclared.likeAnother({ name, look: look.values, example: look.example, wanted }),
    );
  }
}

/** The text of a column in a record; blank where the table has no such column. */
export function cellOf({ fields }: Header, column: string): (record: CsvRecord) => string {
  const field = fields.get(column);
  return field === undefined ? () => "" : ({ cells }) => trimmed(cells[field]!);
}

/** The undeclared columns whose values look like those of a column. */
export function extrasLike(column: string, { extras }: Header): string[] {
  return extras.filter(({ look }) => look?.columns.includes(column)).map(({ name }) => name);
}
