import { mkdirSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { DuckDBInstance } from "@duckdb/node-api";

/** In the order of the legs. */
const places = [
  ["plant", "desk"],
  ["plant", "dock"],
  ["depot", "lorry"],
  ["depot", "door"],
  ["depot", "ceiling"],
] as const;
const start = Date.UTC(2026, 5, 15, 6);
/** A run starts so many seconds after the one before, and lasts eight hours. */
const stepS = 20;
const lastsS = 8 * 3600;

const facilityYaml = (name: string, zone: string): string =>
  [
    `name: ${name}`,
    `time_zone: ${zone}`,
    "report: { number: B-4, revision: A, issued: 2026-06-22 }",
    "rounds: [{ id: as-left, title: As left, date: 2026-06-14 }]",
    "read_points:",
    ...places.flatMap(([facility, id]) =>
      facility === name ? [`  - { id: ${id}, name: ${id}, kind: read point, at: { x: 10, y: 10 } }`] : [],
    ),
    "criteria: []",
    "",
  ].join("\n");

const journeyYaml = [
  "title: A benchmark's crates",
  "report: { number: B-5, revision: A, issued: 2026-06-22 }",
  "time_zone: UTC",
  "legs:",
  ...places.map(
    ([facility, id]) => `  - { id: ${id}, facility: ${facility}, read_point: ${id}, within_s: 7200 }`,
  ),
  "carrier: { column: carrier, at: [dock, lorry, door], within_s: 60 }",
  "criteria:",
  "  - { id: whole, title: Crates are seen on every leg, measure: journey-complete-rate, at_least: 0.9 }",
  "  - { id: legs, title: Each leg sees them, measure: leg-sighting-rate, at_least: 0.95, for_each: [leg] }",
  "  - { id: order, title: In order, measure: journey-order-rate, at_least: 0.95 }",
  "  - { id: who, title: The carrier is heard, measure: carrier-sighting-rate, at_least: 0.5 }",
  "  - { id: lag, title: Known soon, measure: sighting-lag-quantile, quantile: 0.95, at_most: 90 }",
  "",
].join("\n");

const item = (run: string) => `'3374257BF40C0E4000' || printf('%06X', ${run})`;
const carrier = (run: string) => `'331645AA3C004BC00000' || printf('%04X', ${run} % 12)`;
const utc = (us: string) => `strftime(make_timestamp(${us}), '%Y-%m-%dT%H:%M:%S.%fZ')`;

/**
 * A data folder with one journey of `runs` runs of one item over two facilities, and `rows` sightings in the order of time: of items and
 * carriers, one in fifty of tags of no run. One item in 250 is not seen on a leg.
 *
 * @param form a table, or EPCIS events: `document` is one document, `lines` one event a line
 */
export async function makeJourney(
  folder: string,
  { runs, rows, form }: { runs: number; rows: number; form: "csv" | "document" | "lines" },
): Promise<string> {
  rmSync(folder, { recursive: true, force: true });
  const own = join(folder, "journeys", "crates");
  for (const room of [own, join(folder, "plant"), join(folder, "depot")])
    mkdirSync(room, { recursive: true });
  writeFileSync(join(folder, "plant", "facility.yaml"), facilityYaml("plant", "Europe/Dublin"));
  writeFileSync(join(folder, "depot", "facility.yaml"), facilityYaml("depot", "Atlantic/Azores"));
  writeFileSync(
    join(folder, "journeys", "crates.yaml"),
    form === "csv"
      ? journeyYaml
      : `${journeyYaml}epcis:\n${places.map(([facility, id], n) => `  "urn:epc:id:sgln:9529999.10017.${n}": { facility: ${facility}, read_point: ${id} }\n`).join("")}`,
  );
  const instance = await DuckDBInstance.create(":memory:");
  const connection = await instance.connect();
  const to = (name: string) => `'${join(own, name).replaceAll("'", "''")}'`;
  const startOf = (run: string) => `(${start * 1000} + ${run} * ${stepS * 1_000_000})`;
  await connection.run(`COPY (SELECT 'R' || range AS run, ${item("range")} AS tag, ${carrier("range")} AS carrier,
      ${utc(startOf("range"))} AS started_at, ${utc(`${startOf("range")} + ${lastsS * 1_000_000}`)} AS ended_at FROM range(${runs}))
    TO ${to("runs.csv")} (FORMAT csv, HEADER)`);
  const each = rows / runs;
  // Hashes of the row number are the chance: the same file on every machine.
  await connection.run(`CREATE TABLE told AS SELECT us, place, tag, lag FROM (
    SELECT run, place, ${startOf("run")} + place * 5400000000 + (hash(i * 8 + 1) % 3000000000)::BIGINT AS us,
      CASE WHEN hash(i * 8 + 2) % 50 = 0 THEN '331645AA3C0032800000' || (9000 + i % 40)
        WHEN hash(i * 8 + 3) % 4 = 0 THEN ${carrier("run")} ELSE ${item("run")} END AS tag, (hash(i * 8 + 4) % 80000000)::BIGINT AS lag
    FROM (SELECT range AS i, range // ${each} AS run, range % ${places.length} AS place FROM range(${rows})))
    WHERE hash(run * 8 + place) % 250 <> 0 ORDER BY us`);
  const named = (index: 0 | 1) => `[${places.map((place) => `'${place[index]}'`).join(", ")}][place + 1]`;
  if (form === "csv")
    await connection.run(`COPY (SELECT ${utc("us")} AS time, ${named(0)} AS facility, ${named(1)} AS read_point, tag,
      CASE WHEN us % 2 = 0 THEN ${utc("us + lag")} END AS known_at FROM told) TO ${to("sightings.csv")} (FORMAT csv, HEADER)`);
  else {
    const event = `'{"type":"ObjectEvent","eventTime":"' || ${utc("us")} || '","recordTime":"' || ${utc("us + lag")} ||
      '","eventTimeZoneOffset":"+00:00","epcList":["urn:epc:raw:96.x' || tag || '"],"action":"OBSERVE","bizStep":"arriving","readPoint":{"id":"urn:epc:id:sgln:9529999.10017.' || place || '"}}'`;
    const lines = `SELECT ${form === "lines" ? event : `CASE WHEN row_number() OVER () = 1 THEN '' ELSE ',' END || ${event}`} AS line FROM told`;
    const head = `{"@context":["https://ref.gs1.org/standards/epcis/2.0.0/epcis-context.jsonld"],"type":"EPCISDocument","schemaVersion":"2.0","creationDate":"2026-06-22T08:00:00Z","epcisBody":{"eventList":[`;
    const whole =
      form === "lines" ? lines : `SELECT '${head}' AS line UNION ALL (${lines}) UNION ALL SELECT ']}}'`;
    await connection.run(
      `COPY (${whole}) TO ${to(form === "lines" ? "events.jsonl" : "events.json")} (FORMAT csv, HEADER false, QUOTE '', ESCAPE '', DELIMITER e'\\x01')`,
    );
  }
  connection.closeSync();
  instance.closeSync();
  return own;
}
