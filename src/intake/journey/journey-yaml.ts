import type { z } from "zod";
import { measures } from "../../measures/index.ts";
import { journeyMeasures } from "../../measures/journey/index.ts";
import type { Round } from "../../model/facility.ts";
import type { Journey, JourneyCriterion, JourneyFacility, Place } from "../../model/journey/journey.ts";
import { checkLimit, checkParameters, parametersOf, requirementOf } from "../facility/criterion.ts";
import { checkUnique } from "../facility/names.ts";
import { checkPlaceholders, checkSignatories } from "../facility/placeholders.ts";
import { judgingRanges, normaliseJudged } from "../facility/report.ts";
import { checkOrder } from "../facility/rounds.ts";
import {
  epcisTarget,
  journeyBlank,
  journeyCarrierMissing,
  journeyFacilityUnknown,
  journeyForEach,
  journeyLegsAlike,
  journeyLegsOptional,
  journeyLegsUnused,
  journeyReadPointUnknown,
} from "../problems/journey.ts";
import { ProblemList } from "../problems/problem-list.ts";
import { type Path, YamlReport } from "../problems/reports.ts";
import { reportMissing } from "../problems/yaml.ts";
import { readYaml, type YamlTree } from "../yaml/document.ts";
import { parseShape, wellFormed } from "../yaml/parse-shape.ts";
import { type Entry, type OwnWords, valueAt } from "../yaml/shape.ts";
import { checkTimeZone, isTimeZone } from "../yaml/time-zone.ts";
import {
  anyCriterionShape,
  epcisPlaceShape,
  journeyJsonSchema,
  journeySchema,
  legShape,
  type RawJourney,
  type RawJourneyCriterion,
  roundShape,
} from "./journey-schema.ts";

/** What a journey's YAML says, with what only its intake needs. */
export interface JourneyDescription {
  journey: Journey;
  /** IANA name, for times of runs.csv that state no offset; null where every time needs one. */
  timeZone: string | null;
  /** Read points by the URIs of EPCIS documents. */
  epcis: ReadonlyMap<string, Place | "elsewhere">;
  report: YamlReport;
  /** False where the YAML cannot be read so far: then any round of runs.csv is taken. */
  areRoundsKnown: boolean;
  /** What the legs name, those that do not hold together too. */
  namesFacilities: ReadonlySet<string>;
}

type Facilities = ReadonlyMap<string, JourneyFacility | null>;

/** The facilities of the data folder, by id; or the time zone that was theirs, where they are not at hand. */
type Beside = { facilities: Facilities } | { timeZone: string | null };

const ownWords = (file: string): OwnWords => ({
  file,
  ranges: judgingRanges,
  unknownKey: () => null,
  choice: (word) =>
    measures.find(word) === null
      ? null
      : `${word} counts passes at one read point: ask it in that facility's facility.yaml.`,
});

/**
 * Reads the text of a journey's YAML. Where the list of problems holds an error afterwards, the journey is a draft that serves only to
 * check its runs and sightings against it.
 *
 * @param beside the facilities of the data folder, by id, null for one whose facility.yaml cannot be read; or the time zone that was
 *   theirs, where they are not at hand and nothing is asked of them
 */
export function readJourneyYaml(
  { id, file, source }: { id: string; file: string; source: string },
  beside: Beside,
  problems: ProblemList,
): JourneyDescription {
  const tree = readYaml(source, file, problems);
  if (tree === null) return unreadJourney({ id, file, source });
  if (typeof tree.value !== "object" || tree.value === null || Array.isArray(tree.value)) {
    problems.report({ file, line: 1, column: 1 }, journeyBlank.with({ isNothing: tree.value === null }));
    return unreadJourney({ id, file, source });
  }
  const report = new YamlReport(tree, file, problems);
  const sections = rawSections(tree, file, report);
  checkPlaceholders(tree.value, report);
  checkSignatories(tree.value, report);
  check(sections, "facilities" in beside ? beside.facilities : null, report);
  const raw = sections.whole ?? draftOf(sections);
  return {
    journey: normalised(id, raw),
    areRoundsKnown: sections.whole !== null || sections.areRoundsKnown,
    namesFacilities: new Set(sections.facilities),
    timeZone: zoneOf(sections, beside),
    epcis: new Map(
      Object.entries(raw.epcis ?? {}).map(([uri, place]) => [
        uri,
        typeof place === "string" ? "elsewhere" : { facility: place.facility, readPoint: place.read_point },
      ]),
    ),
    report,
  };
}

/**
 * A stand-in for a journey's YAML that cannot be read, so that what is wrong with its runs and sightings by themselves shows in the same
 * run. Its rounds and legs are not known; a column and URIs that the text seems to declare are taken as declared.
 */
