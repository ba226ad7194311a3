import { codeUri } from "../src/codes/code-uri.ts";
import { assetTags } from "./asset-tags.ts";
import { tableText } from "./log-text.ts";
import { type RandomStream, randomStream } from "./random-stream.ts";

const seed = "crate-to-depot-1";

const second = 1_000_000;
const minute = 60 * second;
const hour = 60 * minute;

const cratesOfRun = 24;
const cratesOfCage = 6;

interface Run {
  id: string;
  date: string;
  crates: string[];
  driver: string;
  voidReason: string;
}

const crates = assetTags("crate", 640_100, 6 * cratesOfRun);
/** Roll cages, four a run: they are no items of the journey, and stand in the depot's messages as parents. */
const cages = assetTags("cage", 9_700, 4);
const [driverOne, driverTwo, porter] = assetTags("badge", 4_400, 3) as [string, string, string];

const runs: Run[] = ["15", "16", "17", "18", "18", "19"].map((day, index) => ({
  id: `R${index + 1}`,
  date: `2026-06-${day}`,
  crates: crates.slice(index * cratesOfRun, (index + 1) * cratesOfRun),
  driver: index % 2 === 0 ? driverOne : driverTwo,
  voidReason: index === 3 ? "lorry broke down after an hour and came back" : "",
}));

const crate = (run: number, index: number) => runs[run - 1]!.crates[index]!;
/** Fell off behind the loading bay. */
const lost = crate(2, 9);
/** Stood behind the door for five hours before anybody pushed it through. */
const late = crate(3, 20);
/** Taken through the doors by a porter, after the others. */
const byPorter = crate(5, 13);
/** Rode in the plant's own lorry. */
const otherLorry = crate(1, 4);
/** Heard by the ceiling reader above the door before the door itself heard them. */
const aheadOfDoor = [crate(6, 2), crate(6, 3)];

/** A tag that was heard at a read point of the wash plant or in the lorry. */
interface Heard {
  us: number;
  facility: "fennick-wash-plant" | "ternhaven-depot";
  readPoint: string;
  tag: string;
  knownAtUs: number | null;
}

/** A passage at the depot, as its own software told of it. */
interface Told {
  us: number;
  recordedUs: number;
  readPoint: "door-a" | "ceiling-1";
  tags: string[];
  parent: string | null;
}

interface Log {
  heard: Heard[];
  told: Told[];
}

/** Microseconds since 1970 of a time at the wash plant, which keeps summer time. */
const atPlant = (date: string, clock: string) => Date.parse(`${date}T${clock}+01:00`) * 1000;

/** A run starts at eight, or in the afternoon where it is the second of its day. */
const startOf = ({ id, date }: Run) => atPlant(date, id === "R5" ? "13:30:00" : "08:00:00");
const endOf = (run: Run) => startOf(run) + 16 * hour;

function journeyLog(): Log {
  const log: Log = { heard: [], told: [] };
  for (const run of runs) walkRun(run, log, randomStream(`${seed}/${run.id}`));
  log.heard.sort((a, b) => a.us - b.us || (a.tag < b.tag ? -1 : 1));
  log.told.sort((a, b) => a.us - b.us || (a.readPoint < b.readPoint ? -1 : 1));
  return log;
}

