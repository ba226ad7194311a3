import type { ColumnName } from "../../model/facility.ts";
import { identifier, literal } from "./database/database.ts";
import { fieldsOf, isPadded, placesOf } from "./database/lines.ts";
import type { LogGroup } from "./layout.ts";
import { cast, columnType, levelOf, trimmed, type ValueRole } from "./values.ts";

/*
 * The rows of each kind of log, brought to the same columns: `file` (place in the group), `reader`, `epc` and `antenna` (texts, empty where
 * there is none), `time_value`, `rssi_value` and `count_value` (as written, null where they cannot be), `rest` (a hash of the columns that
 * nothing is asked of, which still tell two rows apart). Rows read line by line carry besides: `line` (as it stands), `fault` (of its
 * structure), `time_text` and `rssi_text`, of logs with a column for the last time `last_text` and `last_value`, and where an entry says
 * which rows are reads `other` (whether the row is another event).
 */

const roles: readonly ValueRole[] = ["time", "rssi", "count"];

/** A quarter of what the database would take: each thread holds a few of them. */
const bufferBytes = 1 << 23;

/**
 * The rows of delimited logs with typed columns, in one go: about five times as fast as line by line. Rejected lines are left in the table
 * `reject_errors`. What a closing quote too few has joined shows as a line end inside a text: such a row has no time. Whether a last
 * time that cannot be read is blank, `last_filled` tells.
 */
export function typedRows({ layout, spec, zipped, files, delimiter }: LogGroup): string {
  const { columns, rest, width, skip } = layout;
  const types = Array.from({ length: width }, () => "VARCHAR");
  for (const role of roles) {
    const index = columns[role];
    if (typeof index === "number") types[index - 1] = columnType(role, spec);
  }
  const { lastTime } = columns;
  const lastType = columnType("time", spec);
  if (typeof lastTime === "number") types[lastTime - 1] = lastType;
  const last =
    lastTime === null
      ? ""
      : `c${lastTime} AS last_value, ${lastType === "VARCHAR" ? `trim(c${lastTime}) <> ''` : `c${lastTime} IS NOT NULL`} AS last_filled,`;
  // An empty text is a text: only what is cast may be null.
  const texts = types.flatMap((type, index) => (type === "VARCHAR" ? [`'c${index + 1}'`] : []));
  const text = (index: ColumnName | null) => (index === null ? "''" : `c${index}`);
  const broken = rest.map((index) => `contains(c${index}, chr(10))`).join(" OR ");
  const time = broken === "" ? `c${columns.time}` : `CASE WHEN NOT (${broken}) THEN c${columns.time} END`;
  return `SELECT file_index::BIGINT AS file, ${text(columns.reader)} AS reader, ${text(columns.epc[0]!)} AS epc, ${text(columns.antenna)} AS antenna,
      ${last} ${time} AS time_value, ${columns.rssi === null ? "NULL::DECIMAL(9,2)" : `c${columns.rssi}`} AS rssi_value,
      ${columns.count === null ? "1" : `coalesce(c${columns.count}, 1)`} AS count_value, ${restHash(rest.map((index) => `c${index}`))} AS rest
    FROM read_csv(${placesOf(files)}, auto_detect = false, header = false, skip = ${skip}, delim = ${literal(delimiter)}, quote = '"', escape = '"',
      compression = '${zipped ? "gzip" : "none"}', decimal_separator = '${spec.decimal}',
      buffer_size = ${bufferBytes}, columns = {${types.map((type, index) => `c${index + 1}: '${type}'`).join(", ")}},
      force_not_null = [${texts.join(", ")}], store_rejects = true)`;
}

/** The rows of a log line by line, object by object or row by row. @param from text lines with their `file`, for logs that are text */
export function rowsOf(group: LogGroup, from: string): string {
  const read = { delimited: delimitedRows, "json-lines": jsonRows, parquet: parquetRows, items: jsonRows };
  return read[group.kind](group, from);
}

