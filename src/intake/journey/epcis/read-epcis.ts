import { stat } from "node:fs/promises";
import { byCodePoint } from "../../../model/order.ts";
import { Times } from "../../csv/times.ts";
import {
  epcisCodeAmbiguous,
  epcisCodesUnknown,
  epcisDeclaredInError,
  epcisEventsUnused,
  epcisReadPointUnknown,
  epcisUnreadable,
} from "../../problems/epcis.ts";
import type { ProblemList } from "../../problems/problem-list.ts";
import { FormFault, type Item } from "../../reader-log/forms/item.ts";
import { Survey } from "../../reader-log/source/survey.ts";
import {
  type DocumentFile,
  documentMark,
  eventOf,
  eventTexts,
  type ObservedEvent,
  textsIn,
} from "./events.ts";
import { KnownTags } from "./known-tags.ts";

interface EpcisFile {
  /** As problems name it, with `/`. */
  path: string;
  /** Where it is on this machine. */
  place: string;
}

interface EpcisAsked<ReadPoint> {
  /** The canonical codes of the items and carriers that are looked for, each once. */
  codes: readonly string[];
  /** The read point that a URI stands for; `elsewhere` for one that is of no facility; null where nothing says. */
  readPointOf(uri: string): ReadPoint | "elsewhere" | null;
  /** Takes each sighting, in the order of the documents; also those of a document whose end turns out not to be readable. */
  take(sighting: EpcisSighting<ReadPoint>): void;
}

/** A tag that is looked for, at a read point. */
export interface EpcisSighting<ReadPoint> {
  /** Of the document. */
  path: string;
  /** Microseconds since 1970. */
  epochUs: number;
  readPoint: ReadPoint;
  code: string;
  /** When the event was recorded, in microseconds since 1970; null where it does not say. */
  knownAtUs: number | null;
}

/** How many events of a document were what; each counts once. */
interface EventCounts {
  events: number;
  /** With a tag that is looked for, at a read point of a facility. */
  used: number;
  /** Of other tags only, or elsewhere. */
  elsewhere: number;
  /** That say nothing of where a tag was heard: of another type, without a read point, the end of a code. */
  otherEvents: number;
  declaredInError: number;
  refused: number;
}

export interface EpcisDocument extends EventCounts {
  path: string;
  sha256: string;
  bytes: number;
}

/**
 * Reads EPCIS 2.0 documents in JSON (EPCISDocument, EPCISQueryDocument, lists of events and single events) piece by piece, and hands on only
 * what is asked for. Documents that cannot be read are left out, and every fault is reported.
 *
 * A sighting is an EPC of an ObjectEvent or an AggregationEvent, children and parent alike, at its readPoint and eventTime; recordTime
 * is when it was known. An ObjectEvent with action DELETE is none: the end of a code can be recorded where no tag is heard. Nor is an event that
 * any of the documents declares in error.
 *
 * Source: EPCIS 2.0, event types, action and error declaration (from memory; members as in the JSON schema of the standard's public
 * repository, read, whose text may differ from the ratified one).
 */
export async function readEpcis<ReadPoint>(
  files: readonly EpcisFile[],
  asked: EpcisAsked<ReadPoint>,
  problems: ProblemList,
): Promise<EpcisDocument[]> {
  const sound: SurveyedFile[] = [];
  for (const { path, place } of files) {
    const zipped = /\.gz$/i.test(path);
    const survey = new Survey({ place, zipped, mostLineBytes: null });
    await survey.done;
    if (survey.fault !== null) {
      problems.report({ file: path }, survey.fault);
      continue;
    }
    const marks = await textsIn({ place, zipped }, [documentMark, declaration]);
    const isDocument = marks.has(documentMark);
    sound.push({ path, place, zipped, survey, isDocument, hasDeclarations: marks.has(declaration) });
  }
  const withdrawn = await withdrawnEvents(sound);
  const search = new Search(asked, problems);
  const documents: EpcisDocument[] = [];
  for (const file of sound) {
    const document = await readDocument(file, { search, withdrawn, problems });
    const changed = await file.survey.changed();
    if (changed !== null) problems.report({ file: file.path }, changed);
    if (document !== null) documents.push(document);
  }
  search.reportUnknown();
  return documents;
}

