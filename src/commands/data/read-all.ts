import { join } from "node:path";
import { listFacilities, listJourneys } from "../../intake/data-folder.ts";
import { type OpenedFacility, openFacility } from "../../intake/facility/facility.ts";
import type { KnownFacilities, StartedJourney } from "../../intake/journey/read-journey.ts";
import { journeyLeftOut, journeyNameTaken } from "../../intake/problems/journey.ts";
import { readFacility } from "../../intake/read-facility-folder.ts";
import type { ReaderSightings, Travels } from "../../intake/reader-log/database/travels.ts";
import type { Journey, JourneyFacility, JourneyInput } from "../../model/journey/journey.ts";
import { journeyFile } from "../../model/journey/journey-files.ts";
import type { FacilityInput } from "../../model/pass-log.ts";
import type { Problem } from "../../model/problem.ts";
import type { Progress, Source } from "../lines/terminal.ts";

/** What was read of one facility or one journey, or is wrong with the data folder itself. */
export type Read =
  | { kind: "facility"; input: FacilityInput | null; problems: Problem[] }
  | { kind: "journey"; input: JourneyInput | null; problems: Problem[] }
  | { kind: "folder"; input: null; problems: Problem[] };

/** What --only asks for, and what it takes to read that. */
interface Asked {
  /** Facilities to be read; those that are only read for a journey are no part of the answer. */
  facilities: string[];
  isShown(facility: string): boolean;
  /** Those over the facilities that are read. */
  journeys: StartedJourney[];
  /** Every journey of the data folder. */
  others: StartedJourney[];
  /** When the tags of the journeys were under way at a facility; null where none were. */
  travelsAt(facility: string): Travels | null;
  /** Null for a journey that is judged; else the facilities that --only leaves out: all of them where only its trips matter. */
  missingFor(journey: StartedJourney): string[] | null;
  problems: Problem[];
  /** Facilities or the folder are such that nothing can be read. */
  known: KnownFacilities;
  /** Facilities whose facility.yaml was read for the journeys: each is taken out when the rest of it is read. */
  opened: Map<string, OpenedFacility>;
}

/** Data without a journey need none of it. */
const journeyReading = () => import("../../intake/journey/read-journey.ts");

/** Journeys come first, as far as that goes: what the readers heard of their tags is not idle. */
async function askedOf({ data, only }: Source): Promise<Asked> {
  const { ids: journeyIds, problems } = await listJourneys(data);
  const named = only.filter((id) => !journeyIds.includes(id));
  const wanted = only.filter((id) => journeyIds.includes(id));
  const everything = await listFacilities(data, []);
  const shown =
    wanted.length > 0 && named.length === 0
      ? { ids: [], problems: [] }
      : await listFacilities(data, named, journeyIds);
  const isAsked = (id: string) => only.length === 0 || shown.ids.includes(id);
  const started: StartedJourney[] = [];
  const opened = new Map<string, OpenedFacility>();
  const known = new Map<string, JourneyFacility | null>();
  const reading = journeyIds.length === 0 ? null : await journeyReading();
  if (reading !== null) {
    for (const id of everything.ids) {
      const facility = await openFacility(join(data, id));
      opened.set(id, facility);
      known.set(id, reading.knownFacility(facility));
    }
    for (const id of journeyIds) {
      const journey = await reading.startJourney(data, id, { facilities: known });
      // A facility's own name is taken, wherever both are.
      if (everything.ids.includes(id))
        journey.problems.report({ file: journeyFile(id) }, journeyNameTaken.with({ id }));
      started.push(journey);
    }
  }
  const needed = started.filter(({ id }) => wanted.includes(id)).flatMap(({ facilities }) => [...facilities]);
  // A facility is the same whatever is asked for, so every journey over it is read.
  const journeys = started.filter(
    ({ id, facilities }) =>
      only.length === 0 ||
      wanted.includes(id) ||
      [...facilities].some((each) => isAsked(each) || needed.includes(each)),
  );
  const facilities = everything.ids.filter((id) => isAsked(id) || needed.includes(id));
  return {
    facilities,
    isShown: isAsked,
    journeys,
    others: started,
    travelsAt: (facility) => reading?.travelsAt(facility, journeys) ?? null,
    missingFor: ({ id, facilities: own }) => {
      if (only.length === 0 || wanted.includes(id)) return null;
      const missing = [...own].filter((facility) => !isAsked(facility));
      return missing.length === 0 ? null : missing;
    },
    problems: [...shown.problems, ...(only.length === 0 ? problems : [])],
    known,
    opened,
  };
}

/**
 * Reads the facilities and then the journeys, the sound and the unsound, so that every problem is found at once. Facilities come in their
 * order, and the next one is read meanwhile: while one waits for the database the other goes on. A facility that is only read for a
 * journey is `hidden`.
 */
export async function* readAll(
  source: Source,
  progress: Progress,
  onStart: (journeys: Journey[]) => void = () => {},
): AsyncGenerator<Read & { hidden: boolean }> {
  const asked = await askedOf(source);
  const judged = asked.journeys.filter((journey) => asked.missingFor(journey) === null);
  onStart(judged.map(({ description }) => description.journey));
  const { facilities: ids, journeys, known } = asked;
  if (asked.problems.length > 0) {
    const isRefused = asked.problems.some(({ severity }) => severity === "error");
    yield { kind: "folder", input: null, problems: asked.problems, hidden: !isRefused };
    if (isRefused && ids.length === 0) return;
  }
  const read = async (id: string) => {
    const opened = asked.opened.get(id) ?? (await openFacility(join(source.data, id)));
    asked.opened.delete(id);
    return readFacility(opened, () => asked.travelsAt(id));
  };
  const start = (index: number): ReturnType<typeof readFacility> | null => {
    const id = ids[index];
    if (id === undefined) return null;
    progress.step(`Reading ${id}, ${index + 1} of ${ids.length}`);
    const reading = read(id);
    // A fault is thrown where its facility's turn comes; until then it is not unhandled.
    reading.catch(() => {});
    return reading;
  };
  const heard = new Map<string, ReaderSightings | null>();
  const refused = new Set<string>();
  let current = start(0);
  for (let index = 1; current !== null; index += 1) {
    const next = start(index);
    const { heard: own, ...facility } = await current;
    const id = ids[index - 1]!;
    heard.set(id, own);
    if (facility.input === null) refused.add(id);
    yield { kind: "facility", ...facility, hidden: !asked.isShown(id) };
    current = next;
  }
  for (const journey of journeys) {
    progress.step(`Reading ${journey.id}`);
    const missing = asked.missingFor(journey);
    const file = journeyFile(journey.id);
    if (missing !== null) {
      if (missing.length < journey.facilities.size)
        journey.problems.report({ file }, journeyLeftOut.with({ missing }));
      else if (!journey.problems.hasErrors) continue;
    }
    const isRead = missing === null;
    const { finishJourney, unfinishedJourney } = await journeyReading();
    const read = isRead
      ? await finishJourney(journey, {
          data: source.data,
          facilities: known,
          heardAt: (facility) => heard.get(facility) ?? null,
          isRefused: (facility) => refused.has(facility),
          others: asked.others,
        })
      : await unfinishedJourney(journey, source.data);
    // What is left out has problems, but no input; only an error of it stands in the way.
    yield { kind: "journey", ...read, hidden: !isRead };
  }
}
