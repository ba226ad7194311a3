import { readdir } from "node:fs/promises";
import { join } from "node:path";
import type { JourneyFacility, JourneyInput, Place } from "../../model/journey/journey.ts";
import { journeyFile, journeyTables, runsFile, sightingsFile } from "../../model/journey/journey-files.ts";
import { byCodePoint } from "../../model/order.ts";
import type { Problem } from "../../model/problem.ts";
import type { InputFile, JourneyRuns } from "../../model/record/input-file.ts";
import { placedProblems } from "../csv/placed-problems.ts";
import { facilityFile, type OpenedFacility } from "../facility/facility.ts";
import { placeInFolder } from "../places/place-in-folder.ts";
import { fileUnreadable } from "../problems/folder.ts";
import { journeyFileNotRead, runsMissing } from "../problems/journey.ts";
import { ProblemList } from "../problems/problem-list.ts";
import type { LogDatabase } from "../reader-log/database/database.ts";
import type { ReaderSightings, Travels } from "../reader-log/database/travels.ts";
import type { Years } from "../reader-log/source/zone.ts";
import { yearsOf } from "../reader-log/values.ts";
import { yamlFile } from "../yaml/yaml-file.ts";
import { type EpcisSighting, readEpcis } from "./epcis/read-epcis.ts";
import { readPointFinder } from "./epcis/read-point-uris.ts";
import { type JourneyDescription, readJourneyYaml, unreadJourney } from "./journey-yaml.ts";
import { remarkOnOtherSightings, remarkOnOthers, remarkOnUnseen, unseenRuns } from "./remarks.ts";
import { type Runs, readRuns } from "./runs.ts";
import { SightingColumns } from "./told.ts";
import { mergedTrips, type Trip } from "./trips.ts";

/** Facilities of the data folder by their ids; null for one whose facility.yaml cannot be read. */
export type KnownFacilities = ReadonlyMap<string, JourneyFacility | null>;

/** What journeys need to know of a facility; null where its facility.yaml cannot be read. */
export function knownFacility({ id, yaml, described }: OpenedFacility): JourneyFacility | null {
  if (yaml === null || described === null) return null;
  const { name, timeZone, readPoints, pseudonyms } = described.facility;
  return {
    id,
    name,
    timeZone,
    readPoints: readPoints.map((point) => ({ id: point.id, name: point.name, kind: point.kind })),
    pseudonyms,
    source: { ...yaml.input, path: `${id}/${facilityFile}` },
  };
}

/** A journey as far as it can be read before its facilities are: what was sent, and when. */
export interface StartedJourney {
  id: string;
  /** A draft, with the reason among the problems, where its YAML does not hold together. */
  description: JourneyDescription;
  /** The facilities of its legs, as far as they can be told. */
  facilities: ReadonlySet<string>;
  runs: Runs | null;
  inputs: InputFile[];
  problems: ProblemList;
}

/** What a journey's YAML is read beside: the facilities of the data folder, or what is left of them where they are not at hand. */
type Beside = { facilities: KnownFacilities } | { timeZone: string | null };

/** Reads the YAML of a journey and its runs. @param data the data folder */
export async function startJourney(data: string, id: string, beside: Beside): Promise<StartedJourney> {
  const problems = new ProblemList(null);
  const inputs: InputFile[] = [];
  const file = journeyFile(id);
  const missing = fileUnreadable.with({ reason: "ENOENT" });
  const yaml = await yamlFile({ folder: data, path: file }, missing, problems);
  if (yaml !== null) inputs.push(yaml.input);
  const description =
    yaml === null
      ? unreadJourney({ id, file, source: "" })
      : readJourneyYaml({ id, file, source: yaml.text }, beside, problems);
  const { namesFacilities: named } = description;
  const facilities =
    named.size === 0 && "facilities" in beside ? namedIn(yaml?.text ?? "", beside.facilities) : named;
  const path = runsFile(id);
  const place = await placeInFolder(data, path);
  if (place.problem !== null) problems.report({ file: path }, place.problem);
  if (place.kind === "none") problems.report({ file: path }, runsMissing);
  const runs =
    place.kind === "file" ? await readRuns({ path, onDisk: join(data, path) }, description, problems) : null;
  if (runs !== null) inputs.push(runs.input);
  return { id, description, inputs, problems, runs, facilities };
}

function namedIn(source: string, facilities: KnownFacilities): Set<string> {
  return new Set([...facilities.keys()].filter((name) => source.includes(name)));
}

/**
 * When the tags of journeys were under way, from copies of the files that a facility was judged with: its other facilities are not at hand.
 *
 * @param data the folder that the paths of the files are relative to
 * @returns what is wrong with the copies besides, where anything is
 */
