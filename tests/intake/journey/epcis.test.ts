import { gzipSync } from "node:zlib";
import { expect, test } from "vitest";
import {
  type EpcisDocument,
  type EpcisSighting,
  readEpcis,
} from "../../../src/intake/journey/epcis/read-epcis.ts";
import { ProblemList } from "../../../src/intake/problems/problem-list.ts";
import type { Problem } from "../../../src/model/problem.ts";
import { inFolder, places } from "../folder.ts";

// SGTIN-96 of company prefix 0614141 and item 012345, written by hand: serial 1000005 and 1000006.
const crate = "3034257BF40C0E40000F4245";
const crateUri = "urn:epc:id:sgtin:0614141.012345.1000005";
const driver = "driver 7";
const dock = "urn:epc:id:sgln:0614141.00777.1";
const gate = "https://example.org/read-points/gate";

/** Microseconds since 1970 of an instant. */
const us = (instant: string) => Date.parse(instant) * 1000;

const observed = {
  type: "ObjectEvent",
  action: "OBSERVE",
  eventTime: "2026-06-18T09:30:00.123456+01:00",
  eventTimeZoneOffset: "+01:00",
  readPoint: { id: dock },
  epcList: [crateUri],
};
const documentOf = (...eventList: unknown[]) =>
  JSON.stringify({ type: "EPCISDocument", schemaVersion: "2.0", epcisBody: { eventList } }, null, 2);
const sighting = {
  epochUs: us("2026-06-18T08:30:00Z") + 123_456,
  readPoint: "dock-1",
  code: crate,
  knownAtUs: null,
};

interface Told {
  documents: (EpcisDocument & { sightings: Omit<EpcisSighting<string>, "path">[] })[];
  problems: Problem[];
}

async function told(files: Record<string, string | Buffer>, codes = [crate, driver]): Promise<Told> {
  return inFolder(files, async (folder) => {
    const problems = new ProblemList(null);
    const asked = {
      codes,
      readPointOf: (uri: string) => (uri === dock ? "dock-1" : uri === gate ? ("elsewhere" as const) : null),
    };
    const named = Object.keys(files).map((path) => ({ path, place: `${folder}/${path}` }));
    const taken: EpcisSighting<string>[] = [];
    const take = (each: EpcisSighting<string>) => void taken.push(each);
    const documents = await readEpcis(named, { ...asked, take }, problems);
    const ofPath = (path: string) =>
      taken.filter((each) => each.path === path).map(({ path: _, ...rest }) => rest);
    return {
      documents: documents.map((document) => ({ ...document, sightings: ofPath(document.path) })),
      problems: problems.sorted(() => null),
    };
  });
}

const sightings = ({ documents }: Told) => documents.flatMap((document) => document.sightings);

test("a document, a query's answer, a list, a single event, events a line and a packed document say the same", async () => {
  const answer = {
    "@context": [],
    type: "EPCISQueryDocument",
    epcisBody: { queryResults: { queryName: "q", resultsBody: { eventList: [observed] } } },
  };
  const ways = {
    "a.json": documentOf(observed),
    "b.jsonld": JSON.stringify(answer),
    "c.json": JSON.stringify([observed]),
    "d.json": `\ufeff${JSON.stringify(observed, null, 1)}`,
    "e.jsonl": `${JSON.stringify(observed)}\n`,
    "f.json.gz": gzipSync(documentOf(observed)),
  };
  const { documents, problems } = await told(ways);
  expect(problems).toEqual([]);
  expect(documents.map((each) => [each.path, each.events, each.used, each.sightings])).toEqual(
    Object.keys(ways).map((path) => [path, 1, 1, [sighting]]),
  );
});

test("an aggregation is a sighting of its children and of its parent, known when it was recorded", async () => {
  const event = {
    type: "AggregationEvent",
    action: "DELETE",
    parentID: "https://proofwalk.invalid/tag/driver%207",
    childEPCs: ["https://id.example.com/01/00614141123452/21/1000005", "urn:epc:id:sgtin:0614141.012345.9"],
    eventTime: "2026-06-18T08:30:00Z",
    eventTimeZoneOffset: "+02:00",
    recordTime: "2026-06-18T08:30:02.5Z",
    readPoint: { id: dock },
  };
  const at = { epochUs: us("2026-06-18T08:30:00Z"), knownAtUs: us("2026-06-18T08:30:02.500Z") };
  expect(sightings(await told({ "a.json": documentOf(event) }))).toEqual([
    { ...at, readPoint: "dock-1", code: driver },
    { ...at, readPoint: "dock-1", code: crate },
  ]);
});

test("events that say nothing of where tags were heard are counted and remarked on", async () => {
  const { readPoint: _, ...nowhere } = observed;
  const { documents, problems } = await told({
    "a.json": documentOf(
      observed,
      nowhere,
      { ...observed, action: "DELETE" },
      { type: "TransactionEvent", eventTime: "2026-06-18T08:30:00Z", readPoint: { id: dock } },
      { type: "example:Weighing" },
      { ...observed, epcList: [], quantityList: [{ epcClass: "urn:epc:idpat:sgtin:0614141.012345.*" }] },
      { ...observed, readPoint: { id: gate } },
    ),
  });
  expect(documents[0]).toMatchObject({ events: 7, used: 1, elsewhere: 2, otherEvents: 4, refused: 0 });
  expect(problems.filter(({ code }) => code === "epcis-events-unused")).toHaveLength(4);
  expect(problems.map(({ found }) => found).sort()).toEqual([
    "1 ObjectEvent with action DELETE",
    "1 event without a readPoint",
    "1 quantity of classes of things",
    '2 events of other types: "TransactionEvent", "example:Weighing"',
  ]);
});

