import type { ProblemList } from "../problem-list.ts";
import { missingColumn } from "./delimited-layout.ts";
import type { LogDatabase } from "./log-database.ts";
import { type Asked, askedColumns, type LogLayout, type LogSource } from "./log-source.ts";
import { momentColumn } from "./reader-log-problems.ts";
import { restHash } from "./row-sql.ts";
import { identifier } from "./sql-text.ts";
import { cast, columnType } from "./value-sql.ts";

/** The columns of a Parquet log and their types; null where one that is asked for is not there. */
export async function parquetLayout(
  database: LogDatabase,
  source: LogSource,
  problems: ProblemList,
): Promise<LogLayout | null> {
  const asked = askedColumns(source.spec);
  const described = await database.rows<{ column_name: string; column_type: string }>(
    "DESCRIBE SELECT * FROM read_parquet($place)",
    { place: source.place },
  );
  const types = new Map(described.map((each) => [each.column_name, each.column_type]));
  const names = [...types.keys()];
  let isSound = true;
  for (const [role, name] of Object.entries(asked)) {
    if (name === null || (typeof name === "string" && types.has(name))) continue;
    isSound = false;
    problems.add(source.path, null, missingColumn(role, name, names, names.length));
  }
  const timeType = types.get(String(asked.time)) ?? "";
  if (isSound && timeType.startsWith("TIMESTAMP") && source.spec.time.unit !== "iso") {
    isSound = false;
    problems.add(source.path, null, momentColumn(String(asked.time), source.spec.time.unit));
  }
  if (!isSound) return null;
  const used = new Set<string | number | null>(Object.values(asked));
  return {
    width: names.length,
    noRows: [],
    skip: 0,
    columns: asked as Record<Asked, string | null>,
    rest: names.filter((name) => !used.has(name)),
    types,
  };
}

/** Values by their own types where a type says more than its text. */
export function parquetRows(source: LogSource, layout: LogLayout): string {
  const { spec } = source;
  const { columns, types, rest } = layout;
  const text = (name: number | string | null) => {
    if (name === null) return "''";
    const column = identifier(String(name));
    return types.get(String(name)) === "BLOB"
      ? `coalesce(hex(${column}), '')`
      : `coalesce(trim(CAST(${column} AS VARCHAR)), '')`;
  };
  const value = (role: "time" | "rssi" | "count") => {
    const name = columns[role];
    if (name === null) return `NULL::${columnType(role, spec)}`;
    const isText = types.get(String(name)) === "VARCHAR";
    const type = columnType(role, spec);
    return isText || type === "VARCHAR"
      ? cast(text(name), type, spec.decimal)
      : `TRY_CAST(${identifier(String(name))} AS ${type})`;
  };
  return `SELECT 'row ' || (file_row_number + 1) AS text, NULL::VARCHAR AS fault,
      ${text(columns.reader)} AS reader, ${text(columns.epc)} AS epc, ${text(columns.antenna)} AS antenna,
      ${text(columns.time)} AS time_text, ${text(columns.rssi)} AS rssi_text, ${text(columns.count)} AS count_text,
      ${value("time")} AS time_value, ${value("rssi")} AS rssi_value, ${value("count")} AS count_value,
      ${restHash(rest.map((name) => `CAST(${identifier(String(name))} AS VARCHAR)`))} AS rest
    FROM read_parquet($place, file_row_number = true)`;
}