export async function travelsOfCopies(
  data: string,
  facility: string,
  journeys: readonly JourneyRuns[],
): Promise<{ travels: Travels | null; problems: Problem[] }> {
  const started: StartedJourney[] = [];
  for (const { id, timeZone } of journeys) started.push(await startJourney(data, id, { timeZone }));
  const problems: Problem[] = [];
  for (const one of started) problems.push(...(await placedProblems(one.problems, data)));
  return { travels: travelsAt(facility, started), problems };
}

/** When the tags of some journeys were under way, as a facility's readers' logs are asked for it. */
export function travelsAt(facility: string, journeys: readonly StartedJourney[]): Travels | null {
  const trips: Trip<string>[] = [];
  const used: JourneyRuns[] = [];
  const atLegs: (Trip<string> & { readPoint: string })[] = [];
  for (const { id, description, runs, facilities, inputs } of journeys) {
    if (runs === null || !facilities.has(facility)) continue;
    const { timeZone } = description;
    const { legs, carrier, pseudonyms } = description.journey;
    // What its folder holds besides is read later, and tells of no trip.
    used.push({ id, timeZone, pseudonyms, inputs: [...inputs] });
    const own = tripsOf(runs, carrier?.withinS ?? 0);
    trips.push(...own);
    const points = new Set(legs.flatMap((leg) => (leg.facility === facility ? [leg.readPoint] : [])));
    for (const readPoint of points) for (const trip of own) atLegs.push({ ...trip, readPoint });
  }
  if (trips.length === 0) return null;
  const byPoint = new Map<string, Trip<string>[]>();
  for (const { readPoint, ...trip } of atLegs) {
    const own = byPoint.get(readPoint);
    if (own === undefined) byPoint.set(readPoint, [trip]);
    else own.push(trip);
  }
  return {
    journeys: used,
    trips: mergedTrips(trips),
    atLegs: [...byPoint].flatMap(([readPoint, own]) =>
      mergedTrips(own).map((trip) => ({ ...trip, readPoint })),
    ),
  };
}

function tripsOf({ rows, codes }: Runs, carrierS: number): Trip<string>[] {
  const aroundUs = Math.round(carrierS * 1e6);
  return rows.flatMap(({ tag, carrier, fromUs, toUs }) => [
    { tag: codes[tag]!, fromUs, toUs },
    ...(carrier < 0 ? [] : [{ tag: codes[carrier]!, fromUs: fromUs - aroundUs, toUs: toUs + aroundUs }]),
  ]);
}

/** What the other journeys and the facilities give to one journey. */
interface JourneySources {
  data: string;
  facilities: KnownFacilities;
  /** What the readers' logs of a facility tell of the tags of the runs; null where it has none. */
  heardAt(facility: string): ReaderSightings | null;
  /** Whether a facility that was read has an error: then not everything that it tells of is at hand. */
  isRefused(facility: string): boolean;
  others: readonly StartedJourney[];
}

/** Reads everything that tells of sightings, and joins it with the runs; null where any problem of the journey or of a facility of its legs is an error. */
export async function finishJourney(
  started: StartedJourney,
  sources: JourneySources,
): Promise<{ input: JourneyInput | null; problems: Problem[] }> {
  const { id, problems } = started;
  // Data without a journey need no database for it.
  const { openJourneyDatabase } = await import("./join.ts");
  const database = await openJourneyDatabase(join(sources.data, sightingsFile(id)));
  try {
    const input = await joined(started, { ...sources, database });
    if (input !== null) return { input, problems: input.problems };
  } finally {
    database.close();
  }
  return { input: null, problems: await placedProblems(problems, sources.data) };
}

/** Null where any problem is an error. */
async function joined(
  started: StartedJourney,
  sources: JourneySources & { database: LogDatabase },
): Promise<JourneyInput | null> {
  const { id, description, problems, inputs } = started;
  const { data, facilities, database } = sources;
  const { journey } = description;
  const runs = started.runs ?? noRuns;
  const told = new SightingColumns();
  const tags = new Map(runs.codes.map((code, number) => [code, number]));
  addHeard(told, { tags, ...sources }, started.facilities);
  const years = yearsOf(runs.rows);
  const task = { data, id, description, tags, facilities, told, database, years };
  inputs.push(...(await readFolder(task, problems)));
  remarkOnOthers(started, sources.others);
  if (problems.hasErrors || [...started.facilities].some(sources.isRefused)) return null;
  const { joinSightings, timesOfTags } = await import("./join.ts");
  const carrierS = journey.carrier?.withinS ?? 0;
  const { sightings, counts } = await joinSightings(database, runs.rows, { told, carrierS });
  if (started.runs !== null) {
    remarkOnOtherSightings(counts, started);
    const unseen = unseenRuns(runs.rows, sightings);
    const times = unseen.length === 0 || sightings.length === 0 ? null : await timesOfTags(database);
    remarkOnUnseen(unseen, times, started);
  }
  const places = [...description.epcis.values()].flatMap((place) => (place === "elsewhere" ? [] : [place]));
  const named = new Set([
    ...started.facilities,
    ...[...places, ...sightings.places].map(({ facility }) => facility),
  ]);
  return {
    journey,
    rows: runs.rows.map(({ at: _at, tagField: _field, ...row }) => row),
    tags: runs.tags,
    sightings,
    counts,
    readPointUris: [...description.epcis].flatMap(([uri, place]) =>
      place === "elsewhere" ? [] : [{ uri, ...place }],
    ),
    facilities: [...named].sort(byCodePoint).flatMap((name) => facilities.get(name) ?? []),
    inputs,
    problems: await placedProblems(problems, data),
  };
}

