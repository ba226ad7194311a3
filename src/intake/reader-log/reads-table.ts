import type { LogDatabase } from "./log-database.ts";
import type { LogSource } from "./log-source.ts";

/**
 * One row a read, in whole numbers and in the order of files and rows. A voice is a reader, a code and an antenna as one file
 * writes them: three texts that every row carries become one number. `late` holds the three where no number is known yet.
 */
export async function createReads(database: LogDatabase, keepsRest: boolean): Promise<void> {
  await database.run(
    `CREATE TABLE reads (voice BIGINT, t BIGINT, rssi DECIMAL(9,2), reads INTEGER, late VARCHAR${keepsRest ? ", rest UBIGINT" : ""})`,
  );
  // A voice's `point` is null where no read point claims it; `scope` keeps apart what one text means in two entries.
  await database.run(
    "CREATE TABLE voices (id BIGINT, file INTEGER, scope VARCHAR, form VARCHAR, reader VARCHAR, epc VARCHAR, antenna VARCHAR, point INTEGER)",
  );
}

/** What parts the three texts of a voice that came late: a mark that no reader writes. */
export const textMark = "chr(31)";
/** What stands for that mark where a text holds it nevertheless. */
export const markInText = "chr(65533)";

/** What is the same for all logs of a facility, and the file's number. */
export interface Scope {
  file: number;
  points: ReadonlyMap<string, number>;
  keepsRest: boolean;
}

/**
 * How one file's texts become numbers: each text has a place among those of its kind, and the three places make one number.
 * Said in an expression instead of a join, so that rows stay in their order.
 */
export interface VoiceNumbers {
  /** The file's numbers start here. */
  first: number;
  /** From here on are the numbers of voices with a text that has no place. */
  firstLate: number;
  /** The number as SQL over reader, epc and antenna; null where a text has no place. */
  number: string;
  /** The three texts as SQL over the number. */
  texts: string;
}

const kinds = ["reader", "epc", "antenna"] as const;

/** The first number above those of all voices so far. */
export async function firstFree(database: LogDatabase): Promise<number> {
  const [next] = await database.rows<{ id: number }>(
    "SELECT (coalesce(max(id), -1) + 1)::DOUBLE AS id FROM voices",
  );
  return next!.id;
}

/** Gives places to texts; those that are not among them come late. @param found a query with the columns reader, epc and antenna */
export async function placeTexts(
  database: LogDatabase,
  first: number,
  found: string,
  values: Record<string, string | number>,
): Promise<VoiceNumbers> {
  await database.run(
    `CREATE OR REPLACE TEMP TABLE sample AS SELECT reader, epc, antenna FROM (${found})`,
    values,
  );
  const sizes: number[] = [];
  for (const kind of kinds) {
    await database.run(`DROP TYPE IF EXISTS ${kind}_text`);
    // No type may be without a text.
    await database.run(
      `CREATE TYPE ${kind}_text AS ENUM (SELECT '' AS text UNION SELECT ${kind} FROM sample ORDER BY text)`,
    );
    const [size] = await database.rows<{ texts: number }>(
      `SELECT len(enum_range(NULL::${kind}_text))::INTEGER AS texts`,
    );
    sizes.push(size!.texts);
  }
  const [readers, epcs, antennas] = sizes as [number, number, number];
  const place = (kind: string) => `enum_code(TRY_CAST(${kind} AS ${kind}_text))::BIGINT`;
  const text = (kind: string, of: string) => `enum_range(NULL::${kind}_text)[1 + ${of}]::VARCHAR AS ${kind}`;
  return {
    first,
    firstLate: first + readers * epcs * antennas,
    number: `${first} + (${place("reader")} * ${epcs} + ${place("epc")}) * ${antennas} + ${place("antenna")}`,
    texts: [
      text("reader", `(id - ${first}) // ${epcs * antennas}`),
      text("epc", `(id - ${first}) // ${antennas} % ${epcs}`),
      text("antenna", `(id - ${first}) % ${antennas}`),
    ].join(", "),
  };
}

/** Takes the rows that count, those of a text without a place with all three texts. Returns how many. */
export async function insertReads(
  database: LogDatabase,
  judged: string,
  values: Record<string, string | number>,
  { number }: VoiceNumbers,
  { keepsRest }: Scope,
): Promise<number> {
  return database.run(
    `INSERT INTO reads SELECT voice, t, rssi, reads, CASE WHEN voice IS NULL THEN ${texts} END${keepsRest ? ", rest" : ""}
      FROM (SELECT *, ${number} AS voice FROM (${judged}) WHERE reason IS NULL)`,
    values,
  );
}

/** Names the voices of the reads that were taken, and puts those that came late right where they stand. */
export async function nameVoices(
  database: LogDatabase,
  source: LogSource,
  numbers: VoiceNumbers,
  scope: Scope,
): Promise<void> {
  const { first, firstLate } = numbers;
  await database.run(
    "CREATE OR REPLACE TEMP TABLE named (id BIGINT, reader VARCHAR, epc VARCHAR, antenna VARCHAR)",
  );
  const placed = await database.countingDirectly(() =>
    database.run(`INSERT INTO named SELECT id, ${numbers.texts}
      FROM (SELECT DISTINCT voice AS id FROM reads WHERE voice >= ${first} AND voice < ${firstLate}) ANTI JOIN voices USING (id)`),
  );
  await database.run("CREATE OR REPLACE TEMP TABLE late (texts VARCHAR)");
  const late = await database.run("INSERT INTO late SELECT DISTINCT late FROM reads WHERE voice IS NULL");
  if (late > 0) {
    const before = Math.max(await firstFree(database), firstLate) - 1;
    await database.run(
      `INSERT INTO named SELECT ${before} + row_number() OVER (), part[1], part[2], part[3]
        FROM (SELECT string_split(texts, ${textMark}) AS part
          FROM late ANTI JOIN (SELECT ${texts} AS texts FROM voices WHERE file = ${scope.file}) USING (texts))`,
    );
  }
  if (placed + late === 0) return;
  await addVoices(database, source, scope);
  if (late === 0) return;
  await database.run(
    `UPDATE reads SET voice = settled.id FROM (SELECT id, ${texts} AS texts FROM voices WHERE file = ${scope.file}) AS settled
      WHERE voice IS NULL AND late = settled.texts`,
  );
}

/** Takes over the voices in the table `named`, each with the read point that claims its reader. */
async function addVoices(database: LogDatabase, { spec }: LogSource, { file, points }: Scope): Promise<void> {
  const { readPoint, epcForm } = spec;
  await database.run("CREATE OR REPLACE TEMP TABLE claims (text VARCHAR, point BIGINT)");
  const readers = await database.rows<{ reader: string }>("SELECT DISTINCT reader FROM named");
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
    `INSERT INTO voices SELECT id, ${file}, $scope, $form, reader, epc, antenna, point
      FROM named JOIN claims ON claims.text = named.reader`,
    { scope, form: epcForm },
  );
}

const texts = kinds.map((kind) => `replace(${kind}, ${textMark}, ${markInText})`).join(` || ${textMark} || `);
