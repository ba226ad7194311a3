import { createReadStream } from "node:fs";
import { stat } from "node:fs/promises";
import { isSpreadsheetNumber } from "../../codes/canonical-code.ts";
import type { Place } from "../../model/journey/journey.ts";
import type { InputFile } from "../../model/record/input-file.ts";
import { trimmed } from "../csv/cells.ts";
import { lineFeed } from "../csv/records.ts";
import type { Sheet } from "../csv/sheet.ts";
import { type LogDatabase, literal } from "../reader-log/database/database.ts";
import { limits, Survey } from "../reader-log/source/survey.ts";
import { wallToUtc, type Years } from "../reader-log/source/zone.ts";
import type { Header } from "../tables/header.ts";
import { notKnown } from "./join.ts";
import { Codes } from "./table.ts";

/** What a plain table of sightings is read with. */
export interface QuickTask {
  file: { path: string; onDisk: string };
  sheet: Sheet;
  header: Header;
  /** May open the file, and has the table `told`. */
  database: LogDatabase;
  /** By canonical code: the number of a tag of the runs. */
  tags: ReadonlyMap<string, number>;
  /** Every place there is, each once, with the time zone of its facility. */
  places: readonly (Place & { timeZone: string | null })[];
  /** The number of a place where something was seen. */
  numberOf(place: Place): number;
  source: number;
  /** In which times on a wall clock are expected. */
  years: Years;
}

/** A file read in one go. */
export interface QuickSightings {
  input: InputFile;
  /** Of tags of the runs. */
  known: number;
  otherTags: number;
  /** The rows that were known before they were seen: where each begins, in bytes, and its `known_at`. */
  early: { at: number; text: string }[];
}

/** A row by its number, from 0, with its `known_at`. */
interface EarlyRow {
  number: number;
  text: string;
}

interface Rows extends Pick<QuickSightings, "known" | "otherTags"> {
  early: EarlyRow[];
}

/** The database would take such a path for a pattern. */
const pattern = /[*?[\]]/;

/**
 * Reads a large table of sightings with the database's own reader, a sixth of the time that it takes row by row, into the table `told`. Null, with nothing
 * kept, where anything in it is odd: then it is read row by row, which tells what and where. Of the times of people it takes those that can mean one
 * thing only.
 */
export async function quickSightings(task: QuickTask): Promise<QuickSightings | null> {
  const { file, sheet, database } = task;
  if (!isPlain(task)) return null;
  const survey = new Survey({
    place: file.onDisk,
    zipped: false,
    mostLineBytes: limits.lineBytes.delimited,
  });
  try {
    const read = await readRows(task);
    const early = read === null ? null : await placesOf(read, file.onDisk);
    await survey.done;
    const isSound = early !== null && survey.fault === null && (await survey.changed()) === null;
    if (read === null || !isSound) {
      await database.run("DELETE FROM told");
      return null;
    }
    const { known, otherTags } = read;
    const { size: bytes } = await stat(file.onDisk);
    await sheet.close();
    const rows = known + otherTags;
    const input = { path: file.path, sha256: survey.sha256, bytes, rows, used: known, void: 0 };
    return { input, known, otherTags, early };
  } finally {
    await survey.done;
    await database.run("DROP TABLE IF EXISTS read_sightings");
  }
}

/** A header further down stands behind a title: whatever stands above it. */
const bytesOfMark = 3;

/** Whether the first line is the header, and commas separate the cells. */
function isPlain({ file, header, sheet }: QuickTask): boolean {
  const isOneLine = !header.extras.some(({ name }) => /[\r\n]/.test(name));
  return header.at <= bytesOfMark && isOneLine && sheet.delimiter === "," && !pattern.test(file.onDisk);
}

async function readRows(task: QuickTask): Promise<Rows | null> {
  const { database } = task;
  try {
    await nameTexts(task);
    await database.run(`CREATE OR REPLACE TABLE read_sightings AS ${readSightings(task)}`);
  } catch (fault) {
    const message = String((fault as Error).message);
    // A statement that is wrong is a fault of ours, and not of the file.
    if (/^(?:Parser|Binder|Catalog) Error/.test(message)) throw fault;
    return null;
  }
  const [counts] = await database.rows<{ rows: number; odd: number; early: number }>(
    `SELECT count(*)::DOUBLE AS rows, count(*) FILTER (place IS NULL OR t IS NULL OR known IS NULL)::DOUBLE AS odd,
      count(early)::DOUBLE AS early FROM read_sightings`,
  );
  const { rows, odd, early } = counts!;
  if (rows === 0 || odd > 0 || !(await nameOtherTags(task))) return null;
  const known = await database.run(await insertTold(task));
  return { known, otherTags: rows - known, early: early === 0 ? [] : await earlyRows(task) };
}