interface SurveyedFile extends EpcisFile, DocumentFile {
  survey: Survey;
  /** Whether any event may be declared in error. */
  hasDeclarations: boolean;
}

/**
 * The names of events that any document declares in error. A declaration repeats the event that it withdraws, with the same eventID
 * where that has one. Most documents hold none, and are not read for it.
 */
async function withdrawnEvents(files: readonly SurveyedFile[]): Promise<Set<string>> {
  const withdrawn = new Set<string>();
  const times = new Times(null);
  for (const file of files) {
    if (!file.hasDeclarations) continue;
    try {
      for await (const items of eventTexts(file)) {
        for (const item of items) {
          if (!item.shown.includes(declaration)) continue;
          const event = eventOf(item, times);
          if (event.kind === "observed" && event.isDeclaredInError) withdrawn.add(event.name());
        }
      }
    } catch (fault) {
      // It is said where the document is read.
      if (!(fault instanceof FormFault)) throw fault;
    }
  }
  return withdrawn;
}

const declaration = '"errorDeclaration"';

/** Where an event stands. */
interface Place {
  file: string;
  line: number;
  column: number;
}

/** Finds the tags that are asked for in events, and remembers what cannot be told. */
class Search<ReadPoint> {
  readonly #asked: EpcisAsked<ReadPoint>;
  readonly #tags: KnownTags;
  readonly #problems: ProblemList;
  readonly #readPoints = new Map<string, ReadPoint | "elsewhere" | null>();
  /** By URI: read points that nothing is known of, where tags were heard. */
  readonly #unknown = new Map<string, { place: Place; sightings: number }>();
  readonly #ambiguous = new Set<string>();

  constructor(asked: EpcisAsked<ReadPoint>, problems: ProblemList) {
    this.#asked = asked;
    this.#tags = new KnownTags(asked.codes);
    this.#problems = problems;
  }

  take(sighting: EpcisSighting<ReadPoint>): void {
    this.#asked.take(sighting);
  }

  /** The tags of an event that are looked for, each once, and the read point; `elsewhere` also stands for one that is not known. */
  find(
    { readPoint: uri, epcs }: ObservedEvent & { readPoint: string },
    place: Place,
  ): { codes: ReadonlySet<string>; readPoint: ReadPoint | "elsewhere" } {
    const codes = new Set<string>();
    for (const epc of epcs) {
      const alike = this.#tags.codesOf(epc);
      if (alike.length > 1 && !this.#ambiguous.has(epc)) {
        this.#ambiguous.add(epc);
        this.#problems.report(place, epcisCodeAmbiguous.with({ epc, codes: alike }));
      }
      if (alike.length > 0) codes.add(alike[0]!);
    }
    let readPoint = this.#readPoints.get(uri);
    if (readPoint === undefined) {
      readPoint = this.#asked.readPointOf(uri);
      this.#readPoints.set(uri, readPoint);
    }
    if (readPoint !== null) return { codes, readPoint };
    if (codes.size > 0) {
      const known = this.#unknown.get(uri);
      if (known === undefined) this.#unknown.set(uri, { place, sightings: codes.size });
      else known.sightings += codes.size;
    }
    return { codes, readPoint: "elsewhere" };
  }