function walkRun(run: Run, log: Log, stream: RandomStream): void {
  const upTo = (us: number) => stream.integer(0, us);
  const start = startOf(run);
  const hear = (readPoint: string, tag: string, us: number) => {
    const facility = readPoint === "lorry-12" ? "ternhaven-depot" : "fennick-wash-plant";
    // The lorry's unit sends when it has a signal; the desk writes no time of its own.
    const lag = readPoint === "lorry-12" ? 4 * second + upTo(70 * second) : second + upTo(9 * second);
    const knownAtUs = readPoint === "desk-1" ? null : us + lag;
    log.heard.push({ us, facility, readPoint, tag, knownAtUs });
  };
  run.crates.forEach((tag, index) => {
    const us = start + 20 * second + index * 18 * second + upTo(4 * second);
    hear("desk-1", tag, us);
    if (stream.chance(0.4)) hear("desk-1", tag, us + second + upTo(2 * second));
  });
  const loads = Array.from({ length: cratesOfRun / cratesOfCage }, (_, cage) =>
    run.crates.slice(cage * cratesOfCage, (cage + 1) * cratesOfCage),
  );
  loads.forEach((load, cage) => {
    const out = start + 42 * minute + cage * 3 * minute + upTo(40 * second);
    for (const tag of load) {
      if (tag === otherLorry) hear("lorry-1", tag, out + 20 * minute);
      if (tag === byPorter) hear("dock-1", tag, out + 16 * minute);
      else if (!stream.chance(0.006)) {
        hear("dock-1", tag, out + upTo(5 * second));
        if (stream.chance(0.5)) hear("dock-1", tag, out + 5 * second + upTo(3 * second));
      }
    }
    if (!stream.chance(0.04)) hear("dock-1", run.driver, out + upTo(6 * second));
    if (load.includes(byPorter)) hear("dock-1", porter, out + 16 * minute + upTo(3 * second));
  });
  ride(run, { hear, stream });
  if (run.voidReason === "") log.told.push(...arrivals(loads, { run, stream }));
}

/** The unit takes stock four times on the way. */
function ride(
  run: Run,
  { hear, stream }: { hear: (readPoint: string, tag: string, us: number) => void; stream: RandomStream },
): void {
  const upTo = (us: number) => stream.integer(0, us);
  const aboard = run.crates.filter((tag) => tag !== lost && tag !== otherLorry);
  for (let stock = 0; stock < 4; stock += 1) {
    const us = startOf(run) + 63 * minute + stock * 25 * minute;
    for (const tag of aboard) if (stream.chance(0.84)) hear("lorry-12", tag, us + upTo(20 * second));
    if (stream.chance(0.97)) hear("lorry-12", run.driver, us + upTo(20 * second));
  }
}

function arrivals(loads: string[][], { run, stream }: { run: Run; stream: RandomStream }): Told[] {
  const upTo = (us: number) => stream.integer(0, us);
  const start = startOf(run);
  const told: Told[] = [];
  loads.forEach((load, cage) => {
    const us = start + 4 * hour + 5 * minute + cage * 4 * minute + upTo(minute);
    const brought = load.filter((tag) => tag !== lost && tag !== late && tag !== byPorter);
    const arrived = brought.filter(() => !stream.chance(0.008));
    const carrier = stream.chance(0.04) ? [] : [run.driver];
    const tell = (readPoint: Told["readPoint"], tags: string[], when: number, parent: string | null = null) =>
      told.push({ us: when, recordedUs: when + 2 * second + upTo(12 * second), readPoint, tags, parent });
    const early = load.filter((tag) => aheadOfDoor.includes(tag));
    if (early.length > 0) tell("ceiling-1", early, us - 4 * second);
    tell("door-a", [...arrived, ...carrier], us, cages[cage]!);
    if (load.includes(late)) tell("door-a", [late], us + 5 * hour);
    if (load.includes(byPorter)) tell("door-a", [byPorter, porter], us + 25 * minute);
    const stored = [...brought, ...(load.includes(byPorter) ? [byPorter] : [])];
    const found = stored.filter(() => !stream.chance(0.03));
    tell("ceiling-1", found, us + 50 * minute);
    if (load.includes(late)) tell("ceiling-1", [late], us + 5 * hour + 20 * minute);
  });
  return told;
}

// What is written.

const isoUtc = (us: number) =>
  new Date(Math.floor(us / 1000)).toISOString().replace("Z", `${String(us % 1000).padStart(3, "0")}Z`);

/** The clock of a place so many hours from UTC, as people and units write it. */
const clock = (us: number, offsetHours: number) =>
  isoUtc(us + offsetHours * hour)
    .replace("T", " ")
    .replace("Z", "");

function runsText(): string {
  const rows = runs.flatMap((run) =>
    run.crates.map((tag) => [
      run.id,
      tag,
      run.driver,
      clock(startOf(run), 1)
        .replace(/\.000000$/, "+01:00")
        .replace(" ", "T"),
      clock(endOf(run), 1)
        .replace(/\.000000$/, "+01:00")
        .replace(" ", "T"),
      run.voidReason,
      noteOf(tag),
    ]),
  );
  return tableText(
    [["run", "tag", "carrier", "started_at", "ended_at", "void_reason", "note"], ...rows],
    "comma",
  );
}