const columnOf = ({ header }: QuickTask, name: string): string | null => {
  const field = header.fields.get(name);
  return field === undefined ? null : `c${field + 1}`;
};

/** The rows as texts. */
function scan({ file, header }: QuickTask): string {
  const names = Array.from({ length: header.width }, (_, field) => `c${field + 1}`);
  return `read_csv(${literal(file.onDisk)}, auto_detect = false, header = false, skip = 1, delim = ',', quote = '"', escape = '"',
    max_line_size = ${limits.lineBytes.delimited}, columns = {${names.map((name) => `${name}: 'VARCHAR'`).join(", ")}},
    force_not_null = [${names.map((name) => `'${name}'`).join(", ")}])`;
}

/** Fills the tables of places and tags with the texts that most files write. */
async function nameTexts({ database, places, tags }: QuickTask): Promise<void> {
  await database.run(`CREATE OR REPLACE TABLE written_places (facility VARCHAR, read_point VARCHAR, place INTEGER, zone INTEGER);
    CREATE OR REPLACE TABLE written_tags (text VARCHAR, tag INTEGER)`);
  const zones = zonesOf(places);
  await database.fill(
    "written_places",
    places.map(({ facility, readPoint, timeZone }, number) => [
      facility,
      readPoint,
      number,
      timeZone === null ? null : zones.indexOf(timeZone),
    ]),
  );
  const codes = new Codes();
  await database.fill(
    "written_tags",
    [...tags].filter(([code]) => isPlainTag(code) && codes.of(code) === code),
  );
}

const zonesOf = (places: QuickTask["places"]): string[] => [
  ...new Set(places.flatMap(({ timeZone }) => timeZone ?? [])),
];

