import type { LogDatabase } from "./log-database.ts";
import type { LogSource } from "./log-source.ts";

/**
 * One row a read, in whole numbers. A voice is a reader, a code and an antenna as one file writes
 * them: three texts that every row carries become one number. `late` holds the three where no number is known yet.
 */
export async function createReads(database: LogDatabase, keepsRest: boolean): Promise<void> {
  await database.run(
    `CREATE TABLE reads (voice INTEGER, t BIGINT, rssi DECIMAL(9,2), reads INTEGER, late VARCHAR${keepsRest ? ", rest UBIGINT" : ""})`,
  );
  // A voice's `point` is null where no read point claims it; `scope` keeps apart what one text means in two entries.
  await database.run(
    "CREATE TABLE voices (id INTEGER, file INTEGER, scope VARCHAR, form VARCHAR, reader VARCHAR, epc VARCHAR, antenna VARCHAR, point INTEGER)",
  );
}

/** What parts the three texts of a voice: a mark that no reader writes. */
export const textMark = "chr(31)";

/** How a log's voices are looked up. */
export interface Scope {
  file: number;
  points: ReadonlyMap<string, number>;
  keepsRest: boolean;
}

/** Gives numbers to voices that have none yet. @param found a query with the columns reader, epc and antenna */
export async function learnVoices(
  database: LogDatabase,
  found: string,
  values: Record<string, string | number>,
  source: LogSource,
  { file, points }: Scope,
): Promise<void> {
  const { readPoint, epcForm } = source.spec;
  await database.run(
    `CREATE OR REPLACE TEMP TABLE learnt AS SELECT DISTINCT reader, epc, antenna FROM (${found})`,
    values,
  );
  await database.run("CREATE OR REPLACE TEMP TABLE claims (text VARCHAR, point BIGINT)");
  const readers = await database.rows<{ reader: string }>("SELECT DISTINCT reader FROM learnt");
  const pointOf = (name: string) =>
    readPoint.kind === "fixed"
      ? readPoint.readPoint
      : Object.hasOwn(readPoint.values, name)
        ? readPoint.values[name]!
        : "";
  await database.fill(
    "claims",
    readers.map(({ reader }) => [reader, points.get(pointOf(reader.trim())) ?? null]),
  );
  const scope = JSON.stringify(
    readPoint.kind === "fixed" ? points.get(readPoint.readPoint) : Object.entries(readPoint.values),
  );
  await database.run(
    `INSERT INTO voices SELECT (SELECT coalesce(max(id), -1) FROM voices) + row_number() OVER (), ${file}, $scope, $form,
        reader, epc, antenna, point
      FROM learnt ANTI JOIN (SELECT reader, epc, antenna FROM voices WHERE file = ${file}) USING (reader, epc, antenna)
      JOIN claims ON claims.text = learnt.reader`,
    { scope, form: epcForm },
  );
}

/** Takes the rows in that count; those of a voice not learnt yet keep its texts. Returns how many. */
export async function insertReads(
  database: LogDatabase,
  judged: string,
  values: Record<string, string | number>,
  { file, keepsRest }: Scope,
): Promise<number> {
  return database.run(
    `INSERT INTO reads SELECT voice.id, taken.t, taken.rssi, taken.reads, CASE WHEN voice.id IS NULL THEN ${texts("taken")} END${keepsRest ? ", taken.rest" : ""}
      FROM (${judged}) AS taken
      LEFT JOIN (SELECT id, reader, epc, antenna FROM voices WHERE file = ${file}) AS voice
        ON voice.epc = taken.epc AND voice.reader = taken.reader AND voice.antenna = taken.antenna
      WHERE taken.reason IS NULL`,
    values,
  );
}

/** Learns the voices that the sample did not hold, and puts their reads right where they stand. */
export async function settleLate(database: LogDatabase, source: LogSource, scope: Scope): Promise<void> {
  await database.run("CREATE OR REPLACE TEMP TABLE late (place BIGINT, texts VARCHAR)");
  const late = await database.run("INSERT INTO late SELECT rowid, late FROM reads WHERE late IS NOT NULL");
  if (late === 0) return;
  const split = `SELECT part[1] AS reader, part[2] AS epc, part[3] AS antenna
    FROM (SELECT DISTINCT string_split(texts, ${textMark}) AS part FROM late)`;
  await learnVoices(database, split, {}, source, scope);
  await database.run(
    `UPDATE reads SET voice = settled.id, late = NULL FROM (SELECT late.place, voice.id FROM late
        JOIN voices AS voice ON voice.file = ${scope.file} AND ${texts("voice")} = late.texts) AS settled
      WHERE reads.rowid = settled.place`,
  );
}

const texts = (from: string) =>
  `${from}.reader || ${textMark} || ${from}.epc || ${textMark} || ${from}.antenna`;