test("an event that is declared in error is no sighting, in whichever document it stands first", async () => {
  const error = { errorDeclaration: { declarationTime: "2026-06-19T00:00:00Z", reason: "incorrect_data" } };
  const named = { ...observed, eventID: "urn:uuid:374d95fc-9457-4a51-bd6a-0bba133845a8" };
  const corrected = { ...observed, eventID: "urn:uuid:404d95fc-9457-4a51-bd6a-0bba133845a8" };
  const heardTwice = { ...observed, eventTime: "2026-06-18T09:31:00+01:00" };
  const outcome = await told({
    "a.json": documentOf(named, observed, heardTwice),
    "b.json": documentOf(
      { ...named, ...error },
      { ...observed, recordTime: "2026-06-19T00:00:00Z", ...error },
    ),
    "c.json": documentOf(corrected),
  });
  expect(outcome.documents.map(({ used, declaredInError }) => [used, declaredInError])).toEqual([
    [1, 2],
    [0, 2],
    [1, 0],
  ]);
  expect(sightings(outcome)).toEqual([{ ...sighting, epochUs: us("2026-06-18T08:31:00Z") }, sighting]);
  expect(places(outcome.problems)).toEqual([
    "warning a.json:-:- epcis-declared-in-error",
    "warning b.json:-:- epcis-declared-in-error",
  ]);
});

test("a read point that nobody named is asked about once, where its first event stands", async () => {
  const away = { ...observed, readPoint: { id: "urn:epc:id:sgln:0614141.00888.0" } };
  const { problems } = await told({ "a.json": documentOf(observed, away, away) });
  expect(places(problems)).toEqual(["error a.json:18:7 epcis-read-point-unknown"]);
  expect(problems[0]!.found).toBe(
    '"urn:epc:id:sgln:0614141.00888.0", where tags of the journey were heard 2 times',
  );
  expect(problems[0]!.advice).toContain('"urn:epc:id:sgln:0614141.00888.0": elsewhere');
  const strangers = { ...away, epcList: ["urn:epc:id:sgtin:0614141.012345.9"] };
  expect((await told({ "a.json": documentOf(observed, strangers) })).problems).toEqual([]);
});

test.each([
  ["without a time", { eventTime: undefined }, "no eventTime"],
  ["at a time without an offset", { eventTime: "2026-06-18T09:30:00" }, 'eventTime: "2026-06-18T09:30:00"'],
  [
    "on a day that does not exist",
    { eventTime: "2026-06-31T09:30:00Z" },
    'eventTime: "2026-06-31T09:30:00Z"',
  ],
  ["recorded at no time", { recordTime: "soon" }, 'recordTime: "soon"'],
  ["with a text for a list", { epcList: crateUri }, `epcList: "${crateUri}"`],
  ["with a number for an EPC", { epcList: [7] }, 'epcList: "7"'],
  ["with a read point that has no id", { readPoint: "dock" }, 'readPoint: "dock"'],
  ["without a type", { type: undefined }, undefined],
])("an event %s is refused with its place, and the others are read", async (_, change, found) => {
  const outcome = await told({ "a.json": documentOf({ ...observed, ...change }, observed) });
  expect(places(outcome.problems)).toEqual(["error a.json:6:7 epcis-event-refused"]);
  if (found !== undefined) expect(outcome.problems[0]!.found).toBe(found);
  expect(sightings(outcome)).toEqual([sighting]);
  expect(outcome.documents[0]).toMatchObject({ events: 2, used: 1, refused: 1 });
});

test.each([
  ["is cut short", '{ "type": "EPCISDocument", "epcisBody": { "eventList": [', "epcis-unreadable", 0],
  ["is no JSON", "time,facility\n", "epcis-unreadable", 0],
  ["holds no events", documentOf(), "epcis-unreadable", 1],
])("a document that %s is refused", async (_, text, code, documents) => {
  const outcome = await told({ "a.json": text, "b.json": documentOf(observed) });
  expect(outcome.problems.map((each) => [each.file, each.severity, each.code])).toEqual([
    ["a.json", "error", code],
  ]);
  expect(outcome.documents).toHaveLength(documents + 1);
  expect(sightings(outcome)).toEqual([sighting]);
});

test("a document of other tags only is remarked on, since its codes may be written in another way", async () => {
  const { problems } = await told({ "a.json": documentOf(observed) }, ["T1"]);
  expect(places(problems)).toEqual(["warning a.json:-:- epcis-codes-unknown"]);
  expect(problems[0]!.found).toContain(crateUri);
});

test("two tags of one thing are an error, since a document cannot tell them apart", async () => {
  // The same SGTIN with filter 1 and filter 3.
  const other = "3074257BF40C0E40000F4245";
  const { problems } = await told({ "a.json": documentOf(observed, observed) }, [crate, other]);
  expect(places(problems)).toEqual(["error a.json:6:7 epcis-code-ambiguous"]);
  expect(problems[0]!.found).toContain(`"${crate}", "${other}"`);
});
