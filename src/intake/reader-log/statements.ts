import type { EpcForm } from "../../model/facility.ts";
import { identifier, literal } from "./database/database.ts";
import { placesOf } from "./database/lines.ts";
import { type otherEvent, type RefusalReason, trimmed } from "./values.ts";
import { bucketBits } from "./windows.ts";

/*
 * Every statement of one reading, in the order in which they run. Reads are dictionary-encoded: a row carries the number of its reader, code and
 * antenna instead of three texts, together with the number of its file. Times are microseconds since 1970 in UTC, levels hundredths of a dBm, and all
 * sums are of whole numbers: floating-point sums would differ from run to run.
 */

/** What rows keep only where any of the logs has it. */
export interface Kept {
  /** Columns that nothing is asked of. */
  rest: boolean;
  /** The time of the last read. */
  last: boolean;
}

const keptColumns = ({ rest, last }: Kept): string => `${rest ? ", rest" : ""}${last ? ", last_t" : ""}`;

export const createTables = (kept: Kept): string => `
  -- A valid row of a log, in the order of files and rows.
  CREATE TABLE reads (
    entry BIGINT,      -- the file times 2^40, and dictionary.id; below 0 as long as the row is unmapped: -1 - file
    t BIGINT,          -- when
    rssi INTEGER,      -- how strong; null where the row does not say
    reads INTEGER,     -- how many reads the row stands for
    unmapped VARCHAR   -- reader, code and antenna of a row with a text that the sample did not hold
    ${kept.rest ? ", rest UBIGINT -- hash of the columns that nothing is asked of" : ""}
    ${kept.last ? ", last_t BIGINT -- when the tag was read for the last time, where that is later" : ""}
  );
  -- A row of a small log, valid or not, in the order of files and rows.
  CREATE TABLE judged (
    file INTEGER, line VARCHAR,
    scope INTEGER, form VARCHAR, point INTEGER,   -- of its entry, as in the dictionary; no point where the reader says
    reader VARCHAR, epc VARCHAR, antenna VARCHAR,
    t BIGINT, rssi INTEGER, reads INTEGER,
    reason VARCHAR     -- why it is refused; null where it is not
    ${kept.rest ? ", rest UBIGINT" : ""}
    ${kept.last ? ", last_t BIGINT" : ""}
  );
  -- A reader, code and antenna as logs write them.
  CREATE TABLE dictionary (
    id BIGINT,
    scope INTEGER,     -- how its readers stand for read points: a text means the same only within one scope
    form VARCHAR,      -- how its codes are written
    reader VARCHAR, epc VARCHAR, antenna VARCHAR,
    point INTEGER      -- the reader's read point; null where it belongs to none
  );
  -- The rows of one file with one entry of the dictionary, and the weakest level among them.
  CREATE TABLE entry_rows (file INTEGER, id BIGINT, rows BIGINT, weakest INTEGER);
  -- A value of a column that names the reader, with its read point.
  CREATE TABLE reader_map (scope INTEGER, reader VARCHAR, point INTEGER);
  -- The rows of one file that are refused for one reason.
  CREATE TABLE refused (
    file INTEGER, reason VARCHAR, rows BIGINT,
    weakest INTEGER,   -- the lowest level among them
    first STRUCT(line VARCHAR, epc VARCHAR)[]  -- the first of them
  );
  -- A code as written, with the place of its canonical form in the order of codes.
  CREATE TABLE codes (text VARCHAR, form VARCHAR, code INTEGER);
  -- An antenna as written, with its place in the order of antennas; -1 for none.
  CREATE TABLE antennas (text VARCHAR, antenna INTEGER);
  -- Made later: tags, duplicate_times, duplicate_keys, duplicates and places. Filled later:
  -- A piece of a pass window or of an idle stretch, cut at time buckets.
  CREATE TABLE windows (
    bucket BIGINT,     -- read point and time bucket
    place BIGINT,      -- the pass, or the number of the idle stretch
    from_us BIGINT, to_us BIGINT  -- of the whole window, both ends included
  );
  -- A stretch of a clock minute at a read point that lies outside all pass windows and wholly inside or outside each session.
  CREATE TABLE idle_stretches (place BIGINT, point INTEGER, minute BIGINT, from_us BIGINT);
  -- When a round was walked at a read point, both ends included.
  CREATE TABLE sessions (session INTEGER, point INTEGER, from_us BIGINT, to_us BIGINT)`;

/* What is in the files. */

/** The names and types of the columns of a Parquet log. */
export const columnTypes = (place: string): string =>
  `SELECT column_name AS name, column_type AS type FROM (DESCRIBE FROM read_parquet(${literal(place)}))`;

/** How many rows a Parquet log says that it has. */
export const parquetRowCount = (place: string): string =>
  `SELECT coalesce(sum(num_rows), 0)::DOUBLE AS rows FROM parquet_file_metadata(${literal(place)})`;

/** The outermost keys of JSON lines. */
export const jsonKeys = (lines: string): string =>
  `SELECT DISTINCT unnest(json_keys(line)) AS key FROM (${lines}) WHERE json_valid(line) ORDER BY key`;

/** Lines kept of those that are refused for one reason. */
const mostListed = 20;

/** An entry holds the number of its file above this many. */
const idsPerFile = 2 ** 40;
const idOf = (entry: string) => `(${entry} & ${idsPerFile - 1})`;
const fileOf = (entry: string) => `(${entry} >> 40)`;