  /** Asks about each read point that nothing is known of. */
  reportUnknown(): void {
    for (const [uri, { place, sightings }] of this.#unknown)
      this.#problems.report(place, epcisReadPointUnknown.with({ uri, sightings }));
  }
}

/** Null, with the fault reported, where the document is no JSON. */
async function readDocument<ReadPoint>(
  file: SurveyedFile,
  {
    search,
    withdrawn,
    problems,
  }: {
    search: Search<ReadPoint>;
    withdrawn: ReadonlySet<string>;
    problems: ProblemList;
  },
): Promise<EpcisDocument | null> {
  const { path, place, survey } = file;
  const times = new Times(null);
  const counts: EventCounts = {
    events: 0,
    used: 0,
    elsewhere: 0,
    otherEvents: 0,
    declaredInError: 0,
    refused: 0,
  };
  const unused = new Unused();
  const isWithdrawn = (event: ObservedEvent) =>
    event.isDeclaredInError || (withdrawn.size > 0 && withdrawn.has(event.name()));
  const take = (item: Item) => {
    const at = { file: path, line: item.line, column: item.column };
    const event = eventOf(item, times);
    counts.events += 1;
    if (event.kind === "refused") {
      counts.refused += 1;
      problems.report(at, event.problem);
    } else if (event.kind === "observed" && isWithdrawn(event)) {
      counts.declaredInError += 1;
    } else if (event.kind === "other") {
      counts.otherEvents += 1;
      unused.addType(event.type);
    } else if (!unused.isObservation(event)) {
      counts.otherEvents += 1;
    } else {
      const { codes, readPoint } = search.find(event, at);
      unused.addEpcs(event.epcs, codes.size);
      if (codes.size === 0 || readPoint === "elsewhere") {
        counts.elsewhere += 1;
        return;
      }
      counts.used += 1;
      const { epochUs, knownAtUs } = event;
      for (const code of codes) search.take({ path, epochUs, readPoint, code, knownAtUs });
    }
  };
  try {
    for await (const items of eventTexts(file)) for (const item of items) take(item);
  } catch (fault) {
    if (!(fault instanceof FormFault)) throw fault;
    problems.report({ file: path, line: fault.line, column: 1 }, epcisUnreadable.broken(fault.message));
    return null;
  }
  if (counts.events === 0) problems.report({ file: path }, epcisUnreadable.empty());
  if (counts.declaredInError > 0)
    problems.report({ file: path }, epcisDeclaredInError.with(counts.declaredInError));
  unused.report(path, problems);
  const { size: bytes } = await stat(place);
  return { path, sha256: survey.sha256, bytes, ...counts };
}

/** What a document holds besides sightings, to be remarked on. */
class Unused {
  readonly #types = new Set<string>();
  #ofOtherTypes = 0;
  #withoutReadPoint = 0;
  #deletions = 0;
  #quantities = 0;
  #epcs = 0;
  #known = 0;
  #firstEpc = "";

  addType(type: string): void {
    this.#types.add(type);
    this.#ofOtherTypes += 1;
  }

  /** Whether an event says where tags were heard; counted where it does not. */
  isObservation(event: ObservedEvent): event is ObservedEvent & { readPoint: string } {
    this.#quantities += event.quantities;
    if (event.isDeletion) this.#deletions += 1;
    else if (event.readPoint === null) this.#withoutReadPoint += 1;
    return !event.isDeletion && event.readPoint !== null;
  }

  addEpcs(epcs: readonly string[], known: number): void {
    if (this.#epcs === 0) this.#firstEpc = epcs[0] ?? "";
    this.#epcs += epcs.length;
    this.#known += known;
  }

  report(path: string, problems: ProblemList): void {
    const say = (count: number, text: () => Parameters<ProblemList["report"]>[1]) => {
      if (count > 0) problems.report({ file: path }, text());
    };
    const types = [...this.#types].sort(byCodePoint);
    say(this.#ofOtherTypes, () => epcisEventsUnused.otherTypes({ events: this.#ofOtherTypes, types }));
    say(this.#withoutReadPoint, () => epcisEventsUnused.withoutReadPoint(this.#withoutReadPoint));
    say(this.#deletions, () => epcisEventsUnused.deletions(this.#deletions));
    say(this.#quantities, () => epcisEventsUnused.quantities(this.#quantities));
    if (this.#known === 0)
      say(this.#epcs, () => epcisCodesUnknown.with({ epcs: this.#epcs, first: this.#firstEpc }));
  }
}