/** Each line is split on its own, so that a fault in one never swallows the next. */
function delimitedRows(group: LogGroup, from: string): string {
  const { rest, width } = group.layout;
  const field = (index: ColumnName) => `CASE WHEN padded THEN ${trimmed(`f[${index}]`)} ELSE f[${index}] END`;
  const text = (index: ColumnName | null) => (index === null ? "''" : `coalesce(${field(index)}, '')`);
  return withValues(
    group,
    `SELECT file, line, CASE WHEN f IS NULL THEN 'quotes' WHEN len(f) < ${width} THEN 'few-columns'
        WHEN len(f) > ${width} AND NOT (len(f) = ${width + 1} AND f[${width + 1}] = '') THEN 'many-columns' END AS fault,
      ${texts(group, text)}, ${restHash(rest.map((index) => `f[${index}]`))} AS rest${otherEvent(group, field)}
    FROM (SELECT file, line, ${fieldsOf("line", group.delimiter)} AS f, ${isPadded("line", group.delimiter)} AS padded
      FROM (${from}) WHERE ${isRow(group)})`,
  );
}

/** Each line is an object. A name with dots finds a key of that name, or else the path it spells. */
function jsonRows(group: LogGroup, from: string): string {
  const pathsOf = (name: number | string) => {
    const path = (keys: string[]) =>
      literal(`$${keys.map((key) => `."${key.replace(/["\\]/g, "\\$&")}"`).join("")}`);
    const dotted = String(name).includes(".") ? [path(String(name).split("."))] : [];
    return [path([String(name)]), ...dotted];
  };
  const all = (function_: string, name: number | string) =>
    pathsOf(name).map((path) => `${function_}(object, ${path})`);
  const text = (name: ColumnName | null) =>
    name === null ? "''" : trimmed(`coalesce(${all("json_extract_string", name).join(", ")}, '')`);
  // Of several columns for the code the first that holds a text that is not blank, or a number.
  const types = group.layout.columns.epc.flatMap((name) =>
    all("json_type", name).map((type) => `CASE WHEN ${text(name)} <> '' THEN ${type} END`),
  );
  return withValues(
    group,
    `SELECT file, line, CASE ${group.kind === "items" ? "WHEN contains(line, chr(65533)) THEN 'encoding'" : ""} WHEN object IS NULL OR json_type(object) <> 'OBJECT' THEN 'json'
        WHEN coalesce(${types.join(", ")}) IN ('DOUBLE', 'HUGEINT') THEN 'code-number' END AS fault,
      ${texts(group, text)}, hash(line) AS rest${otherEvent(group, (name) => `CASE WHEN json_type(object) = 'OBJECT' THEN ${text(name)} END`)}
    FROM (SELECT file, line, CASE WHEN json_valid(line) THEN line END AS object FROM (${from}) WHERE ${isRow(group)})`,
  );
}

/** Values come by their own types where a type says more than its text. */
function parquetRows(group: LogGroup): string {
  const { columns, types, rest } = group.layout;
  const { spec } = group;
  const text = (name: ColumnName | null) => {
    if (name === null) return "''";
    const column = identifier(String(name));
    return types[name] === "BLOB"
      ? `coalesce(hex(${column}), '')`
      : `coalesce(${trimmed(`CAST(${column} AS VARCHAR)`)}, '')`;
  };
  const value = (role: ValueRole) => readAs(columns[role], role);
  const readAs = (name: ColumnName | null, role: ValueRole) => {
    const type = columnType(role, spec);
    if (name === null) return `NULL::${type}`;
    if (role === "time" && columns.date !== null)
      return cast(dated(columns.date, name, text), type, spec.decimal);
    if (role === "rssi" && types[name]!.endsWith("[]")) return levelOf(text(name), spec.decimal);
    return types[name] === "VARCHAR" || type === "VARCHAR"
      ? cast(text(name), type, spec.decimal)
      : `TRY_CAST(${identifier(String(name))} AS ${type})`;
  };
  const last = columns.lastTime === null ? "" : `${readAs(columns.lastTime, "time")} AS last_value,`;
  const count = `CASE WHEN ${text(columns.count)} = '' THEN 1 ELSE ${value("count")} END`;
  return `SELECT file_index::BIGINT AS file, 'row ' || (file_row_number + 1) AS line, NULL::VARCHAR AS fault, ${texts(group, text)},
      ${last} ${value("time")} AS time_value, ${value("rssi")} AS rssi_value, ${count} AS count_value,
      ${restHash(rest.map((name) => `CAST(${identifier(String(name))} AS VARCHAR)`))} AS rest${otherEvent(group, text)}
    FROM read_parquet(${placesOf(group.files)}, file_row_number = true)`;
}

