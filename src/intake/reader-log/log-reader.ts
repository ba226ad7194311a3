import { delimitedRows, lineScan, typedScan } from "./delimited-sql.ts";
import { jsonRows } from "./json-sql.ts";
import type { LogDatabase } from "./log-database.ts";
import { mixesLineEnds } from "./log-lines.ts";
import type { LogLayout, LogSource } from "./log-source.ts";
import { parquetRows } from "./parquet-sql.ts";
import {
  firstFree,
  insertReads,
  markInText,
  nameVoices,
  placeTexts,
  type Scope,
  textMark,
  type VoiceNumbers,
} from "./reads-table.ts";
import { judgedRows, type RefusalReason, typedRows, unsoundReads } from "./row-sql.ts";
import { sampleVoices } from "./voice-sample.ts";

/** Rows whose texts are looked at before all rows are read. */
const rowsLookedAt = 200_000;
/** Rejected lines that are looked at one by one; with more, the whole file is. */
const mostRejects = 20_000;

/** What all logs are read with. */
export interface Reading {
  database: LogDatabase;
  points: ReadonlyMap<string, number>;
  facilityZone: string | null;
}

/** The rows of a log as SQL, and what it takes. */
export interface RowSource {
  judged: string;
  values: Record<string, string | number>;
}

/** What a log's rows came to; what their codes say is not known yet. */
export interface ReadCounts {
  taken: number;
  /** Rows refused at sight, by reason. */
  refused: Map<RefusalReason, number>;
  /** The rows among which the refused ones are. */
  doubtful: RowSource;
}

/** Reads one log into the table `reads`. */
export async function readLog(
  reading: Reading,
  source: LogSource,
  layout: LogLayout,
  scope: Scope,
): Promise<ReadCounts> {
  if (source.kind === "delimited") {
    const first = await firstFree(reading.database);
    const quick = await readTyped(reading, source, layout, scope).catch(() => null);
    if (quick !== null) return quick;
    // Whatever was taken before the fault showed is taken again.
    await forget(reading.database, first);
  }
  return readByLine(reading, source, layout, scope);
}

async function forget(database: LogDatabase, first: number): Promise<void> {
  await database.run(`DELETE FROM reads WHERE voice IS NULL OR voice >= ${first}`);
  await database.run(`DELETE FROM voices WHERE id >= ${first}`);
  await dropRejects(database);
}

async function dropRejects(database: LogDatabase): Promise<void> {
  await database.run("DROP TABLE IF EXISTS reject_errors");
  await database.run("DROP TABLE IF EXISTS reject_scans");
}

/**
 * The quick way: the whole file as typed columns. Null where anything shows that only a look at every line can settle: mixed
 * line ends, quotes that do not close, a value that is out of range.
 */
async function readTyped(
  reading: Reading,
  source: LogSource,
  layout: LogLayout,
  scope: Scope,
): Promise<ReadCounts | null> {
  const { database, facilityZone } = reading;
  // The database skips too much, and says nothing, where lines to be skipped end in different ways.
  if (layout.skip > 1 && (await mixesLineEnds(source, layout.skip + 1))) return null;
  const values = { place: source.place, delimiter: source.delimiter };
  const judged = (rejects: "kept" | "dropped") =>
    typedRows(layout, source, facilityZone, typedScan(source, layout, rejects));
  const numbers = source.zipped
    ? await placeFirstTexts(database, { judged: judged("dropped"), values })
    : await placeSampledTexts(database, source, layout);
  const take = (rows: RowSource) => takeRows(database, source, numbers, scope, rows);
  let taken = await take({ judged: judged("kept"), values });
  if ((await hasUnsoundReads(database, source, numbers)) || (await hasBrokenTexts(database))) return null;
  const rejects = await database.rows<{ csv_line: string; kind: string }>(
    `SELECT csv_line, min(error_type)::VARCHAR AS kind FROM reject_errors GROUP BY line, csv_line LIMIT ${mostRejects + 1}`,
  );
  await dropRejects(database);
  if (rejects.length > mostRejects || !rejects.every(isOneLine)) return null;
  const doubtful = await rejectedLines(reading, source, layout, rejects);
  if (rejects.length > 0) taken += await take(doubtful);
  return { taken, refused: await refusals(database, doubtful), doubtful };
}

