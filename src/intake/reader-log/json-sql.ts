import type { ProblemList } from "../problem-list.ts";
import { missingColumn } from "./delimited-layout.ts";
import { isRow, lineScan } from "./delimited-sql.ts";
import type { LogDatabase } from "./log-database.ts";
import { type Asked, askedColumns, type LogLayout, type LogSource } from "./log-source.ts";
import { valuesOfText } from "./row-sql.ts";
import { literal } from "./sql-text.ts";

/** Rows looked at for the names of keys. */
const rowsLookedAt = 10_000;

/** The keys of a log of JSON lines; null where one that is asked for is in none of the first lines. */
export async function jsonLayout(
  database: LogDatabase,
  source: LogSource,
  problems: ProblemList,
): Promise<LogLayout | null> {
  const asked = askedColumns(source.spec);
  const keys = await database.rows<{ key: string }>(
    `SELECT DISTINCT unnest(json_keys(line)) AS key FROM (SELECT line FROM ${lineScan(source, "dropped")}
      WHERE ${isRow("line", [])} LIMIT ${rowsLookedAt}) WHERE json_valid(line) ORDER BY key`,
    { place: source.place },
  );
  const names = keys.map(({ key }) => key);
  let isSound = true;
  for (const [role, name] of Object.entries(asked)) {
    if (
      name === null ||
      (typeof name === "string" &&
        (names.length === 0 || names.includes(name) || names.includes(name.split(".")[0]!)))
    )
      continue;
    isSound = false;
    problems.add(source.path, null, missingColumn(role, name, names, names.length));
  }
  if (!isSound) return null;
  return {
    width: 0,
    noRows: [],
    skip: 0,
    columns: asked as Record<Asked, string | null>,
    rest: [],
    types: new Map(),
  };
}

/** Each line an object; a name with dots finds a key of that name, or else the path it spells. */
export function jsonRows(source: LogSource, layout: LogLayout, from: string): string {
  const { columns } = layout;
  const text = (name: number | string | null) => {
    if (name === null) return "''";
    const keys = [[String(name)], ...(String(name).includes(".") ? [String(name).split(".")] : [])];
    const each = keys.map((parts) => `json_extract_string(object, ${pathOf(parts)})`);
    return `trim(coalesce(${each.join(", ")}, ''))`;
  };
  const type = [[String(columns.epc)], String(columns.epc).split(".")].map(
    (parts) => `json_type(object, ${pathOf(parts)})`,
  );
  return `SELECT *, ${valuesOfText(source)} FROM (SELECT text,
      CASE WHEN object IS NULL OR json_type(object) <> 'OBJECT' THEN 'json'
        WHEN coalesce(${type.join(", ")}) IN ('DOUBLE', 'HUGEINT') THEN 'code-number' END AS fault,
      ${text(columns.reader)} AS reader, ${text(columns.epc)} AS epc, ${text(columns.antenna)} AS antenna,
      ${text(columns.time)} AS time_text, ${text(columns.rssi)} AS rssi_text, ${text(columns.count)} AS count_text,
      hash(text) AS rest
    FROM (SELECT text, CASE WHEN json_valid(text) THEN text END AS object
      FROM (SELECT line AS text FROM ${from} WHERE ${isRow("line", [])})))`;
}

function pathOf(keys: readonly string[]): string {
  return literal(`$${keys.map((key) => `."${key.replace(/["\\]/g, "\\$&")}"`).join("")}`);
}