export function unreadJourney({
  id,
  file,
  source,
}: {
  id: string;
  file: string;
  source: string;
}): JourneyDescription {
  const column = /\bcolumn:\s*["']?([^\s"',}#]+)/.exec(source)?.[1];
  const uris = [...source.matchAll(/\b((?:urn|https?):[^\s"',{}]+?)["']?:\s/g)].map(([, uri]) => uri!);
  const text = JSON.stringify({
    rounds: [{}],
    ...(column === undefined ? {} : { carrier: { column } }),
    epcis: Object.fromEntries(uris.map((uri) => [uri, "elsewhere"])),
  });
  return readJourneyYaml({ id, file, source: text }, { timeZone: "UTC" }, new ProblemList(null));
}

/** What a journey's YAML says, as far as it is well formed: a slip in one entry does not hide what is wrong with the others. */
function rawSections(tree: YamlTree, file: string, report: YamlReport) {
  const own = ownWords(file.split("/").at(-1)!);
  const { value, whole } = parseShape(tree, journeySchema(), { json: journeyJsonSchema, own, report });
  const entriesOf = (section: string): [number, unknown][] => {
    const found = valueAt(value, [section]);
    return Array.isArray(found) ? [...found.entries()] : [];
  };
  const list = <T extends z.ZodType>(section: string, schema: T): Entry<z.infer<T>>[] =>
    entriesOf(section).flatMap(([i, entry]) => wellFormed(entry, [section, i], schema));
  // Ids of malformed entries count as well, so that nothing is called unknown for another's slip.
  const textsOf = (section: string, key: string) =>
    entriesOf(section)
      .map(([, entry]) => valueAt(entry, [key]))
      .filter((name) => typeof name === "string");
  const declared = (section: string, what: string) => ({
    names: new Set(textsOf(section, "id")),
    what,
    section,
  });
  const rounds = declared("rounds", "the id of a round");
  const uris = valueAt(value, ["epcis"]);
  return {
    value,
    /** Null where anything is malformed. */
    whole,
    legs: list("legs", legShape),
    rounds: list("rounds", roundShape),
    criteria: list("criteria", anyCriterionShape()) as Entry<RawJourneyCriterion>[],
    /** URIs of the EPCIS documents; null for one whose place is malformed. */
    uris: (typeof uris === "object" && uris !== null && !Array.isArray(uris) ? Object.entries(uris) : []).map(
      ([uri, place]) => [uri, wellFormed(place, ["epcis", uri], epcisPlaceShape)[0]?.value ?? null] as const,
    ),
    /** Every facility that a leg names. */
    facilities: textsOf("legs", "facility"),
    areLegsWhole: entriesOf("legs").length > 0 && list("legs", legShape).length === entriesOf("legs").length,
    areRoundsKnown:
      (valueAt(value, ["rounds"]) ?? null) === null || rounds.names.size === entriesOf("rounds").length,
    declared: { rounds, legs: declared("legs", "the id of a leg") },
  };
}

type Sections = ReturnType<typeof rawSections>;

/** What runs and sightings are checked against where anything in the YAML is malformed. */
function draftOf({ value, legs, declared, uris }: Sections): RawJourney {
  const rounds = [...declared.rounds.names];
  const column = valueAt(value, ["carrier", "column"]);
  const zone = valueAt(value, ["time_zone"]);
  return {
    title: "",
    ...(typeof zone === "string" ? { time_zone: zone } : {}),
    ...(rounds.length === 0 ? {} : { rounds: rounds.map((id) => ({ id })) }),
    legs: legs.map((leg) => leg.value),
    ...(typeof column === "string" ? { carrier: { column, at: [], within_s: 0 } } : {}),
    epcis: Object.fromEntries(uris.map(([uri, place]) => [uri, place ?? "elsewhere"])),
  };
}

/** That of runs.csv: its own, or the one that all facilities of the legs keep. A zone that is not known is not blamed on the times. */
function zoneOf({ value, legs, areLegsWhole }: Sections, beside: Beside): string | null {
  const own = valueAt(value, ["time_zone"]) ?? null;
  if (typeof own === "string" && isTimeZone(own)) return own;
  if ("timeZone" in beside) return beside.timeZone;
  const zones = new Set(legs.map((leg) => beside.facilities.get(leg.value.facility)?.timeZone ?? null));
  const shared = zones.size === 1 ? [...zones][0]! : null;
  const isKnown =
    own === null && areLegsWhole && legs.every((leg) => beside.facilities.get(leg.value.facility) != null);
  return shared ?? (isKnown ? null : "UTC");
}

/** What the sections say about each other. */
function check(sections: Sections, facilities: Facilities | null, report: YamlReport): void {
  const { value, legs, declared } = sections;
  if ((valueAt(value, ["report"]) ?? null) === null) report.whole(reportMissing);
  const zone = valueAt(value, ["time_zone"]);
  if (typeof zone === "string") checkTimeZone(["time_zone"], zone, report);
  checkRounds(sections, report);
  checkUnique(legs, "id", report);
  for (const { value: leg, path } of legs) {
    checkPlace(leg, facilities, { path, report });
    const before = legs.find((other) => other.path[1] === (path[1] as number) - 1)?.value;
    if (before?.facility === leg.facility && before.read_point === leg.read_point)
      report.value([...path, "read_point"], journeyLegsAlike.with({ before: before.id }));
  }
  if (sections.areLegsWhole && legs.every((leg) => leg.value.optional === true))
    report.value(["legs"], journeyLegsOptional);
  const at = valueAt(value, ["carrier", "at"]);
  for (const [i, leg] of (Array.isArray(at) ? at : []).entries())
    if (typeof leg === "string" && declared.legs.names.size > 0)
      report.reference(["carrier", "at", i], leg, declared.legs);
  for (const [uri, place] of sections.uris) {
    const path = ["epcis", uri];
    if (place !== null && typeof place !== "string") checkPlace(place, facilities, { path, report });
    else if (place !== null && place !== "elsewhere") report.value(path, epcisTarget);
  }
  checkCriteria(sections, report);
}

function checkCriteria({ value, criteria, declared }: Sections, report: YamlReport): void {
  checkUnique(criteria, "id", report);
  const namesCarrier = (valueAt(value, ["carrier"]) ?? null) !== null;
  for (const { value: criterion, path } of criteria) {
    const card = journeyMeasures.get(criterion.measure);
    checkLimit(criterion, card, { path, report });
    checkParameters(criterion, card, { path, report });
    if (card.asksCarrier && !namesCarrier) report.value([...path, "measure"], journeyCarrierMissing);
    for (const [k, name] of (criterion.for_each ?? []).entries())
      if (name !== "leg") report.value([...path, "for_each", k], journeyForEach);
    for (const [k, leg] of (declared.legs.names.size === 0 ? [] : (criterion.legs ?? [])).entries())
      report.reference([...path, "legs", k], leg, declared.legs);
    if (criterion.legs != null && card.byLeg === "possible" && criterion.for_each == null)
      report.key([...path, "legs"], journeyLegsUnused.with());
  }
}

function checkRounds({ value, rounds, declared }: Sections, report: YamlReport): void {
  checkOrder(rounds, report);
  const signOff = valueAt(value, ["sign_off_round"]);
  if (typeof signOff === "string") report.reference(["sign_off_round"], signOff, declared.rounds);
}

function checkPlace(
  { facility: id, read_point: point }: { facility: string; read_point: string },
  facilities: Facilities | null,
  { path, report }: { path: Path; report: YamlReport },
): void {
  if (facilities === null) return;
  const facility = facilities.get(id);
  if (facility === undefined)
    report.value([...path, "facility"], journeyFacilityUnknown.with({ id, known: [...facilities.keys()] }));
  // One whose facility.yaml cannot be read has been objected to where it is read.
  else if (facility !== null && !facility.readPoints.some((known) => known.id === point)) {
    const known = facility.readPoints.map((one) => one.id);
    report.value([...path, "read_point"], journeyReadPointUnknown.with({ id: point, facility: id, known }));
  }
}

function normalised(id: string, raw: RawJourney): Journey {
  const rounds = (raw.rounds ?? [{ id: "runs" }]).map(
    (round): Round => ({
      id: round.id,
      title: ("title" in round ? round.title : null) ?? (raw.rounds == null ? "Runs" : round.id),
      date: ("date" in round ? round.date : null) ?? null,
      changes: ("changes" in round ? round.changes : null) ?? null,
      settings: {},
    }),
  );
  return {
    id,
    title: raw.title,
    ...normaliseJudged(raw),
    rounds,
    signOffRound: raw.sign_off_round ?? rounds.at(-1)!.id,
    legs: raw.legs.map((leg) => ({
      id: leg.id,
      facility: leg.facility,
      readPoint: leg.read_point,
      withinS: leg.within_s ?? null,
      optional: leg.optional ?? false,
    })),
    carrier:
      raw.carrier == null
        ? null
        : { column: raw.carrier.column, at: raw.carrier.at, withinS: raw.carrier.within_s },
    criteria: ((raw.criteria ?? []) as RawJourneyCriterion[]).map(normalisedCriterion),
    plan:
      raw.plan == null
        ? null
        : {
            tagsPerRun: raw.plan.tags_per_run,
            sameTags: raw.plan.same_tags ?? false,
            expectedRate: raw.plan.expected_rate,
            expectedOrderRate: raw.plan.expected_order_rate ?? null,
          },
  };
}

function normalisedCriterion(raw: RawJourneyCriterion): JourneyCriterion {
  const { byLeg } = journeyMeasures.get(raw.measure);
  const isByLeg = byLeg === "always" || (byLeg === "possible" && raw.for_each != null);
  return {
    ...requirementOf(raw),
    readPoints: [],
    where: raw.legs == null ? [] : [{ column: "leg", kind: "values", values: raw.legs }],
    forEach: isByLeg ? ["leg"] : [],
    minimumPasses: raw.minimum_runs ?? 1,
    ...parametersOf(raw, journeyMeasures.all()),
  };
}