/** The condition under which an entry is of one of some files, in rising order. */
function isOf(files: readonly number[]): string {
  const runs: { first: number; last: number }[] = [];
  for (const file of files) {
    const run = runs.at(-1);
    if (run !== undefined && file === run.last + 1) run.last = file;
    else runs.push({ first: file, last: file });
  }
  const ranges = runs.map(
    ({ first, last }) =>
      `entry BETWEEN ${first * idsPerFile} AND ${(last + 1) * idsPerFile - 1} OR entry BETWEEN ${-1 - last} AND ${-1 - first}`,
  );
  return `(${ranges.join(" OR ")})`;
}

/** The number of a file by its place in a group. */
function fileAt(place: string, files: readonly number[]): string {
  const first = files[0]!;
  if (files.length === 1) return `${first}::BIGINT`;
  return files.every((file, index) => file === first + index)
    ? `(${place} + ${first})`
    : `[${files.join(", ")}][1 + (${place})::BIGINT]`;
}

/* Reading small logs: all rows are kept, and so all texts are known. */

interface JudgedGroup {
  files: readonly number[];
  /** Whether its texts are trimmed already, and free of the database's own marks. */
  areTextsPlain: boolean;
  scope: ReaderScope;
  form: EpcForm;
  kept: Kept;
  hasLast: boolean;
}

/** Takes in the rows of a group. @param judged with the place of their `file` in the group */
export function insertJudged(
  judged: string,
  { files, areTextsPlain, scope: { scope, point }, form, kept, hasLast }: JudgedGroup,
): string {
  const texts = textRoles.map((role) => (areTextsPlain ? role : trimmed(withoutSeparator(role))));
  return `INSERT INTO judged SELECT ${fileAt("file", files)}, line, ${scope}, '${form}', ${point ?? "NULL"}, ${texts.join(", ")}, t, rssi, reads, reason
      ${kept.rest ? ", rest" : ""} ${kept.last ? `, ${hasLast ? "last_t" : "NULL"}` : ""} FROM (${judged})`;
}

/** Brings what is in `judged` to the other tables. */
export const takeJudged = (kept: Kept): string => `
  INSERT INTO refused SELECT file, reason, count(*), min(rssi), min_by({line: line, epc: epc}, rowid, ${mostListed})
    FROM judged WHERE reason IS NOT NULL GROUP BY file, reason;
  INSERT INTO dictionary SELECT row_number() OVER () - 1, scope, form, entry.reader, epc, antenna, coalesce(entry.point, reader_map.point)
    FROM (SELECT DISTINCT scope, form, point, reader, epc, antenna FROM judged WHERE reason IS NULL) AS entry LEFT JOIN reader_map USING (scope, reader);
  INSERT INTO reads SELECT file * ${idsPerFile} + id, t, rssi, reads, NULL ${kept.rest ? ", rest" : ""} ${kept.last ? ", nullif(last_t, t)" : ""}
    FROM judged JOIN dictionary USING (scope, form, reader, epc, antenna) WHERE reason IS NULL;
  INSERT INTO entry_rows SELECT ${fileOf("entry")}, ${idOf("entry")}, count(*), min(rssi) FROM reads GROUP BY entry`;

/** Counts the rows of all small logs whose code turned out not to give one. */
export const insertBadCodes = `INSERT INTO refused SELECT file, 'code', count(*), min(rssi), min_by({line: line, epc: epc}, judged.rowid, ${mostListed})
    FROM judged ANTI JOIN codes ON codes.text = epc AND codes.form = judged.form WHERE reason IS NULL GROUP BY file`;

/* Reading a group of large logs. */

/** How the texts of a group become numbers: each text has a place among those of its kind, and the places make one number. */
export interface Encoding {
  /** Names of the types that hold the known texts. */
  types: Record<TextRole, string>;
  /** How many known texts there are. */
  sizes: Record<TextRole, number>;
  /** The ids of the group start here. */
  firstId: number;
}

const textRoles = ["reader", "epc", "antenna"] as const;
type TextRole = (typeof textRoles)[number];

/** Separates the texts of an unmapped row: a character that no reader writes, and what stands for it where one does. */
const separator = "chr(31)";
const replacement = "chr(65533)";
const withoutSeparator = (text: string) => `replace(${text}, ${separator}, ${replacement})`;

/** Whether a text holds what no row's does: quotes that never closed have joined lines, or there is a mark of the database's own. */
const isBroken = (text: string) =>
  `(${["chr(10)", separator, replacement].map((mark) => `contains(${text}, ${mark})`).join(" OR ")})`;

export const createSample = (rows: string): string =>
  `CREATE OR REPLACE TEMP TABLE sample AS SELECT reader, epc, antenna, count(*) FILTER (fault IS NULL) AS rows,
      sum(length(line)::DOUBLE ** 2) FILTER (fault IS NULL) AS squared FROM (${rows}) GROUP BY ALL`;

/** The rows of the sample whose structure is sound. */
export interface SampleRows {
  rows: number;
  /** The lengths of their lines, squared and added up. */
  squared: number;
}

export const sampleRows = `SELECT coalesce(sum(rows), 0)::DOUBLE AS rows, coalesce(sum(squared), 0)::DOUBLE AS squared FROM sample`;

/**
 * The texts of a table that get a place: no type may be without one. Blank codes and broken texts get none, so that only unmapped rows can have them.
 * An expression finds the place, and not a join, so that rows stay in order.
 */
export const createTypes = (table: string, types: Encoding["types"]): string =>
  textRoles
    .map((role) => {
      const known = `SELECT ${role} FROM ${table} WHERE NOT ${isBroken(role)}${role === "epc" ? " AND epc <> ''" : ""}`;
      const one = role === "epc" ? separator : "''";
      return `CREATE OR REPLACE TYPE ${types[role]} AS ENUM (SELECT ${one} AS text UNION ${known} ORDER BY text)`;
    })
    .join("; ");

