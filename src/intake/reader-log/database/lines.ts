import { literal } from "./database.ts";

/* Text logs as lines, and a line as fields: the SQL that finding a layout and reading rows share. */

/** The lines of text logs as they stand; those that are not UTF-8 are left in the table `reject_errors`. */
export function lineScan({ zipped }: { zipped: boolean }): string {
  return `SELECT file_index::BIGINT AS file, line
    FROM read_csv($places, auto_detect = false, header = false, delim = chr(31), quote = '', escape = '', strict_mode = false,
      compression = '${zipped ? "gzip" : "none"}', columns = {line: 'VARCHAR'}, max_line_size = 8000000, store_rejects = true)`;
}

/** Lines that are given as one text. */
export const textLines = "SELECT 0::BIGINT AS file, unnest(string_split($text, chr(10))) AS line";

/** Items of several files that are given as one text, each with the number of its file before it. */
export const givenItems = `SELECT string_split(given, chr(31))[1]::BIGINT AS file, string_split(given, chr(31))[2] AS line
    FROM (SELECT unnest(string_split($text, chr(10))) AS given)`;

/** SQL for the fields of a delimited line; null where its quotes do not close. The only splitter of lines. */
export function fieldsOf(line: string, delimiter: string): string {
  const mark = delimiter.replace(/[\\^$.|?+*()[\]{}-]/g, "\\$&");
  const field = `(?:"(?:[^"]|"")*"|[^"${mark}]*)`;
  return `CASE WHEN NOT contains(${line}, '"') THEN string_split(${line}, ${literal(delimiter)})
    WHEN regexp_full_match(${line}, ${literal(`${field}(?:${mark}${field})*`)}) THEN list_transform(
      regexp_extract_all(${literal(delimiter)} || ${line}, ${literal(`${mark}(${field})`)}, 1),
      lambda each: CASE WHEN starts_with(each, '"') THEN replace(each[2:-2], '""', '"') ELSE each END) END`;
}
