import type { ColumnName } from "../../model/facility.ts";
import type { LogDatabase } from "./database/database.ts";
import { headOf, sampleLines } from "./files.ts";
import { itemsOf } from "./items.ts";
import { headBytes, type LogGroup, splitLines } from "./layout.ts";
import type { ColumnTexts } from "./reader-log.ts";
import { columnTypes, parquetTexts } from "./statements.ts";

/** Rows of a log that are looked at. */
const mostRows = 20_000;
/** No code is longer than this. */
const longestCode = 200;
const deepestPath = 8;

/** What a sample of a log holds in the columns that its entry does not take for the code: each text once. */
export async function otherColumns(database: LogDatabase, group: LogGroup): Promise<ColumnTexts[]> {
  const { kind, layout } = group;
  const texts = new Map<ColumnName, Set<string>>();
  const add = (column: ColumnName, text: string) => {
    if (text.trim() === "" || text.length > longestCode) return;
    const known = texts.get(column);
    if (known === undefined) texts.set(column, new Set([text.trim()]));
    else known.add(text.trim());
  };
  if (kind === "parquet") await eachParquetText(database, group, add);
  else if (kind === "delimited") {
    const names = layout.names ?? Array.from({ length: layout.width }, (_, index) => index + 1);
    const lines = await sampleLines(group.files);
    for (const fields of await splitLines(database, lines.slice(0, mostRows), group.delimiter))
      for (const [index, text] of (fields ?? []).entries())
        if (names[index] !== undefined) add(names[index], text);
  } else for (const object of await objectsOf(group)) eachText(object, add);
  const codes = new Set(layout.columns.epc.map((column) => nameOf(group, column)));
  return [...texts].flatMap(([column, found]) => (codes.has(column) ? [] : [{ column, texts: [...found] }]));
}

/** A column as an entry would name it. */
export function nameOf({ kind, layout }: LogGroup, column: ColumnName): ColumnName {
  return kind === "delimited" && typeof column === "number" ? (layout.names?.[column - 1] ?? column) : column;
}

type Add = (column: ColumnName, text: string) => void;

async function eachParquetText(database: LogDatabase, { files }: LogGroup, add: Add): Promise<void> {
  const [file] = files;
  const columns = await database.rows<{ name: string; type: string }>(columnTypes(file!.place));
  const rows = await database.rows<{ fields: string[] }>(parquetTexts(files, columns, mostRows));
  for (const { fields } of rows)
    for (const [index, text] of fields.entries()) add(columns[index]!.name, text);
}

/** The texts and numbers of an object with their paths; lists are passed over. */
function eachText(object: unknown, add: Add, path: readonly string[] = []): void {
  if (typeof object === "string" || typeof object === "number") add(path.join("."), String(object));
  else if (
    typeof object === "object" &&
    object !== null &&
    !Array.isArray(object) &&
    path.length < deepestPath
  )
    for (const [key, value] of Object.entries(object)) eachText(value, add, [...path, key]);
}

/** The objects at the beginning of a log of JSON lines or items. */
export async function objectsOf(group: LogGroup): Promise<object[]> {
  return (await objectTexts(group)).flatMap((text) => {
    try {
      const object: unknown = JSON.parse(text);
      return typeof object === "object" && object !== null ? [object] : [];
    } catch {
      // What is not JSON is refused where the rows are read.
      return [];
    }
  });
}

async function objectTexts(group: LogGroup): Promise<string[]> {
  if (group.kind === "items") return firstItems(group);
  const texts: string[] = [];
  for (const file of group.files) {
    const { bytes } = await headOf(file, headBytes);
    texts.push(...bytes.toString("utf8").split(/\r\n|\n|\r/, mostRows - texts.length));
  }
  return texts;
}

/** The first items of logs that are read item by item, each as a JSON object. */
export async function firstItems({ files }: LogGroup): Promise<string[]> {
  const texts: string[] = [];
  for (const file of files) {
    for await (const items of itemsOf(file)) {
      for (const { text } of items) texts.push(text);
      if (texts.length >= mostRows) return texts;
    }
  }
  return texts;
}