export const typeSizes = (types: Encoding["types"]): string =>
  `SELECT ${textRoles.map((role) => `len(enum_range(NULL::${types[role]}))::INTEGER AS ${role}`).join(", ")},
    (SELECT coalesce(max(id), -1) + 1 FROM dictionary)::DOUBLE AS "firstId"`;

interface TakenRows {
  rows: string;
  kept: Kept;
  /** Whether these rows tell the time of the last read. */
  hasLast: boolean;
}

/** Up to so many texts it is faster to compare a text with all of them than to look it up. */
const mostComparedTexts = 16;

/** Takes rows in. @param rows measured, or judged and valid, with the place of their `file` in the group */
export function insertReads(
  { types, sizes, firstId }: Encoding,
  files: readonly number[],
  { rows, kept, hasLast }: TakenRows,
): string {
  const place = (role: TextRole) =>
    sizes[role] <= mostComparedTexts
      ? `(list_position(enum_range(NULL::${types[role]})::VARCHAR[], ${role}) - 1)::BIGINT`
      : `enum_code(TRY_CAST(${role} AS ${types[role]}))::BIGINT`;
  const id = `${firstId} + (${place("reader")} * ${sizes.epc} + ${place("epc")}) * ${sizes.antenna} + ${place("antenna")}`;
  const texts = textRoles.map(withoutSeparator);
  const file = fileAt("file", files);
  return `INSERT INTO reads SELECT coalesce(${file} * ${idsPerFile} + id, -1 - ${file}), t, rssi, reads,
      CASE WHEN id IS NULL THEN ${texts.join(` || ${separator} || `)} END${kept.rest ? ", rest" : ""}
      ${kept.last ? `, ${hasLast ? "nullif(last_t, t)" : "NULL"}` : ""}
    FROM (SELECT *, ${id} AS id FROM (${rows}))`;
}

/** A last time that is filled in and cannot be read becomes one that breaks the limits. */
export const markUnreadLast = (measured: string): string =>
  `SELECT * REPLACE (CASE WHEN last_t IS NULL AND last_filled THEN -1 ELSE last_t END AS last_t) FROM (${measured})`;

export const validRows = (judged: string): string => `SELECT * FROM (${judged}) WHERE reason IS NULL`;

/** Lines that the quick reading rejected, one by one. */
export const rejectedLines = (most: number): string =>
  `SELECT file_id::INTEGER AS file, csv_line AS line, min(error_type)::VARCHAR AS kind FROM reject_errors
    GROUP BY file_id, reject_errors.line, csv_line ORDER BY file_id, reject_errors.line LIMIT ${most}`;
export const dropRejects = "DROP TABLE IF EXISTS reject_errors; DROP TABLE IF EXISTS reject_scans";
export const createRejected = "CREATE OR REPLACE TEMP TABLE rejected (file BIGINT, line VARCHAR)";
export const createPortion = (judged: string): string => `CREATE OR REPLACE TEMP TABLE portion AS ${judged}`;

/** Counts the rows that are refused. @param refused a condition over judged rows */
export const insertRefused = (files: readonly number[], judged: string, refused: string): string =>
  `INSERT INTO refused SELECT ${fileAt("file", files)}, coalesce(reason, 'code') AS reason, count(*), min(rssi),
      min_by({line: line, epc: epc}, number, ${mostListed})
    FROM (SELECT file, line, epc, rssi, reason, row_number() OVER () AS number FROM (${judged})) WHERE ${refused} GROUP BY file, reason`;

/** Valid rows whose code turned out not to give one. */
export const isBadCode = (form: string): string =>
  `reason IS NULL AND epc NOT IN (SELECT text FROM codes WHERE form = '${form}')`;

/** Whether any time of files is out of bounds. */
export const outOfBounds = (files: readonly number[]): string =>
  `SELECT file FROM (SELECT file, reason FROM refused UNION ALL SELECT file, reason FROM judged)
    WHERE reason = 'time-span' AND file IN (${files.join(", ")}) LIMIT 1`;

/** Lines that are not UTF-8. */
export const insertUndecoded = (files: readonly number[]): string =>
  `INSERT INTO refused SELECT ${fileAt("file_id", files)}, 'encoding', count(DISTINCT line), NULL, [] FROM reject_errors GROUP BY file_id`;

/**
 * Files of which only a look at every line can tell: a value breaks a limit, a code is blank, or a text is broken. Whether any value breaks a limit, the
 * database knows from the bounds of its columns.
 */
export function doubtfulFiles(breaksLimits: string): string {
  const broken = [
    `string_split(unmapped, ${separator})[2] = ''`,
    ...["chr(10)", replacement].map((mark) => `contains(unmapped, ${mark})`),
  ];
  return `SELECT DISTINCT CASE WHEN entry < 0 THEN -1 - entry ELSE ${fileOf("entry")} END::INTEGER AS file FROM
    (SELECT entry FROM reads WHERE ${breaksLimits} UNION ALL SELECT entry FROM reads WHERE entry < 0 AND (${broken.join(" OR ")}))`;
}

/** Forgets what was read of files. */
export const deleteFiles = (files: readonly number[]): string =>
  `DELETE FROM reads WHERE ${isOf(files)}; DELETE FROM refused WHERE file IN (${files.join(", ")}); DELETE FROM judged WHERE file IN (${files.join(", ")})`;

/** How the readers of a group stand for read points: one for all of them, or by `reader_map`. */
export interface ReaderScope {
  scope: number;
  /** Null where the map says. */
  point: number | null;
}

