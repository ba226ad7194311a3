import { defaultInterval } from "../../intervals/index.ts";
import { measures } from "../../measures/index.ts";
import { journeyMeasures } from "../../measures/journey/index.ts";
import type { Round } from "../../model/facility.ts";
import type { Journey, JourneyCriterion, JourneyFacility, Place } from "../../model/journey/journey.ts";
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
import type { ProblemList } from "../problems/problem-list.ts";
import { type Path, YamlReport } from "../problems/reports.ts";
import {
  confidenceOutOfRange,
  missCorrelationOutOfRange,
  reportMissing,
  roundsOutOfOrder,
  smallestChangeOutOfRange,
} from "../problems/yaml.ts";
import { checkLimit, checkParameters, parametersOf, requirementOf } from "../yaml/criterion.ts";
import { readYaml } from "../yaml/document.ts";
import { checkTimeZone, checkUnique, isTimeZone } from "../yaml/entries.ts";
import { normaliseParty } from "../yaml/facility.ts";
import { parseShape } from "../yaml/parse-shape.ts";
import { checkPlaceholders, checkSignatories } from "../yaml/placeholders.ts";
import type { OwnWords } from "../yaml/shape.ts";
import {
  journeyJsonSchema,
  journeySchema,
  type RawJourney,
  type RawJourneyCriterion,
} from "./journey-schema.ts";

/** What a journey's YAML says, with what only its intake needs. */
export interface JourneyDescription {
  journey: Journey;
  /** IANA name, for times of runs.csv that state no offset; null where every time needs one. */
  timeZone: string | null;
  /** Read points by the URIs of EPCIS documents. */
  epcis: ReadonlyMap<string, Place | "elsewhere">;
  report: YamlReport;
}

type Facilities = ReadonlyMap<string, JourneyFacility | null>;

const ownWords = (file: string): OwnWords => ({
  file,
  ranges: {
    confidence: confidenceOutOfRange,
    miss_correlation: missCorrelationOutOfRange,
    smallest_change_that_matters: smallestChangeOutOfRange,
  },
  unknownKey: () => null,
  choice: (word) =>
    measures.find(word) === null
      ? null
      : `${word} counts passes at one read point: ask it in that facility's facility.yaml.`,
});

/**
 * Reads the text of a journey's YAML; null, with the reasons reported, where it does not hold together.
 *
 * @param beside the facilities of the data folder, by id, null for one whose facility.yaml cannot be read; or the time zone that was
 *   theirs, where they are not at hand and nothing is asked of them
 */
export function readJourneyYaml(
  { id, file, source }: { id: string; file: string; source: string },
  beside: { facilities: Facilities } | { timeZone: string | null },
  problems: ProblemList,
): JourneyDescription | null {
  const tree = readYaml(source, file, problems);
  if (tree === null) return null;
  if (typeof tree.value !== "object" || tree.value === null || Array.isArray(tree.value)) {
    problems.report({ file, line: 1, column: 1 }, journeyBlank.with({ isNothing: tree.value === null }));
    return null;
  }
  const report = new YamlReport(tree, file, problems);
  const own = ownWords(file.split("/").at(-1)!);
  const { whole } = parseShape(tree, journeySchema(), { json: journeyJsonSchema, own, report });
  checkPlaceholders(tree.value, report);
  checkSignatories(tree.value, report);
  if (whole === null) return null;
  const facilities = "facilities" in beside ? beside.facilities : null;
  check(whole, facilities, report);
  const zone = whole.time_zone ?? null;
  return {
    journey: normalised(id, whole),
    timeZone: zone !== null && isTimeZone(zone) ? zone : sharedZone(whole, beside),
    epcis: new Map(
      Object.entries(whole.epcis ?? {}).map(([uri, place]) => [
        uri,
        typeof place === "string" ? "elsewhere" : { facility: place.facility, readPoint: place.read_point },
      ]),
    ),
    report,
  };
}

