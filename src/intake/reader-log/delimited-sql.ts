import type { LogLayout, LogSource } from "./log-source.ts";
import { restHash, valuesOfText } from "./row-sql.ts";
import { literal } from "./sql-text.ts";
import { columnType } from "./value-sql.ts";

/** The columns c1, c2 ... of a delimited log, read with their types in one go; lines that do not fit are rejected. */
export function typedScan(source: LogSource, layout: LogLayout, rejects: "kept" | "dropped"): string {
  const types = Array.from({ length: layout.width }, () => "VARCHAR");
  for (const role of ["time", "rssi", "count"] as const) {
    const index = layout.columns[role];
    if (typeof index === "number") types[index - 1] = columnType(role, source.spec);
  }
  // An empty text is a text: only what is cast may be null.
  const texts = types.flatMap((type, index) => (type === "VARCHAR" ? [`'c${index + 1}'`] : []));
  const columns = types.map((type, index) => `c${index + 1}: '${type}'`).join(", ");
  return `read_csv($place, auto_detect = false, header = false, skip = ${layout.skip}, delim = $delimiter, quote = '"', escape = '"',
    compression = '${source.zipped ? "gzip" : "none"}', decimal_separator = '${source.spec.decimal}', columns = {${columns}},
    force_not_null = [${texts.join(", ")}], ${rejects === "kept" ? "store_rejects = true" : "ignore_errors = true"})`;
}

/** Lines as they stand, blank ones left out; lines that are no UTF-8 are rejected. */
export function lineScan(source: LogSource, rejects: "kept" | "dropped"): string {
  return `read_csv($place, auto_detect = false, header = false, delim = chr(31), quote = '', escape = '', strict_mode = false,
    compression = '${source.zipped ? "gzip" : "none"}', columns = {line: 'VARCHAR'}, max_line_size = 8000000,
    ${rejects === "kept" ? "store_rejects = true" : "ignore_errors = true"})`;
}

/** Whether a line holds a row: it is not blank, no comment, and none of the others that hold none. */
export function isRow(line: string, noRows: readonly string[]): string {
  const others = noRows.length === 0 ? "" : ` AND ${line} NOT IN (${noRows.map(literal).join(", ")})`;
  return `${line} IS NOT NULL AND NOT regexp_matches(${line}, '^\\s*(?:$|#|//)')${others}`;
}

/** Splits each line on its own, so that a fault in one never swallows the next. */
export function delimitedRows(source: LogSource, layout: LogLayout, from: string): string {
  const { delimiter } = source;
  const { columns, rest, width } = layout;
  const mark = delimiter.replace(/[\\^$.|?+*()[\]{}-]/g, "\\$&");
  const field = `(?:"(?:[^"]|"")*"|[^"${mark}]*)`;
  const split = `CASE WHEN NOT contains(text, '"') THEN string_split(text, ${literal(delimiter)})
    WHEN regexp_full_match(text, ${literal(`${field}(?:${mark}${field})*`)}) THEN list_transform(
      regexp_extract_all(${literal(delimiter)} || text, ${literal(`${mark}(${field})`)}, 1),
      lambda each: CASE WHEN starts_with(each, '"') THEN replace(each[2:-2], '""', '"') ELSE each END) END`;
  const text = (index: number | string | null) =>
    index === null ? "''" : `coalesce(trim(f[${index}], e' \\t'), '')`;
  return `SELECT *, ${valuesOfText(source)} FROM (SELECT text,
      CASE WHEN f IS NULL THEN 'quotes' WHEN len(f) < ${width} THEN 'few-columns'
        WHEN len(f) > ${width} AND NOT (len(f) = ${width + 1} AND f[${width + 1}] = '') THEN 'many-columns' END AS fault,
      ${text(columns.reader)} AS reader, ${text(columns.epc)} AS epc, ${text(columns.antenna)} AS antenna,
      ${text(columns.time)} AS time_text, ${text(columns.rssi)} AS rssi_text, ${text(columns.count)} AS count_text,
      ${restHash(rest.map((index) => `f[${index}]`))} AS rest
    FROM (SELECT text, ${split} AS f FROM (SELECT line AS text FROM ${from} WHERE ${isRow("line", layout.noRows)})))`;
}
