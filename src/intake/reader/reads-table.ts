import type { LogDatabase } from "./log-database.ts";
import type { LogSource } from "./log-source.ts";
import type { WindowKey } from "./window-table.ts";

/**
 * One row a read, in whole numbers: texts are numbers in the tables `words` of their kind. `slot` spreads the rows over as many
 * places as repeats are looked for in.
 */
export async function createReads(database: LogDatabase, keepsRest: boolean): Promise<void> {
  await database.run(
    `CREATE TABLE reads (file USMALLINT, reader USMALLINT, code INTEGER, antenna USMALLINT, t BIGINT, rssi DECIMAL(9,2), reads INTEGER,
      pass INTEGER, slot INTEGER${keepsRest ? ", rest UBIGINT" : ""})`,
  );
  // A reader's `point` is null where no read point claims it; `scope` keeps apart what one text means in two entries.
  await database.run("CREATE TABLE readers (id INTEGER, text VARCHAR, scope VARCHAR, point INTEGER)");
  await database.run("CREATE TABLE codes (id INTEGER, text VARCHAR, scope VARCHAR)");
  await database.run("CREATE TABLE antennas (id INTEGER, text VARCHAR)");
}

/** Places among which repeats are looked for: just under 2 to this power, so that null and all of them are counted by position. */
export const slotBits = 21;

/** How an entry's texts are looked up. */
export interface Scope {
  reader: string;
  code: string;
  keepsRest: boolean;
  window: WindowKey;
}

export function scopeOf(
  source: LogSource,
  points: ReadonlyMap<string, number>,
  keepsRest: boolean,
  window: WindowKey,
): Scope {
  const { readPoint, epcForm } = source.spec;
  const reader =
    readPoint.kind === "fixed"
      ? `fixed ${points.get(readPoint.readPoint)}`
      : `column ${JSON.stringify(Object.entries(readPoint.values))}`;
  return { reader, code: epcForm, keepsRest, window };
}

/** Looks up new texts among the first rows, or among all rows. */
export async function learnTexts(
  database: LogDatabase,
  judged: string,
  values: Record<string, string | number>,
  source: LogSource,
  scope: Scope,
  points: ReadonlyMap<string, number>,
  most: number | null,
): Promise<void> {
  const { readPoint } = source.spec;
  await database.run(
    `CREATE OR REPLACE TEMP TABLE learnt AS SELECT DISTINCT reader, epc, antenna FROM (SELECT reader, epc, antenna FROM (${judged})
      WHERE reason IS NULL ${most === null ? "" : `LIMIT ${most}`})`,
    values,
  );
  const next = (table: string) =>
    `(SELECT coalesce(max(id), -1) FROM ${table}) + row_number() OVER (ORDER BY text)`;
  await database.run(
    `INSERT INTO codes SELECT ${next("codes")}, text, $scope FROM (SELECT DISTINCT epc AS text FROM learnt)
      WHERE text NOT IN (SELECT text FROM codes WHERE scope = $scope)`,
    { scope: scope.code },
  );
  await database.run(
    `INSERT INTO antennas SELECT ${next("antennas")}, text FROM (SELECT DISTINCT antenna AS text FROM learnt)
      WHERE text NOT IN (SELECT text FROM antennas)`,
  );
  const fresh = await database.rows<{ text: string; id: number }>(
    `SELECT text, CAST(${next("readers")} AS INTEGER) AS id FROM (SELECT DISTINCT reader AS text FROM learnt)
      WHERE text NOT IN (SELECT text FROM readers WHERE scope = $scope)`,
    { scope: scope.reader },
  );
  const pointOf = (text: string) => {
    if (readPoint.kind === "fixed") return points.get(readPoint.readPoint) ?? null;
    const name = text.trim();
    return Object.hasOwn(readPoint.values, name) ? (points.get(readPoint.values[name]!) ?? null) : null;
  };
  for (const { text, id } of fresh)
    await database.run("INSERT INTO readers VALUES ($id, $text, $scope, $point)", {
      id,
      text,
      scope: scope.reader,
      point: pointOf(text),
    });
}

/** The highest numbers given so far: rows whose texts are all at or below them have been looked at before. */
export async function highestIds(
  database: LogDatabase,
): Promise<{ reader: number; code: number; antenna: number }> {
  const [row] = await database.rows<{ reader: number; code: number; antenna: number }>(
    `SELECT (SELECT coalesce(max(id), -1) FROM readers) AS reader, (SELECT coalesce(max(id), -1) FROM codes) AS code,
      (SELECT coalesce(max(id), -1) FROM antennas) AS antenna`,
  );
  return row!;
}

/** Takes the rows in that count; rows with a text not looked up yet have a null in its place. Returns how many. */
export async function insertReads(
  database: LogDatabase,
  judged: string,
  values: Record<string, string | number>,
  source: LogSource,
  scope: Scope,
  after: { reader: number; code: number; antenna: number } | null,
): Promise<number> {
  const { window } = scope;
  const isNew =
    after === null
      ? ""
      : `AND (reader.id > ${after.reader} OR code.id > ${after.code} OR antenna.id > ${after.antenna})`;
  return database.run(
    `INSERT INTO reads SELECT ${source.index}, reader.id, code.id, antenna.id, taken.t, taken.rssi, taken.reads, wall.pass,
        CAST(((taken.t >> 10) + code.spread) % ${2 ** slotBits - 3} AS INTEGER)${scope.keepsRest ? ", taken.rest" : ""}
      FROM (${judged}) AS taken
      LEFT JOIN (SELECT id, text, point FROM readers WHERE scope = $readerScope) AS reader ON reader.text = taken.reader
      LEFT JOIN (SELECT id, text, id * 7919::BIGINT AS spread FROM codes WHERE scope = $codeScope) AS code ON code.text = taken.epc
      LEFT JOIN antennas AS antenna ON antenna.text = taken.antenna
      LEFT JOIN windows AS wall ON wall.key = reader.point * ${window.stride} + (taken.t - ${window.baseUs}) // ${window.bucketUs}
        AND taken.t >= wall.from_us AND taken.t <= wall.to_us
      WHERE taken.reason IS NULL ${isNew}`,
    { ...values, readerScope: scope.reader, codeScope: scope.code },
  );
}