function noteOf(tag: string): string {
  if (tag === otherLorry) return "loaded into lorry 1 by mistake";
  if (tag === byPorter) return "taken through the doors by the porter";
  return "";
}

function sightingsText(heard: Heard[]): string {
  const rows = heard.map(({ us, facility, readPoint, tag, knownAtUs }) => [
    // The lorry's unit writes the depot's wall clock.
    readPoint === "lorry-12" ? clock(us, -3) : isoUtc(us),
    facility,
    readPoint,
    tag,
    knownAtUs === null ? "" : isoUtc(knownAtUs),
  ]);
  return tableText([["time", "facility", "read_point", "tag", "known_at"], ...rows], "comma");
}

const locations = {
  "door-a": "urn:epc:id:sgln:9529999.10017.1",
  "ceiling-1": "urn:epc:id:sgln:9529999.10017.2",
};
const washBay = "urn:epc:id:sgln:9529999.10017.9";

function eventOf({ us, recordedUs, readPoint, tags, parent }: Told): object {
  const shared = {
    eventTime: `${clock(us, -3).replace(" ", "T")}-03:00`,
    eventTimeZoneOffset: "-03:00",
    recordTime: isoUtc(recordedUs),
    action: "OBSERVE",
    bizStep: readPoint === "door-a" ? "receiving" : "storing",
    readPoint: { id: locations[readPoint] },
  };
  const epcs = tags.map((tag) => codeUri(tag)!);
  return parent === null
    ? { type: "ObjectEvent", ...shared, epcList: epcs }
    : { type: "AggregationEvent", ...shared, parentID: codeUri(parent), childEPCs: epcs };
}

/** The depot's messages, with what such a document holds besides: a receipt that was typed and withdrawn, a transaction, another place. */
function documentText(told: Told[]): string {
  const typed = {
    ...eventOf({
      us: atPlant("2026-06-16", "13:02:00"),
      recordedUs: atPlant("2026-06-16", "13:05:10"),
      readPoint: "door-a",
      tags: [lost],
      parent: null,
    }),
    eventID: "urn:uuid:7d0c5a34-0f6e-4b8e-9a51-2f3f0a9e6b10",
  };
  const withdrawn = {
    ...typed,
    errorDeclaration: { declarationTime: "2026-06-16T17:40:00Z", reason: "did_not_occur" },
  };
  const transaction = {
    type: "TransactionEvent",
    eventTime: "2026-06-16T13:30:00-03:00",
    eventTimeZoneOffset: "-03:00",
    action: "ADD",
    bizTransactionList: [{ type: "desadv", bizTransaction: "https://brackwater.example/advice/2291" }],
    epcList: [codeUri(crate(2, 0))],
  };
  const washed = {
    ...eventOf({
      us: atPlant("2026-06-18", "19:00:00"),
      recordedUs: atPlant("2026-06-18", "19:00:04"),
      readPoint: "ceiling-1",
      tags: [crate(1, 0)],
      parent: null,
    }),
    readPoint: { id: washBay },
  };
  const events = [...told.map(eventOf), typed, withdrawn, transaction, washed];
  const document = {
    "@context": ["https://ref.gs1.org/standards/epcis/2.0.0/epcis-context.jsonld"],
    type: "EPCISDocument",
    schemaVersion: "2.0",
    creationDate: "2026-06-20T08:00:00-03:00",
    epcisBody: { eventList: events },
  };
  return `${JSON.stringify(document, null, 1)}\n`;
}

/** What was sent from the wash plant to the depot and where it was heard, by path inside the folder of the journeys. */
export function crateToDepot(): Map<string, string> {
  const { heard, told } = journeyLog();
  return new Map([
    ["crate-to-depot/runs.csv", runsText()],
    ["crate-to-depot/sightings.csv", sightingsText(heard)],
    ["crate-to-depot/depot-events.json", documentText(told)],
  ]);
}