/** The time zone of all facilities of the legs, where they keep one. */
function sharedZone({ legs }: RawJourney, beside: Parameters<typeof readJourneyYaml>[1]): string | null {
  if ("timeZone" in beside) return beside.timeZone;
  const { facilities } = beside;
  const zones = new Set(legs.map(({ facility }) => facilities.get(facility)?.timeZone ?? null));
  return zones.size === 1 ? [...zones][0]! : null;
}

function check(raw: RawJourney, facilities: Facilities | null, report: YamlReport): void {
  if (raw.report == null) report.whole(reportMissing);
  if (raw.time_zone != null) checkTimeZone(["time_zone"], raw.time_zone, report);
  checkRounds(raw, report);
  const legs = raw.legs.map((value, i) => ({ value, path: ["legs", i] }));
  checkUnique(legs, "id", report);
  for (const [i, { value, path }] of legs.entries()) {
    checkPlace(value, path, facilities, report);
    const before = raw.legs[i - 1];
    if (before?.facility === value.facility && before.read_point === value.read_point)
      report.value([...path, "read_point"], journeyLegsAlike.with({ before: before.id }));
  }
  if (raw.legs.every(({ optional }) => optional === true)) report.value(["legs"], journeyLegsOptional);
  const known = { names: new Set(raw.legs.map(({ id }) => id)), what: "the id of a leg", section: "legs" };
  for (const [i, leg] of (raw.carrier?.at ?? []).entries())
    report.reference(["carrier", "at", i], leg, known);
  for (const [uri, place] of Object.entries(raw.epcis ?? {})) {
    const path = ["epcis", uri];
    if (typeof place !== "string") checkPlace(place, path, facilities, report);
    else if (place !== "elsewhere") report.value(path, epcisTarget);
  }
  const criteria = (raw.criteria ?? []) as RawJourneyCriterion[];
  checkUnique(
    criteria.map((value, i) => ({ value, path: ["criteria", i] })),
    "id",
    report,
  );
  for (const [i, criterion] of criteria.entries()) {
    const path: Path = ["criteria", i];
    const card = journeyMeasures.get(criterion.measure);
    checkLimit(criterion, card, { path, report });
    checkParameters(criterion, card, { path, report });
    if (card.asksCarrier && raw.carrier == null) report.value([...path, "measure"], journeyCarrierMissing);
    for (const [k, name] of (criterion.for_each ?? []).entries())
      if (name !== "leg") report.value([...path, "for_each", k], journeyForEach);
    for (const [k, leg] of (criterion.legs ?? []).entries())
      report.reference([...path, "legs", k], leg, known);
    if (criterion.legs != null && card.byLeg === "possible" && criterion.for_each == null)
      report.key([...path, "legs"], journeyLegsUnused.with());
  }
}

function checkRounds(raw: RawJourney, report: YamlReport): void {
  const rounds = (raw.rounds ?? []).map((value, i) => ({ value, path: ["rounds", i] }));
  checkUnique(rounds, "id", report);
  let latest: string | null = null;
  for (const { value, path } of rounds) {
    if (value.date == null) continue;
    if (latest !== null && value.date < latest)
      report.value([...path, "date"], roundsOutOfOrder.with({ round: value.id, date: value.date, latest }));
    else latest = value.date;
  }
  if (raw.sign_off_round != null)
    report.reference(["sign_off_round"], raw.sign_off_round, {
      names: new Set(rounds.map(({ value }) => value.id)),
      what: "the id of a round",
      section: "rounds",
    });
}

function checkPlace(
  { facility: id, read_point: point }: { facility: string; read_point: string },
  path: Path,
  facilities: Facilities | null,
  report: YamlReport,
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
    client: raw.client ?? null,
    report: raw.report ?? null,
    preparedBy: raw.prepared_by == null ? null : normaliseParty(raw.prepared_by),
    witnessedBy: (raw.witnessed_by ?? []).map(normaliseParty),
    pseudonyms: raw.pseudonyms ?? false,
    confidence: raw.confidence ?? 0.95,
    interval: raw.interval ?? defaultInterval().id,
    missCorrelation: raw.miss_correlation ?? 0.02,
    smallestChangeThatMatters: raw.smallest_change_that_matters ?? 0.005,
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