/** What is known of a journey that is not judged: its problems so far. */
export async function unfinishedJourney(
  { problems }: StartedJourney,
  data: string,
): Promise<{ input: null; problems: Problem[] }> {
  return { input: null, problems: await placedProblems(problems, data) };
}

const noRuns: Pick<Runs, "rows" | "tags" | "codes"> = { rows: [], tags: [], codes: [] };

function addHeard(
  told: SightingColumns,
  { tags, heardAt }: { tags: ReadonlyMap<string, number> } & Pick<JourneySources, "heardAt">,
  facilities: ReadonlySet<string>,
): void {
  for (const facility of facilities) {
    const heard = heardAt(facility);
    if (heard === null) continue;
    const tagOf = heard.codes.map((code) => tags.get(code) ?? -1);
    const places = heard.readPoints.map((readPoint) => told.placeOf({ facility, readPoint }));
    const sources = heard.files.map((path) => told.sourceOf(`${facility}/${path}`));
    for (let i = 0; i < heard.length; i += 1) {
      const tag = tagOf[heard.code[i]!]!;
      // What is of another journey's tags is nothing of this one.
      if (tag < 0) continue;
      const place = places[heard.readPoint[i]!]!;
      const source = sources[heard.file[i]!]!;
      told.add({ tag, place, timeUs: heard.timeUs[i]!, knownUs: Number.NaN, source });
    }
  }
}

interface FolderTask {
  data: string;
  id: string;
  description: JourneyDescription;
  tags: ReadonlyMap<string, number>;
  facilities: KnownFacilities;
  told: SightingColumns;
  database: LogDatabase;
  /** In which times on a wall clock are expected. */
  years: Years;
}

/** Reads what lies beside runs.csv in the folder of a journey. */
async function readFolder(task: FolderTask, problems: ProblemList): Promise<InputFile[]> {
  const { data, id, description, tags, facilities, told, database, years } = task;
  const folder = journeyTables(id);
  const names = (await readdir(join(data, folder)).catch(() => [] as string[])).sort(byCodePoint);
  const inputs: InputFile[] = [];
  const documents: string[] = [];
  for (const name of names) {
    const path = `${folder}/${name}`;
    if (name === "runs.csv" || name.startsWith(".")) continue;
    const place = await placeInFolder(data, path);
    if (place.problem !== null) problems.report({ file: path }, place.problem);
    else if (place.kind === "file" && name === "sightings.csv") {
      const { readSightings } = await import("./sightings.ts");
      const file = { path, onDisk: join(data, path) };
      const task = { file, tags, facilities, ofLegs: description.namesFacilities, told, database, years };
      inputs.push(await readSightings(task, problems));
    } else if (place.kind === "file" && /\.(?:json|jsonld|jsonl|ndjson)(?:\.gz)?$/i.test(name))
      documents.push(path);
    else problems.report({ file: path }, journeyFileNotRead.inFolder({ name }));
  }
  if (documents.length > 0) inputs.push(...(await readDocuments(documents, task, problems)));
  return inputs;
}

async function readDocuments(
  paths: readonly string[],
  { data, description, tags, told }: FolderTask,
  problems: ProblemList,
): Promise<InputFile[]> {
  const files = paths.map((path) => ({ path, place: join(data, path) }));
  const readPointOf = readPointFinder(description.epcis);
  const take = ({ path, epochUs, readPoint, code, knownAtUs }: EpcisSighting<Place>) =>
    told.add({
      tag: tags.get(code)!,
      place: told.placeOf(readPoint),
      timeUs: epochUs,
      knownUs: knownAtUs ?? Number.NaN,
      source: told.sourceOf(path),
    });
  const documents = await readEpcis<Place>(files, { codes: [...tags.keys()], readPointOf, take }, problems);
  return documents.map(({ path, sha256, bytes, events, used }) => {
    return { path, sha256, bytes, rows: events, used, void: 0 };
  });
}