type TextOf = (column: ColumnName | null) => string;

function texts({ layout }: LogGroup, text: TextOf): string {
  const { reader, epc, antenna, time, date, lastTime, rssi, count } = layout.columns;
  const code =
    epc.length === 1
      ? text(epc[0]!)
      : `coalesce(${epc.map((name) => `nullif(${text(name)}, '')`).join(", ")}, '')`;
  const at = (name: ColumnName | null) => (date === null ? text(name) : dated(date, name, text));
  return `${text(reader)} AS reader, ${code} AS epc, ${text(antenna)} AS antenna,
      ${lastTime === null ? "" : `${at(lastTime)} AS last_text,`} ${at(time)} AS time_text,
      ${rssi === null ? "''" : `CASE WHEN ${text(rssi)} = '[]' THEN '' ELSE ${text(rssi)} END`} AS rssi_text, ${text(count)} AS count_text`;
}

/** A day and a time of day as one text; blank where one of them is. */
function dated(date: ColumnName, time: ColumnName | null, text: TextOf): string {
  return `CASE WHEN ${text(date)} = '' OR ${text(time)} = '' THEN '' ELSE ${text(date)} || ' ' || ${text(time)} END`;
}

/** Whether a row is another event than a read; not known, and so not true, where its fields cannot be told. */
function otherEvent({ layout }: LogGroup, field: (column: ColumnName) => string): string {
  const { only } = layout.columns;
  if (only.length === 0) return "";
  const isOther = only.map(
    ({ column, values }) => `${field(column)} NOT IN (${values.map(literal).join(", ")})`,
  );
  return `, coalesce(${isOther.join(" OR ")}, false) AS other`;
}

/** Adds the values of fields that are text; a blank count is one read. */
function withValues({ spec }: LogGroup, rows: string): string {
  const value = (role: ValueRole) => cast(`${role}_text`, columnType(role, spec), spec.decimal);
  const last =
    spec.columns.lastTime === null
      ? ""
      : `${cast("last_text", columnType("time", spec), spec.decimal)} AS last_value,`;
  return `SELECT *, ${last} ${value("time")} AS time_value, ${levelOf("rssi_text", spec.decimal)} AS rssi_value,
      CASE WHEN count_text = '' THEN 1 ELSE ${value("count")} END AS count_value FROM (${rows})`;
}

/** Whether a line holds a row: not a blank line, a comment, the header, or what stands above the header in its file. */
function isRow({ layout, files }: LogGroup): string {
  const above = files.flatMap(({ above }, index) => above.map((line) => `(${index}, ${literal(line)})`));
  return [
    "line IS NOT NULL",
    // Blanks, # and / stand before 0: most lines need no more than that comparison.
    "(line >= '0' OR NOT regexp_matches(line, '^\\s*(?:$|#|//)'))",
    ...(layout.header === null ? [] : [`line <> ${literal(layout.header)}`]),
    ...(above.length === 0 ? [] : [`(file, line) NOT IN (${above.join(", ")})`]),
  ].join(" AND ");
}

function restHash(columns: readonly string[]): string {
  return columns.length === 0
    ? "NULL::UBIGINT"
    : `hash(${columns.map((each) => `coalesce(${each}, '')`).join(" || chr(31) || ")})`;
}