/** Whether a reject is one line as it stands: after a quote it may be more, and a question mark may stand for bytes that are no UTF-8. */
function isOneLine({ csv_line, kind }: { csv_line: string; kind: string }): boolean {
  return (
    ["CAST", "MISSING COLUMNS", "TOO MANY COLUMNS"].includes(kind) &&
    /^[^"\r\n?\ufffd]+$/.test(csv_line.trimEnd())
  );
}

/** Rejected lines on their own: comments among them are no rows, and some rows are only written unusually. */
async function rejectedLines(
  { database, facilityZone }: Reading,
  source: LogSource,
  layout: LogLayout,
  rejects: readonly { csv_line: string }[],
): Promise<RowSource> {
  const table = `rejected_${source.index}`;
  await database.run(`CREATE TABLE ${table} (line VARCHAR)`);
  await database.fill(
    table,
    rejects.map(({ csv_line }) => [csv_line.trimEnd()]),
  );
  return { judged: judgedRows(delimitedRows(source, layout, table), source, facilityZone), values: {} };
}

/** The thorough way: each line, object or row on its own. */
async function readByLine(
  reading: Reading,
  source: LogSource,
  layout: LogLayout,
  scope: Scope,
): Promise<ReadCounts> {
  const { database, facilityZone } = reading;
  const again = linewise(source, layout, facilityZone, "dropped");
  const numbers = await placeFirstTexts(database, again);
  const taken = await takeRows(database, source, numbers, scope, again);
  const refused = await refusals(database, linewise(source, layout, facilityZone, "kept"));
  if (source.kind !== "parquet") {
    const [rejects] = await database.rows<{ lines: number }>(
      "SELECT count(DISTINCT line)::INTEGER AS lines FROM reject_errors",
    );
    if (rejects!.lines > 0) refused.set("encoding", rejects!.lines);
    await dropRejects(database);
  }
  return { taken, refused, doubtful: again };
}

/** A log's rows, each judged on its own. */
export function linewise(
  source: LogSource,
  layout: LogLayout,
  facilityZone: string | null,
  rejects: "kept" | "dropped",
): RowSource {
  const rows = {
    delimited: () => delimitedRows(source, layout, lineScan(source, rejects)),
    "json-lines": () => jsonRows(source, layout, lineScan(source, rejects)),
    parquet: () => parquetRows(source, layout),
  }[source.kind]();
  return { judged: judgedRows(rows, source, facilityZone), values: { place: source.place } };
}

async function refusals(database: LogDatabase, rows: RowSource): Promise<Map<RefusalReason, number>> {
  const counts = await database.rows<{ reason: RefusalReason; rows: number }>(
    `SELECT reason, count(*)::INTEGER AS rows FROM (${rows.judged}) WHERE reason IS NOT NULL GROUP BY reason ORDER BY reason`,
    rows.values,
  );
  return new Map(counts.map(({ reason, rows: count }) => [reason, count]));
}

async function placeFirstTexts(database: LogDatabase, { judged, values }: RowSource): Promise<VoiceNumbers> {
  const first = `SELECT reader, epc, antenna FROM (${judged}) WHERE reason IS NULL LIMIT ${rowsLookedAt}`;
  return placeTexts(database, await firstFree(database), first, values);
}

async function placeSampledTexts(
  database: LogDatabase,
  source: LogSource,
  layout: LogLayout,
): Promise<VoiceNumbers> {
  const voices = await sampleVoices(source, layout);
  await database.run("CREATE OR REPLACE TEMP TABLE slices (reader VARCHAR, epc VARCHAR, antenna VARCHAR)");
  await database.fill(
    "slices",
    voices.map(({ reader, epc, antenna }) => [reader, epc, antenna]),
  );
  return placeTexts(database, await firstFree(database), "FROM slices", {});
}

async function takeRows(
  database: LogDatabase,
  source: LogSource,
  numbers: VoiceNumbers,
  scope: Scope,
  { judged, values }: RowSource,
): Promise<number> {
  const taken = await insertReads(database, judged, values, numbers, scope);
  await nameVoices(database, source, numbers, scope);
  return taken;
}

/** Whether a text holds what no row's does: two quotes that never closed have joined lines, or a mark of the database's own. */
async function hasBrokenTexts(database: LogDatabase): Promise<boolean> {
  const marks = ["chr(10)", textMark, markInText].map(
    (mark) => `contains(reader || epc || antenna, ${mark})`,
  );
  const broken = await database.rows(`SELECT id FROM voices WHERE ${marks.join(" OR ")} LIMIT 1`);
  return broken.length > 0;
}

async function hasUnsoundReads(
  database: LogDatabase,
  source: LogSource,
  { first }: VoiceNumbers,
): Promise<boolean> {
  const unsound = await database.rows(
    `SELECT voice FROM reads WHERE voice >= ${first} AND ${unsoundReads(source)} LIMIT 1`,
  );
  return unsound.length > 0;
}
