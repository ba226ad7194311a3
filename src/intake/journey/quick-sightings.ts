import { stat } from "node:fs/promises";
import { isSpreadsheetNumber } from "../../codes/canonical-code.ts";
import type { InputFile } from "../../model/result.ts";
import { trimmed } from "../csv/cells.ts";
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
  /** The number of a place and the time zone of its facility; null for a place that is not known. */
  placeOf(facility: string, readPoint: string): { number: number; timeZone: string | null } | null;
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
}

/** The database would take such a path for a pattern. */
const pattern = /[*?[\]]/;

/**
 * Reads a large table of sightings with the database's own reader, a fifth of the time that it takes row by row, into the table `told`. Null, with nothing
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
    await survey.done;
    const isSound = read !== null && survey.fault === null && (await survey.changed()) === null;
    if (!isSound) {
      await database.run("DELETE FROM told");
      return null;
    }
    const { size: bytes } = await stat(file.onDisk);
    await sheet.close();
    const input = {
      path: file.path,
      sha256: survey.sha256,
      bytes,
      rows: read.known + read.otherTags,
      used: read.known,
      void: 0,
    };
    return { input, ...read };
  } finally {
    await survey.done;
  }
}

/** A header further down stands behind a title: whatever stands above it. */
const bytesOfMark = 3;

/** Whether the first line is the header, and commas separate the cells. */
function isPlain({ file, header, sheet }: QuickTask): boolean {
  const isOneLine = !header.extras.some(({ name }) => /[\r\n]/.test(name));
  return header.at <= bytesOfMark && isOneLine && sheet.delimiter === "," && !pattern.test(file.onDisk);
}

async function readRows(task: QuickTask): Promise<Pick<QuickSightings, "known" | "otherTags"> | null> {
  const { database } = task;
  try {
    const zones = await nameTexts(task);
    if (zones === null) return null;
    await database.run(insertTold(task, zones));
  } catch (fault) {
    const message = String((fault as Error).message);
    // A statement that is wrong is a fault of ours, and not of the file.
    if (/^(?:Parser|Binder|Catalog) Error/.test(message)) throw fault;
    return null;
  }
  const [counts] = await database.rows<{ odd: number; known: number; others: number }>(
    `SELECT count(*) FILTER (t IS NULL OR known IS NULL)::DOUBLE AS odd, count(*) FILTER (tag >= 0)::DOUBLE AS known,
      count(*) FILTER (tag < 0)::DOUBLE AS others FROM told`,
  );
  const { odd, known, others } = counts!;
  await database.run("DELETE FROM told WHERE tag < 0");
  return odd > 0 || known + others === 0 ? null : { known, otherTags: others };
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

/** Fills the tables of places and tags as they are written. Returns the time zones, by their numbers; null where any text is odd. */
async function nameTexts(task: QuickTask): Promise<string[] | null> {
  const { database, tags, placeOf } = task;
  await database.run(`CREATE OR REPLACE TABLE written_places (facility VARCHAR, read_point VARCHAR, place INTEGER, zone INTEGER);
    CREATE OR REPLACE TABLE written_tags (text VARCHAR, tag INTEGER)`);
  const distinct = async (...names: string[]) =>
    (await database.columns(
      `SELECT DISTINCT ${names.map((name) => columnOf(task, name)).join(", ")} FROM ${scan(task)}`,
    )) as string[][];
  const [facilities = [], points = []] = await distinct("facility", "read_point");
  const zones: string[] = [];
  const places: (string | number | null)[][] = [];
  for (const [i, facility] of facilities.entries()) {
    const place = placeOf(trimmed(facility), trimmed(points[i]!));
    if (place === null) return null;
    const { number, timeZone } = place;
    if (timeZone !== null && !zones.includes(timeZone)) zones.push(timeZone);
    places.push([facility, points[i]!, number, timeZone === null ? null : zones.indexOf(timeZone)]);
  }
  await database.fill("written_places", places);
  const [texts = []] = await distinct("tag");
  const codes = new Codes();
  const known: [string, number][] = [];
  for (const text of texts) {
    const written = trimmed(text);
    if (written === "" || written.includes('"') || isSpreadsheetNumber(written)) return null;
    const number = tags.get(codes.of(written));
    if (number !== undefined) known.push([text, number]);
  }
  await database.fill("written_tags", known);
  return zones;
}

const clock =
  "(?:19|20)[0-9]{2}-[0-9]{2}-[0-9]{2}[T ](?:[01][0-9]|2[0-3]):[0-5][0-9]:[0-5][0-9](?:[.][0-9]{1,6})?";
const offset = "(?:Z|[-+](?:0[0-9]|1[0-3]):[0-5][0-9])";

/**
 * Takes all rows in: the tag -1 stands for one of no run, null for a time that is odd. Each step has its own select, so that no
 * expression is planned twice.
 */
function insertTold(task: QuickTask, zones: readonly string[]): string {
  const { header, source, years } = task;
  const column = (name: string) => columnOf(task, name);
  const instant = (text: string) =>
    `CASE WHEN regexp_full_match(${text}, '${clock}${offset}') THEN epoch_us(TRY_CAST(${text} AS TIMESTAMPTZ)) END`;
  const wall = (text: string) =>
    `CASE WHEN regexp_full_match(${text}, '${clock}') THEN epoch_us(TRY_CAST(${text} AS TIMESTAMP)) END`;
  const cases = (name: string) =>
    zones.map((zone, number) => `WHEN ${number} THEN ${wallToUtc(name, zone, years)}`).join(" ");
  const byZone = (name: string) => (zones.length === 0 ? "NULL" : `CASE zone ${cases(name)} END`);
  // Nothing is asked of the other columns, but what a damaged file holds there is to be told.
  const marks = header.extras.flatMap(({ field }) =>
    ["chr(0)", "chr(10)", `'"'`].map((mark) => `contains(c${field + 1}, ${mark})`),
  );
  const time =
    marks.length === 0 ? column("time") : `CASE WHEN NOT (${marks.join(" OR ")}) THEN ${column("time")} END`;
  const rows = `SELECT coalesce(tag, -1) AS tag, place, zone, ${time} AS time, ${column("known_at") ?? "''"} AS known_at
    FROM ${scan(task)} LEFT JOIN written_tags ON ${column("tag")} = text
    JOIN written_places ON ${column("facility")} = facility AND ${column("read_point")} = read_point`;
  const instants = `SELECT *, ${instant("time")} AS t, ${instant("known_at")} AS known FROM (${rows})`;
  const walls = `SELECT *, CASE WHEN t IS NULL THEN ${wall("time")} END AS t_wall,
      CASE WHEN known IS NULL AND known_at <> '' THEN ${wall("known_at")} END AS known_wall FROM (${instants})`;
  const utc = `SELECT tag, place, known_at, coalesce(t, ${byZone("t_wall")}) AS t, coalesce(known, ${byZone("known_wall")}) AS known FROM (${walls})`;
  return `INSERT INTO told SELECT tag, place, t, CASE WHEN known_at = '' THEN ${notKnown} WHEN known >= t THEN known END, ${source} FROM (${utc})`;
}
