import { literal, literals } from "./database.ts";

/* Text logs as lines, and a line as fields: the SQL that finding a layout and reading rows share. */

interface Placed {
  place: string;
}

/** The paths of files, as the database takes them. */
export function placesOf(files: readonly Placed[]): string {
  return literals(files.map(({ place }) => place));
}

/** The lines of text logs as they stand; those that are not UTF-8 are left in the table `reject_errors`. */
export function lineScan({ zipped, files }: { zipped: boolean; files: readonly Placed[] }): string {
  return `SELECT file_index::BIGINT AS file, line
    FROM read_csv(${placesOf(files)}, auto_detect = false, header = false, delim = chr(31), quote = '', escape = '', strict_mode = false,
      compression = '${zipped ? "gzip" : "none"}', columns = {line: 'VARCHAR'}, max_line_size = 8000000, store_rejects = true)`;
}

/** Lines that are given as one text. */
export const textLines = "SELECT 0::BIGINT AS file, unnest(string_split($text, chr(10))) AS line";

/** Items of several files that are given as one text, each with the number of its file before it. */
export const givenItems = `SELECT string_split(given, chr(31))[1]::BIGINT AS file, string_split(given, chr(31))[2] AS line
    FROM (SELECT unnest(string_split($text, chr(10))) AS given)`;

/** SQL for the fields of a delimited line; null where its quotes do not close. The only splitter of lines. */
export function fieldsOf(line: string, delimiter: string): string {
  const mark = inPattern(delimiter);
  const field = `(?:"(?:[^"]|"")*"|[^"${mark}]*)`;
  return `CASE WHEN NOT contains(${line}, '"') THEN string_split(${line}, ${literal(delimiter)})
    WHEN regexp_full_match(${line}, ${literal(`${field}(?:${mark}${field})*`)}) THEN list_transform(
      regexp_extract_all(${literal(delimiter)} || ${line}, ${literal(`${mark}(${field})`)}, 1),
      lambda each: CASE WHEN starts_with(each, '"') THEN replace(each[2:-2], '""', '"') ELSE each END) END`;
}

/** SQL for whether blanks stand at the beginning or end of any field of a delimited line: to trim all fields of all lines takes half of the reading. */
export function isPadded(line: string, delimiter: string): string {
  const mark = inPattern(delimiter);
  const blanks = [" ", "\t"].filter((blank) => blank !== delimiter);
  const bare = `[${blanks.join("")}]`;
  const pattern = `(?:^|${mark})(?:${bare}|"[ \t])|(?:${bare}|[ \t]")(?:${mark}|$)`;
  // Where blanks part the fields, only quotes can hold them.
  const signs = blanks.length === 1 ? [...blanks, '"'] : blanks;
  return `CASE WHEN ${signs.map((sign) => `contains(${line}, ${literal(sign)})`).join(" OR ")}
    THEN regexp_matches(${line}, ${literal(pattern)}) ELSE false END`;
}

function inPattern(delimiter: string): string {
  return delimiter.replace(/[\\^$.|?+*()[\]{}-]/g, "\\$&");
}