/** Gives ids to the texts of unmapped rows. */
export const createUnmapped = ({ firstId, sizes }: Encoding): string =>
  `CREATE OR REPLACE TEMP TABLE unmapped AS SELECT texts,
      ${firstId + sizes.reader * sizes.epc * sizes.antenna - 1} + row_number() OVER (ORDER BY texts) AS id
    FROM (SELECT DISTINCT unmapped AS texts FROM reads WHERE entry < 0)`;
export const insertUnmapped = (names: EntryNames): string =>
  named(
    `SELECT id, part[1] AS reader, part[2] AS epc, part[3] AS antenna FROM (SELECT id, string_split(texts, ${separator}) AS part FROM unmapped)`,
    names,
  );
export const mapUnmapped = `UPDATE reads SET entry = (-1 - entry) * ${idsPerFile} + unmapped.id FROM unmapped
    WHERE entry < 0 AND reads.unmapped = unmapped.texts`;

export const insertEntryRows = (files: readonly number[]): string =>
  `INSERT INTO entry_rows SELECT ${fileOf("entry")}, ${idOf("entry")}, count(*), min(rssi) FROM reads WHERE ${isOf(files)} GROUP BY entry`;

/** Names the ids that were given by the known texts. */
export function insertEntries({ types, sizes, firstId }: Encoding, names: EntryNames): string {
  const text = (role: TextRole, place: string) =>
    `enum_range(NULL::${types[role]})[1 + (id - ${firstId}) ${place}]::VARCHAR AS ${role}`;
  return named(
    `SELECT id, ${text("reader", `// ${sizes.epc * sizes.antenna}`)}, ${text("epc", `// ${sizes.antenna} % ${sizes.epc}`)},
        ${text("antenna", `% ${sizes.antenna}`)}
      FROM (SELECT DISTINCT id FROM entry_rows WHERE id BETWEEN ${firstId} AND ${firstId + sizes.reader * sizes.epc * sizes.antenna - 1})`,
    names,
  );
}

/** What the entries of a group have in common. */
interface EntryNames extends ReaderScope {
  form: EpcForm;
}

function named(entries: string, { scope, form, point }: EntryNames): string {
  const texts = textRoles.map((role) => `${trimmed(role)} AS ${role}`);
  return `INSERT INTO dictionary SELECT id, ${scope}, '${form}', entry.reader, epc, antenna, ${point ?? "point"}
    FROM (SELECT * REPLACE (${texts.join(", ")}) FROM (${entries})) AS entry
    ${point === null ? `LEFT JOIN reader_map ON scope = ${scope} AND reader_map.reader = entry.reader` : ""}`;
}

/* What the texts mean. */

export const writtenCodes = "SELECT DISTINCT epc AS text, form FROM dictionary ORDER BY text, form";
export const writtenAntennas = "SELECT DISTINCT antenna AS text FROM dictionary";

/** How many codes and antennas there are: a tag is one number for a code and an antenna, or none. */
export interface TagCounts {
  codes: number;
  antennas: number;
}

const codeOfTag = ({ antennas }: TagCounts) => `(tag // ${antennas + 1})::INTEGER`;
const antennaOfTag = ({ antennas }: TagCounts) => `(tag % ${antennas + 1})::INTEGER - 1`;

/**
 * The dictionary entries whose rows count, with the place of their code, their tag, and the first entry that is written in the same way
 * (`duplicate_key`).
 *
 * @param areUnique whether no two entries are written in the same way
 */
export function createTags({ codes, antennas }: TagCounts, areUnique: boolean): string {
  const type = codes * (antennas + 1) < 2 ** 31 ? "INTEGER" : "BIGINT";
  const first = areUnique
    ? "id"
    : "min(id) OVER (PARTITION BY scope, dictionary.form, reader, epc, dictionary.antenna)";
  return `CREATE TABLE tags AS SELECT id, point, code, (code::BIGINT * ${antennas + 1} + antennas.antenna + 1)::${type} AS tag, ${first} AS duplicate_key
    FROM dictionary JOIN codes ON codes.text = epc AND codes.form = dictionary.form
    JOIN antennas ON antennas.text = dictionary.antenna WHERE point IS NOT NULL`;
}

/** The codes that were read at a read point, by their places in the order of codes. */
export const codesAt = (point: number): string => `SELECT DISTINCT code FROM tags WHERE point = ${point}`;

/** The codes of a read point's logs as they are written, those that cannot be read among them. */
export const loggedCodesAt = (point: number): string =>
  `SELECT DISTINCT epc AS text, form FROM dictionary WHERE point = ${point} ORDER BY text, form`;

/** Valid rows of one file that are alike in what becomes of them. */
export interface FileRows {
  file: number;
  /** Whether their code cannot be read. */
  isBadCode: boolean;
  /** Their reader, where their code can be read and the reader belongs to no read point. */
  elsewhere: string | null;
  point: number | null;
  rows: number;
  /** Hundredths of a dBm; null where none of them states a level. */
  weakest: number | null;
}

export const fileRows = `SELECT file, code IS NULL AS "isBadCode", CASE WHEN code IS NOT NULL AND point IS NULL THEN reader END AS elsewhere, point,
      sum(rows)::DOUBLE AS rows, min(weakest) AS weakest
    FROM entry_rows JOIN dictionary USING (id) LEFT JOIN codes ON codes.text = epc AND codes.form = dictionary.form
    GROUP BY ALL ORDER BY file, "isBadCode", elsewhere`;

export interface Refused {
  file: number;
  reason: RefusalReason;
  rows: number;
  /** Hundredths of a dBm; null where none of them states a level. */
  weakest: number | null;
  /** In the order of the file. */
  first: { line: string; epc: string }[];
}

/** Refused rows, or rows that are other events than reads. */
export interface RefusedOrOther extends Omit<Refused, "reason"> {
  reason: RefusalReason | typeof otherEvent;
}

/** A file that is read in parts has several rows in the table for one reason. */
export const refusedRows = `SELECT file, reason, sum(rows)::DOUBLE AS rows, min(weakest) AS weakest,
      flatten(list(first ORDER BY rowid))[:${mostListed}] AS first
    FROM refused GROUP BY file, reason ORDER BY file, rows DESC, reason`;

export interface FileTimes {
  file: number;
  fromUs: number;
  toUs: number;
}

/** When each of some files was written: its first and its last read. */
export const fileTimes = (files: readonly number[]): string =>
  `SELECT ${fileOf("entry")}::INTEGER AS file, min(t)::DOUBLE AS "fromUs", max(t)::DOUBLE AS "toUs" FROM reads WHERE ${isOf(files)} GROUP BY file`;

export interface FileLevels {
  /** Rows that state a level. */
  rows: number;
  /** Hundredths of a dBm. */
  weakest: number;
  strongest: number;
}

export const fileLevels = (file: number): string =>
  `SELECT count(rssi)::DOUBLE AS rows, min(rssi) AS weakest, max(rssi) AS strongest
    FROM reads WHERE ${isOf([file])}`;

/* Exact repeats of rows: only rows at candidate times are compared whole. */

/** Where a larger share of the rows has the time of the row before, most times are shared by reads that differ. */
export const mostSharedTimes = 0.01;
/** Time buckets over the whole span of the logs. */
const duplicateBuckets = 2 ** 21;

export interface TimeOrder {
  rows: number;
  /** Rows earlier than the row before them. */
  falls: number;
  /** Rows with the time of the row before them. */
  shared: number;
}

/** Whether time never falls from row to row, so that equal times stand side by side: proved by a walk over the table in the very order that the next statement takes. */
export const timeOrder = `SELECT count(*)::DOUBLE AS rows, count(*) FILTER (t < before)::DOUBLE AS falls,
      count(*) FILTER (t = before)::DOUBLE AS shared FROM (SELECT t, lag(t) OVER () AS before FROM reads)`;

export const timesOfSeveral = `CREATE TABLE duplicate_times AS SELECT t AS bucket FROM reads GROUP BY t HAVING count(*) > 1`;

export const timesBesideEqualOnes = `CREATE TABLE duplicate_times AS SELECT DISTINCT t AS bucket
    FROM (SELECT t, lag(t) OVER () AS before FROM reads) WHERE t = before`;

export const timeSpan =
  "SELECT coalesce(min(t), 0)::DOUBLE AS first, coalesce(max(t) - min(t), 0)::DOUBLE AS length FROM reads";

/** SQL for the time bucket of a read. */
export const duplicateBucket = ({ first, length }: { first: number; length: number }): string =>
  `(t - ${first}) // ${Math.max(1, Math.ceil(length / duplicateBuckets))}`;

/**
 * Time buckets that may hold duplicates. Each row sets one of 63 bits by a hash: a bucket with as many bits as rows holds no two equal rows.
 * Two hashes find more such buckets than one.
 */
export function bucketsOfEqualHashes(bucket: string): string {
  const bits = (hash: string) => `bit_count(bit_or(1::BIGINT << ((${hash}) % 63)))`;
  return `CREATE TABLE duplicate_times AS SELECT ${bucket} AS bucket FROM reads GROUP BY bucket
      HAVING ${bits("t")} < count(*) AND ${bits("t // 63 + reads * 13 + coalesce(-rssi, 7)")} < count(*)`;
}

const candidates = (bucket: string): string =>
  `(SELECT * FROM reads JOIN tags ON id = ${idOf("entry")} SEMI JOIN duplicate_times ON duplicate_times.bucket = ${bucket})`;
const duplicateKey = (kept: Kept): string => `duplicate_key, t, rssi, reads${keptColumns(kept)}`;

/** One row of each set of equal ones. @param bucket SQL for the time bucket of a read */
export const createDuplicateKeys = (bucket: string, kept: Kept): string =>
  `CREATE TABLE duplicate_keys AS SELECT ${duplicateKey(kept)} FROM ${candidates(bucket)} GROUP BY ALL HAVING count(*) > 1`;

/** All rows of a set of equal ones but the one in the first file. */
export function createDuplicates(bucket: string, kept: Kept): string {
  const key = duplicateKey(kept);
  const isEqual = key
    .split(", ")
    .map((column) => `duplicate_keys.${column} IS NOT DISTINCT FROM candidates.${column}`)
    .join(" AND ");
  return `CREATE TABLE duplicates AS SELECT entry, t, rssi, reads${kept.last ? ", last_t" : ""}
    FROM ${candidates(bucket)} AS candidates SEMI JOIN duplicate_keys ON ${isEqual}
    QUALIFY row_number() OVER (PARTITION BY ${key} ORDER BY entry) > 1`;
}

export interface FileDuplicates {
  file: number;
  rows: number;
}

export const fileDuplicates = `SELECT ${fileOf("entry")}::INTEGER AS file, count(*)::DOUBLE AS rows FROM duplicates GROUP BY file`;

/* Sums by window. */

const minuteUs = 60_000_000;

/**
 * One row per tag and place, duplicates counted once. `place` encodes where a read fell: from 0 up a pass window or an idle stretch, below 0 a whole clock
 * minute at a read point.
 *
 * Where tags were on journeys, what the read points of the legs heard of them outside the windows stands apart (`away`): it is not idle.
 */
export const createPlaces = (placing: Placing): string => `
  CREATE TABLE places AS ${placedReads({ ...placing, isOneInstant: "true" })};
  ${placeViews(placing)}`;

interface Placing {
  /** How many read points there are. */
  points: number;
  /** The condition under which a window holds a read. @param t its time @param windows the table, by the name that it goes by */
  inWindow(t: string, windows: string): string;
  /** Windows in places below this belong to passes, the others to idle stretches. */
  firstStretch: number;
  /** Whether the table `leg_travels` says when tags were on journeys. */
  hasTravels: boolean;
  /** Whether the table `duplicates` has rows to take out. */
  hasDuplicates: boolean;
}

/**
 * Reads with whether their tag was on a journey, at a read point of a leg, from one time to another.
 *
 * @param reads with `point` and `code`, known as `own`
 * @param as how that column is called
 */
const withTravels = (
  { hasTravels }: Placing,
  reads: string,
  { from, to = from, as = "travels" }: { from: string; to?: string; as?: string },
): string =>
  hasTravels
    ? `(SELECT own.*, coalesce(own.${to} <= leg_travels.to_us, false) AS ${as} FROM (${reads}) AS own
        ASOF LEFT JOIN leg_travels ON leg_travels.point = own.point AND leg_travels.code = own.code AND own.${from} >= leg_travels.from_us)`
    : `(SELECT *, false AS ${as} FROM (${reads}))`;

/** Whether a place is no pass but an idle stretch, or a whole clock minute, and the tag was on a journey. */
const isAway = ({ hasTravels, firstStretch }: Placing, place: string, travels: string): string =>
  hasTravels ? `${travels} AND (${place} IS NULL OR ${place} >= ${firstStretch})` : "false";

const placeOf = ({ points }: Placing, place: string, t: string): string =>
  `coalesce(${place}, -1 - (${t} // ${minuteUs} * ${points} + point))`;

/** @param isOneInstant the condition under which a row tells of one instant */
const placedReads = ({ isOneInstant, ...placing }: Placing & { isOneInstant: string }): string => {
  const repeated = placing.hasDuplicates
    ? `UNION ALL SELECT entry, t, rssi, -reads FROM duplicates WHERE ${isOneInstant}`
    : "";
  const reads = `SELECT point, tag, code, t, rssi, reads FROM (SELECT entry, t, rssi, reads FROM reads WHERE ${isOneInstant} ${repeated})
      JOIN tags ON id = ${idOf("entry")}`;
  return `SELECT ${placeOf(placing, "place", "t")} AS place, tag, ${isAway(placing, "place", "travels")} AS away, sum(reads) AS reads, max(rssi) AS rssi,
      min(t) AS first_us, max(t) AS last_us
    FROM ${withTravels(placing, reads, { from: "t" })} LEFT JOIN windows ON ${placing.inWindow("t", "windows")} GROUP BY ALL`;
};

const placeViews = ({ points, firstStretch }: Placing): string => `
  CREATE VIEW pass_reads AS SELECT * EXCLUDE (away) RENAME (place AS pass) FROM places WHERE place >= 0 AND place < ${firstStretch};
  CREATE VIEW reads_between AS SELECT * EXCLUDE (place), (-1 - place) % ${points} AS point, (-1 - place) // ${points} AS minute,
      (-1 - place) // ${points} * ${minuteUs} AS from_us
    FROM places WHERE place < 0 UNION ALL BY NAME SELECT * EXCLUDE (place) FROM places JOIN idle_stretches USING (place)`;

/**
 * The same where rows tell of a first and a last read. Such a row reports its tag at both instants. Its count and its level are taken where both
 * fall into one place; else it is one read at each instant. Between passes the tag was heard in every minute of a session from the first instant to
 * the last.
 *
 * Fills \`unknown\` besides: passes that lie wholly between the two instants of a row, with the code, unless an instant of another row is in them.
 */
export function createPlacesOfSpans(placing: Placing, tags: TagCounts): string {
  const repeated = placing.hasDuplicates
    ? "UNION ALL SELECT entry, t, last_t, rssi, reads, -1 FROM duplicates WHERE last_t IS NOT NULL"
    : "";
  const rows = `SELECT point, tag, code, t AS first_t, last_t, rssi, reads, copies
      FROM (SELECT entry, t, last_t, rssi, reads, 1 AS copies FROM reads WHERE last_t IS NOT NULL ${repeated}) JOIN tags ON id = ${idOf("entry")}`;
  const atFirst = withTravels(placing, rows, { from: "first_t", as: "first_travels" });
  const atBoth = withTravels(placing, atFirst, { from: "last_t", as: "last_travels" });
  const end = (
    name: "first" | "last",
  ) => `${placeOf(placing, `${name}_windows.place`, `${name}_t`)} AS ${name}_place,
      ${isAway(placing, `${name}_windows.place`, `${name}_travels`)} AS ${name}_away`;
  // Where both instants fall into one place, the tag was heard nowhere else in between, but for passes.
  return `
  CREATE TABLE lasting AS SELECT *, first_place = last_place AND first_away = last_away AS is_one FROM (
    SELECT point, tag, code, first_t, last_t, rssi, reads, copies, ${end("first")}, ${end("last")} FROM ${atBoth}
      LEFT JOIN windows AS first_windows ON ${placing.inWindow("first_t", "first_windows")}
      LEFT JOIN windows AS last_windows ON ${placing.inWindow("last_t", "last_windows")});
  CREATE TABLE pass_spans AS SELECT DISTINCT bucket >> ${bucketBits} AS point, place, from_us, to_us
    FROM windows WHERE place < ${placing.firstStretch};
  CREATE TABLE idle_minutes AS SELECT * EXCLUDE (first_t, last_t), greatest(first_t, minute * ${minuteUs}) AS from_us,
      least(last_t, (minute + 1) * ${minuteUs} - 1) AS to_us
    FROM (SELECT DISTINCT number, own.point, tag, code, copies, first_place, last_place, first_t, last_t, unnest(generate_series(
        greatest(first_t, sessions.from_us) // ${minuteUs}, least(last_t, sessions.to_us) // ${minuteUs})) AS minute
      FROM (SELECT *, rowid AS number FROM lasting WHERE first_place <> last_place) AS own
        JOIN sessions ON sessions.point = own.point AND sessions.from_us <= last_t AND sessions.to_us >= first_t);
  CREATE TABLE idle_pieces AS SELECT own.point, code, tag, copies, first_place, last_place, place,
      greatest(pieces.from_us, own.from_us) AS from_us, least(pieces.to_us, own.to_us) AS to_us
    FROM (SELECT point, minute, place, from_us, to_us FROM idle_stretches JOIN (SELECT DISTINCT place, to_us FROM windows) USING (place)) AS pieces
    JOIN idle_minutes AS own USING (point, minute) WHERE pieces.from_us <= own.to_us AND pieces.to_us >= own.from_us
    UNION ALL SELECT point, code, tag, copies, first_place, last_place, -1 - (minute * ${placing.points} + point), from_us, to_us
      FROM idle_minutes ANTI JOIN idle_stretches USING (point, minute)
      WHERE to_us - from_us + 1 > (SELECT coalesce(sum(least(pass_spans.to_us, idle_minutes.to_us) - greatest(pass_spans.from_us, idle_minutes.from_us) + 1), 0)
        FROM pass_spans WHERE pass_spans.point = idle_minutes.point AND pass_spans.from_us <= idle_minutes.to_us
          AND pass_spans.to_us >= idle_minutes.from_us);
  CREATE TABLE places AS SELECT place, tag, away, sum(reads) AS reads, max(rssi) AS rssi, min(first_us) AS first_us, max(last_us) AS last_us FROM (
    ${placedReads({ ...placing, isOneInstant: "last_t IS NULL" })}
    UNION ALL SELECT first_place, tag, first_away, copies * reads, rssi, first_t, last_t FROM lasting WHERE is_one
    UNION ALL SELECT first_place, tag, first_away, copies, NULL, first_t, first_t FROM lasting WHERE NOT is_one
    UNION ALL SELECT last_place, tag, last_away, copies, NULL, last_t, last_t FROM lasting WHERE NOT is_one
    UNION ALL SELECT place, tag, travels, copies, NULL, from_us, to_us
      FROM ${withTravels(placing, "SELECT * FROM idle_pieces WHERE place NOT IN (first_place, last_place)", { from: "from_us", to: "to_us" })}) GROUP BY ALL;
  ${placeViews(placing)};
  CREATE TABLE unknown AS SELECT DISTINCT place AS pass, code
    FROM (SELECT * FROM lasting WHERE last_t - first_t > (SELECT coalesce(min(to_us - from_us), 0) FROM pass_spans)) AS long
    JOIN pass_spans ON pass_spans.point = long.point AND from_us > first_t AND to_us < last_t
    EXCEPT SELECT pass, ${codeOfTag(tags)} FROM pass_reads`;
}

export const unknownReads = "SELECT pass::INTEGER AS pass, code FROM unknown ORDER BY pass, code";

/** The columns of `passReads`. */
export const passColumns = ["pass", "code", "antenna", "reads", "rssi", "first_us", "last_us"] as const;

/** By pass, code and antenna. */
export const passReads = (tags: TagCounts, noRssi: number): string =>
  `SELECT pass::INTEGER, ${codeOfTag(tags)}, ${antennaOfTag(tags)}, reads::DOUBLE, coalesce(rssi, ${noRssi}),
      first_us::DOUBLE, last_us::DOUBLE FROM pass_reads ORDER BY pass, tag`;

/** Reads of tags on journeys, the first and the last of a row that tells of both: code, read point, time and file. */
export const travelledReads = (hasLast: boolean): string => {
  const heard = (t: string) =>
    `SELECT code, point, ${t} AS t, ${fileOf("entry")} AS file FROM reads
      JOIN (SELECT id, code, point FROM tags SEMI JOIN travels USING (code)) ON id = ${idOf("entry")}`;
  const last = hasLast ? ` UNION ALL ${heard("last_t")} WHERE last_t IS NOT NULL` : "";
  return `SELECT own.code::DOUBLE, point::DOUBLE, t::DOUBLE, file::DOUBLE FROM (${heard("t")}${last}) AS own
    ASOF JOIN travels ON travels.code = own.code AND t >= from_us WHERE t <= to_us`;
};

/** What was read outside the windows of each read point, and when first and last. */
export const idleSpans = `SELECT point::INTEGER AS point, sum(reads)::DOUBLE AS reads, min(first_us)::DOUBLE AS "fromUs", max(last_us)::DOUBLE AS "toUs"
    FROM reads_between GROUP BY point`;

/** What was idle in each session, by minute and tag. */
export const createIdle = `CREATE TABLE idle AS SELECT session, minute, tag, reads, rssi
    FROM reads_between JOIN sessions ON sessions.point = reads_between.point AND reads_between.from_us BETWEEN sessions.from_us AND sessions.to_us
    WHERE NOT away`;

export const idleMinutes = (tags: TagCounts): string =>
  `SELECT session, minute::DOUBLE AS minute, sum(reads)::DOUBLE AS reads, count(DISTINCT ${codeOfTag(tags)})::INTEGER AS tags
    FROM idle GROUP BY session, minute ORDER BY session, minute`;

/** Codes by the minutes that read them first and last in a session: how many, and the sum of the squared minutes that read each. */
export const idleStays = (tags: TagCounts): string =>
  `SELECT session, first::DOUBLE AS first, last::DOUBLE AS last, count(*)::INTEGER AS tags, sum(minutes * minutes)::DOUBLE AS squares
    FROM (SELECT session, min(minute) AS first, max(minute) AS last, count(DISTINCT minute) AS minutes FROM idle GROUP BY session, ${codeOfTag(tags)})
    GROUP BY session, first, last ORDER BY session, first, last`;

/** By session, code and antenna: reads and the strongest level between the passes. */
export const idleTags = (tags: TagCounts, noRssi: number): string =>
  `SELECT session, ${codeOfTag(tags)} AS code, ${antennaOfTag(tags)} AS antenna, reads, rssi
    FROM (SELECT session, tag, sum(reads)::DOUBLE AS reads, coalesce(max(rssi), ${noRssi})::INTEGER AS rssi FROM idle GROUP BY session, tag)
    ORDER BY session, tag`;

/** Reads by second. Duplicates fall where the others do: they are not taken out. */
export const secondsOf = (points: readonly number[]): string =>
  `SELECT point, (t // 1000000)::DOUBLE AS second, sum(reads.reads)::DOUBLE AS reads FROM reads JOIN tags ON id = ${idOf("entry")}
    WHERE point IN (${points.join(", ")}) GROUP BY ALL ORDER BY point, second`;

/* Last times that no entry names. */

export interface Lasting {
  /** Rows with a first and a last time. */
  rows: number;
  /** Those whose last time is not before the first. */
  ordered: number;
  /** Those that last longer than a pass. */
  longer: number;
  /** The longest of them, in microseconds. */
  longestUs: number;
}

/** How long rows last. @param measured with `t` and `last_t` */
export const lasting = (measured: string, passUs: number): string =>
  `SELECT count(last_t - t)::DOUBLE AS rows, count(*) FILTER (last_t >= t)::DOUBLE AS ordered,
      count(*) FILTER (last_t - t > ${passUs})::DOUBLE AS longer, coalesce(max(last_t - t), 0)::DOUBLE AS "longestUs" FROM (${measured})`;

/* What `describe` tells of one log. */

/** How many times of a sample can be read; of counts only those of this century, since any number is a count. */
export const timesRead = (measured: string, isCount: boolean): string =>
  `SELECT count(*) FILTER (${isCount ? `t BETWEEN ${Date.UTC(2000, 0, 1) * 1000} AND ${Date.UTC(2100, 0, 1) * 1000}` : "t IS NOT NULL"})::INTEGER AS rows
    FROM (${measured})`;

/** The times of a sample, row by row. */
export const instants = (measured: string): string => `SELECT t::DOUBLE AS us FROM (${measured})`;

/** The first rows of Parquet logs as texts. @param columns names and types */
export function parquetTexts(
  files: readonly { place: string }[],
  columns: readonly { name: string; type: string }[],
  rows: number,
): string {
  const texts = columns.map(({ name, type }) =>
    type === "BLOB" ? `coalesce(hex(${identifier(name)}), '')` : `coalesce(${identifier(name)}::VARCHAR, '')`,
  );
  return `SELECT [${texts.join(", ")}] AS fields FROM read_parquet(${placesOf(files)}) LIMIT ${rows}`;
}

export interface LogSums {
  /** Microseconds since 1970; null of no rows. */
  firstUs: number | null;
  lastUs: number | null;
  wholeSeconds: boolean;
  /** Rows without a level. */
  blank: number;
  /** Hundredths of a dBm; null where no row states a level. */
  weakest: number | null;
  median: number | null;
  strongest: number | null;
  /** Rows with a level of 0. */
  zero: number;
  reads: number;
  mostReads: number;
  /** Rows that stand for more than one read. */
  countedRows: number;
}

export const logSums = `SELECT min(t)::DOUBLE AS firstUs, max(t)::DOUBLE AS lastUs, coalesce(bool_and(t % 1000000 = 0), true) AS wholeSeconds,
      (count(*) - count(rssi))::DOUBLE AS blank, min(rssi) AS weakest, quantile_disc(rssi, 0.5) AS median, max(rssi) AS strongest,
      count(*) FILTER (rssi = 0)::DOUBLE AS zero, coalesce(sum(reads), 0)::DOUBLE AS reads, coalesce(max(reads), 0) AS mostReads,
      count(*) FILTER (reads > 1)::DOUBLE AS countedRows FROM reads`;

/** How far back the longest step in time goes from one row to the next, in microseconds. */
export const longestFall = `SELECT coalesce(max(before - t), 0)::DOUBLE AS us FROM (SELECT t, lag(t) OVER () AS before FROM reads)`;

export interface NamedRows {
  name: string;
  rows: number;
  firstUs: number;
  lastUs: number;
}

export const rowsByName = (role: "reader" | "antenna"): string =>
  `SELECT ${role} AS name, sum(rows)::DOUBLE AS rows, min(first)::DOUBLE AS "firstUs", max(last)::DOUBLE AS "lastUs"
    FROM (SELECT entry, count(*) AS rows, min(t) AS first, max(t) AS last FROM reads GROUP BY entry)
    JOIN dictionary ON id = ${idOf("entry")} GROUP BY ${role}`;

/** How often each text stands in the column that rows take for the reader. */
export const rowsByReader = (rows: string, most: number): string =>
  `SELECT reader AS name, count(*)::DOUBLE AS rows FROM (${rows}) GROUP BY reader LIMIT ${most}`;
