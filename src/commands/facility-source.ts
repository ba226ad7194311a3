import { join } from "node:path";
import { judgeJourney } from "../analysis/journey/judge-journey.ts";
import { type WalkedPlaces, walkedPlaces } from "../analysis/journey/promise.ts";
import { judgeFacility } from "../analysis/judge.ts";
import { knownFacilities, listFacilities, listJourneys } from "../intake/data-folder.ts";
import { journeysFolder } from "../intake/journey/journeys-folder.ts";
import {
  finishJourney,
  type KnownFacilities,
  type StartedJourney,
  startJourney,
  travelsAt,
  unfinishedJourney,
} from "../intake/journey/read-journey.ts";
import { journeyLeftOut, journeyNameTaken } from "../intake/problems/journey.ts";
import { readFacilityFolder } from "../intake/read-facility-folder.ts";
import type { ReaderSightings } from "../intake/reader-log/database/travels.ts";
import type { Journey, JourneyInput } from "../model/journey/journey.ts";
import type { JourneyResult } from "../model/journey/journey-result.ts";
import type { FacilityInput } from "../model/pass-log.ts";
import type { Problem } from "../model/problem.ts";
import type { Result } from "../model/result.ts";
import { toolVersion } from "../site/package/package-folders.ts";
import type { Source, Terminal } from "./command.ts";
import { type Progress, problemLines, progressOn, refusalAdvice } from "./lines/lines.ts";

/** At least one input has an error, so no verdict may be given; carries every problem found, warnings too. */
export class InputRefused extends Error {
  readonly problems: Problem[];
  constructor(problems: Problem[]) {
    super("The inputs have errors.");
    this.problems = problems;
  }
}

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
  /** Null for a journey that is judged; else the facilities that --only leaves out: all of them where only its trips matter. */
  missingFor(journey: StartedJourney): string[] | null;
  problems: Problem[];
  /** Facilities or the folder are such that nothing can be read. */
  known: KnownFacilities;
}

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
  const known = journeyIds.length === 0 ? new Map() : await knownFacilities(data, everything.ids);
  const isAsked = (id: string) => only.length === 0 || shown.ids.includes(id);
  const started: StartedJourney[] = [];
  for (const id of journeyIds) {
    const journey = await startJourney(data, id, { facilities: known });
    // A facility's own name is taken, wherever both are.
    if (everything.ids.includes(id))
      journey.problems.report({ file: `${journeysFolder}/${id}.yaml` }, journeyNameTaken.with({ id }));
    started.push(journey);
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
    missingFor: ({ id, facilities: own }) => {
      if (only.length === 0 || wanted.includes(id)) return null;
      const missing = [...own].filter((facility) => !isAsked(facility));
      return missing.length === 0 ? null : missing;
    },
    problems: [...shown.problems, ...(only.length === 0 ? problems : [])],
    known,
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
  const start = (index: number): ReturnType<typeof readFacilityFolder> | null => {
    const id = ids[index];
    if (id === undefined) return null;
    progress.step(`Reading ${id}, ${index + 1} of ${ids.length}`);
    const reading = readFacilityFolder(join(source.data, id), { travels: () => travelsAt(id, journeys) });
    // A fault is thrown where its facility's turn comes; until then it is not unhandled.
    reading.catch(() => {});
    return reading;
  };
  const heard = new Map<string, ReaderSightings | null>();
  const refused = new Set<string>();
  let current = start(0);
  for (let index = 1; current !== null; index += 1) {
    const next = start(index);
    const { heard: own, ...read } = await current;
    const id = ids[index - 1]!;
    heard.set(id, own);
    if (read.input === null) refused.add(id);
    yield { kind: "facility", ...read, hidden: !asked.isShown(id) };
    current = next;
  }
  for (const journey of journeys) {
    progress.step(`Reading ${journey.id}`);
    const missing = asked.missingFor(journey);
    const file = `${journeysFolder}/${journey.id}.yaml`;
    if (missing !== null) {
      if (missing.length < journey.facilities.size)
        journey.problems.report({ file }, journeyLeftOut.with({ missing }));
      else if (!journey.problems.hasErrors) continue;
    }
    const isRead = missing === null;
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

/** What the commands show: facilities and the journeys over them. */
export interface Judged {
  facilities: Result[];
  journeys: JourneyResult[];
  /** On what --only leaves out; warnings only. */
  remarks: Problem[];
}

/** What comes of judging besides the results of the facilities. */
interface JudgedBesides {
  /** Takes the journeys that will be judged, before the first facility is. */
  onStart?(journeys: Journey[]): void;
  /** Takes each journey once it is judged, after the facilities. */
  onJourney?(result: JourneyResult): void;
  /** Takes the problems of what is left out, all of them warnings. */
  onRemark?(problems: Problem[]): void;
}

/**
 * Judges the facilities one after the other, then the journeys. After the first that has an error nothing more is judged, but the rest
 * are still read, so that InputRefused, thrown at the end, holds every problem there is.
 */
export async function* judgeAll(
  source: Source,
  progress: Progress,
  { onStart = () => {}, onJourney = () => {}, onRemark = () => {} }: JudgedBesides = {},
): AsyncGenerator<Result> {
  const problems: Problem[] = [];
  const walked = new Map<string, WalkedPlaces>();
  let refused = false;
  for await (const read of readAll(source, progress, onStart)) {
    problems.push(...read.problems);
    if (read.input === null) {
      if (read.hidden && read.problems.every(({ severity }) => severity === "warning"))
        onRemark(read.problems);
      else refused = true;
    } else if (refused) continue;
    else if (read.kind === "journey") onJourney(judgeJourney(read.input, { walked, version: toolVersion }));
    else if (read.kind === "facility") {
      const result = judgeFacility(read.input, toolVersion);
      walked.set(result.facility.id, walkedPlaces(result));
      if (!read.hidden) yield result;
    }
  }
  if (refused) throw new InputRefused(problems);
}

/** What was judged; null where an input has an error, once every problem is told and what came of it. */
export async function judgedResults(
  source: Source,
  outcome: Parameters<typeof refusalAdvice>[1],
  terminal: Terminal,
): Promise<Judged | null> {
  const progress = progressOn(terminal);
  const judged: Judged = { facilities: [], journeys: [], remarks: [] };
  try {
    const results = judgeAll(source, progress, {
      onJourney: (journey) => judged.journeys.push(journey),
      onRemark: (problems) => judged.remarks.push(...problems),
    });
    for await (const result of results) judged.facilities.push(result);
  } catch (refusal) {
    progress.done();
    if (!(refusal instanceof InputRefused)) throw refusal;
    terminal.err(problemLines(refusal.problems, source.data));
    terminal.err(refusalAdvice(refusal.problems, outcome));
    return null;
  }
  progress.done();
  return judged;
}