/** Whether a tag is written as row by row no fault is found with it. */
function isPlainTag(text: string): boolean {
  const written = trimmed(text);
  return written !== "" && !/["\r\n]/.test(written) && !isSpreadsheetNumber(written);
}

/** Adds the tags of runs that are written in other ways. Whether none of these texts is odd. */
async function nameOtherTags({ database, tags }: QuickTask): Promise<boolean> {
  const [texts = []] = (await database.columns(
    "SELECT DISTINCT other FROM read_sightings WHERE other IS NOT NULL",
  )) as string[][];
  const codes = new Codes();
  const known = texts.flatMap((text) => {
    const number = tags.get(codes.of(trimmed(text)));
    return number === undefined ? [] : [[text, number]];
  });
  await database.fill("written_tags", known);
  return texts.every(isPlainTag);
}

const clock =
  "(?:19|20)[0-9]{2}-[0-9]{2}-[0-9]{2}[T ](?:[01][0-9]|2[0-3]):[0-5][0-9]:[0-5][0-9](?:[.][0-9]{1,6})?";
const offset = "(?:Z|[-+](?:0[0-9]|1[0-3]):[0-5][0-9])";

/**
 * The rows with their numbers; null for a place or a time that is odd. A tag that is written otherwise than its code keeps its text (`other`), a time
 * that was known before it came as well (`early`). Each step has its own select, so that no expression is planned twice.
 */
function readSightings(task: QuickTask): string {
  const { header, years, places } = task;
  const column = (name: string) => columnOf(task, name);
  // Nothing is asked of the other columns, but what a damaged file holds there is to be told.
  const marks = header.extras.flatMap(({ field }) =>
    ["chr(0)", "chr(10)", `'"'`].map((mark) => `contains(c${field + 1}, ${mark})`),
  );
  const time =
    marks.length === 0 ? column("time") : `CASE WHEN NOT (${marks.join(" OR ")}) THEN ${column("time")} END`;
  const rows = `SELECT tag, CASE WHEN tag IS NULL THEN ${column("tag")} END AS other, place, zone, ${time} AS time,
      ${column("known_at") ?? "''"} AS known_at FROM ${scan(task)} LEFT JOIN written_tags ON ${column("tag")} = text
    LEFT JOIN written_places ON ${column("facility")} = facility AND ${column("read_point")} = read_point`;
  // What the clock shows, whatever its offset.
  const shown = (name: string) =>
    `epoch_us(CASE WHEN regexp_full_match(${name}, '${clock}${offset}?') THEN TRY_CAST(${name} AS TIMESTAMP) END) AS ${name}_shown`;
  const clocks = `SELECT *, ${shown("time")}, ${shown("known_at")} FROM (${rows})`;
  const zones = zonesOf(places).map(
    (zone, number) => (us: string) => `WHEN ${number} THEN ${wallToUtc(us, zone, years)}`,
  );
  const utc = (name: string) => `CASE WHEN ends_with(${name}, 'Z') THEN ${name}_shown
      WHEN ${name}[-6] IN ('+', '-') THEN epoch_us(TRY_CAST(CASE WHEN ${name}_shown IS NOT NULL THEN ${name} END AS TIMESTAMPTZ))
      ${zones.length === 0 ? "" : `ELSE CASE zone ${zones.map((inZone) => inZone(`${name}_shown`)).join(" ")} END`} END`;
  const instants = `SELECT tag, other, place, time, known_at, ${utc("time")} AS t, CASE WHEN known_at = '' THEN ${notKnown} ELSE ${utc("known_at")} END AS known
    FROM (${clocks})`;
  return `SELECT tag, other, place, t, known, CASE WHEN known < t THEN time || ' ' || known_at END AS early FROM (${instants})`;
}

/** Takes in the rows of tags of the runs. Only places where something was seen get a number. */
async function insertTold({ database, places, numberOf, source }: QuickTask): Promise<string> {
  const [seen = []] = (await database.columns(
    "SELECT DISTINCT place FROM read_sightings ORDER BY place",
  )) as number[][];
  const numbers = places.map(() => -1);
  for (const place of seen) numbers[place] = numberOf(places[place]!);
  return `INSERT INTO told SELECT coalesce(own.tag, written_tags.tag) AS tag, [${numbers.join(", ")}][place + 1], t, known, ${source}
    FROM read_sightings AS own LEFT JOIN written_tags ON other = text WHERE coalesce(own.tag, written_tags.tag) IS NOT NULL`;
}

/** The joins have mixed the rows, so early ones are looked for in the file once more. */
function earlyRows(task: QuickTask): Promise<EarlyRow[]> {
  const [time, knownAt] = [columnOf(task, "time"), columnOf(task, "known_at")];
  const named = `SELECT *, row_number() OVER () - 1 AS number FROM ${scan(task)}`;
  const early = "SELECT DISTINCT place, early FROM read_sightings WHERE early IS NOT NULL";
  return task.database.rows<EarlyRow>(`SELECT number::DOUBLE AS number, ${knownAt} AS text FROM (${named})
    JOIN written_places ON ${columnOf(task, "facility")} = facility AND ${columnOf(task, "read_point")} = read_point
    SEMI JOIN (${early}) AS found ON found.place = written_places.place AND found.early = ${time} || ' ' || ${knownAt} ORDER BY number`);
}

const carriageReturn = 0x0d;

/** Where early rows begin; null where the lines of the file are not its rows. */
async function placesOf(
  { known, otherTags, early }: Rows,
  path: string,
): Promise<QuickSightings["early"] | null> {
  if (early.length === 0) return [];
  const starts: number[] = [];
  let line = -1;
  let begin = 0;
  const take = (end: number) => {
    if (line === early[starts.length]?.number) starts.push(begin);
    line += 1;
    begin = end;
  };
  let at = 0;
  let last = lineFeed;
  for await (const piece of createReadStream(path, { highWaterMark: 1 << 18 })) {
    const bytes = piece as Buffer;
    for (let from = 0; ; ) {
      const end = bytes.indexOf(lineFeed, from);
      if (end < 0) break;
      const before = bytes[end - 1] ?? last;
      const length = at + end - begin - (before === carriageReturn ? 1 : 0);
      if (length > 0) take(at + end + 1);
      else begin = at + end + 1;
      from = end + 1;
    }
    at += bytes.length;
    last = bytes.at(-1)!;
  }
  if (at > begin) take(at);
  return line === known + otherTags ? early.map(({ text }, i) => ({ at: starts[i]!, text })) : null;
}
