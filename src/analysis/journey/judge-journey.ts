import type { Journey, JourneyFacility, JourneyInput } from "../../model/journey/journey.ts";
import type { JourneyRemark, JourneyResult } from "../../model/journey/journey-result.ts";
import { LegState, type Outcomes } from "../../model/journey/outcomes.ts";
import type { JourneyPromise } from "../../model/journey/promise.ts";
import type { LegResult } from "../../model/journey/round.ts";
import { worstState } from "../../model/state.ts";
import { judgedOtherwise } from "../findings/cautions.ts";
import { basisOf, pseudonymsOf } from "../result-head.ts";
import { compareJourney } from "./compare.ts";
import { journeyFindings } from "./findings.ts";
import { itemResults } from "./items.ts";
import { outcomesOf, SightingsByTag } from "./outcomes.ts";
import { planJourney } from "./plan.ts";
import { promiseOf, type WalkedPlaces } from "./promise.ts";
import { pseudonymisedJourney } from "./pseudonyms.ts";
import { describeJourneyRound, legWithVoids } from "./rounds.ts";

/**
 * Judges one journey: from what was read to the archived result. It is as bad as its worst finding, and untested without one. The same
 * input gives the same result, whatever the order of its rows. `version` is the tool's own.
 *
 * @param walked what its facilities' own results show of their read points, by id
 */
export function judgeJourney(
  given: JourneyInput,
  { walked, version }: { walked: ReadonlyMap<string, WalkedPlaces>; version: string },
): JourneyResult {
  const input = given.journey.pseudonyms ? pseudonymisedJourney(given) : given;
  const { journey } = input;
  const byTag = new SightingsByTag(input.sightings, input.tags.length);
  const outcomes = outcomesOf(input, byTag);
  const findings = journeyFindings(journey, outcomes);
  const roundResults = journey.rounds.map((_, round) => describeJourneyRound(journey, outcomes, round));
  const round = journey.rounds.findIndex(({ id }) => id === journey.signOffRound);
  const judged = roundResults[round]!;
  const { items, lost, wrongPlaces } = itemResults(input, outcomes, byTag);
  const promise = promiseOf(journey.legs, judged.completeRate, walked);
  return {
    schemaVersion: 1,
    tool: { name: "proofwalk", version },
    id: journey.id,
    title: journey.title,
    client: journey.client,
    report: journey.report,
    preparedBy: journey.preparedBy,
    witnessedBy: journey.witnessedBy,
    ...pseudonymsOf(journey),
    basis: basisOf(journey),
    signOffRound: journey.signOffRound,
    state: worstState(findings.map(({ state }) => state)),
    rounds: journey.rounds,
    facilities: input.facilities.map((facility) => facilityOf(facility, input, walked)),
    carrier: journey.carrier,
    criteria: journey.criteria,
    legs: journey.legs.map((leg, number): LegResult => {
      const { id: _, ...counts } = judged.legs[number]!;
      const facility = input.facilities.find(({ id }) => id === leg.facility);
      const point = facility?.readPoints.find(({ id }) => id === leg.readPoint);
      const selection = { outcomes, round, leg: number, withVoids: false };
      return {
        ...leg,
        facilityName: facility?.name ?? leg.facility,
        name: point?.name ?? leg.readPoint,
        kind: point?.kind ?? null,
        ...counts,
        withVoids: judged.voidItems > 0 ? legWithVoids(journey, selection) : null,
        lost: lost.filter(({ lastSeen }) => lastSeen?.leg === leg.id).length,
      };
    }),
    findings,
    otherwise: judgedOtherwise(findings, journey),
    promise,
    remarks: remarksOn({ input, outcomes, round, promise }),
    roundResults,
    items,
    lost,
    wrongPlaces,
    sightings: input.counts,
    comparisons: compareJourney(journey, outcomes),
    plan: planJourney(journey, judged.runs),
    problems: input.problems,
    inputs: input.inputs,
  };
}

/** A facility with what it was judged on; the journey's own files stand by themselves. */
function facilityOf(
  { id, name, timeZone, pseudonyms, readPoints, source }: JourneyFacility,
  { journey, inputs }: JourneyInput,
  walked: ReadonlyMap<string, WalkedPlaces>,
): JourneyResult["facilities"][number] {
  const about = { id, name, timeZone };
  const points = readPoints.map((point) => ({ id: point.id, name: point.name }));
  const judged = journey.legs.some(({ facility }) => facility === id) ? walked.get(id) : undefined;
  if (judged === undefined)
    return { ...about, state: null, pseudonyms, readPoints: points, inputs: [source] };
  const own = new Set(inputs.map(({ path }) => path));
  const others = judged.inputs.filter(({ path }) => !own.has(path));
  return {
    ...about,
    state: judged.state,
    pseudonyms: judged.pseudonyms,
    readPoints: points,
    inputs: others,
  };
}

/** The runs that are named where many are alike. */
const runsNamed = 10;

function remarksOn({
  input,
  outcomes,
  round,
  promise,
}: {
  input: JourneyInput;
  outcomes: Outcomes;
  round: number;
  promise: JourneyPromise;
}): JourneyRemark[] {
  const { journey } = input;
  const remarks: JourneyRemark[] = [];
  if (journey.criteria.length === 0) remarks.push({ code: "no-criterion" });
  const { outside, surely, missing } = promise;
  if (outside !== null) remarks.push({ code: "outside-bounds", side: outside, surely });
  if (missing.length > 0) remarks.push({ code: "not-walked", legs: missing });
  const silent = silentRuns(outcomes, round);
  if (silent.length > 0)
    remarks.push({
      code: "runs-without-sighting",
      runs: silent.slice(0, runsNamed),
      count: silent.length,
    });
  remarks.push(...clockRemarks(journey, outcomes, round));
  const early = outcomes.lags.seconds.filter((seconds) => seconds < 0).length;
  if (early > 0) remarks.push({ code: "known-before-seen", sightings: early });
  return remarks;
}

/** Runs of a round whose items no leg ever saw, void ones left out. */
function silentRuns({ rows, run, state, legs }: Outcomes, round: number): string[] {
  const heard = new Set<number>();
  const ids = new Map<number, string>();
  for (const [number, row] of rows.entries()) {
    if (row.round !== round || row.voidReason !== null) continue;
    ids.set(run[number]!, row.run);
    for (let leg = 0; leg < legs; leg += 1)
      if (state[number * legs + leg] !== LegState.notSeen) heard.add(run[number]!);
  }
  return [...ids].flatMap(([number, id]) => (heard.has(number) ? [] : [id]));
}

/** Too few items to speak of a clock rather than of the items. */
const fewestForClocks = 5;

/** Legs of two facilities, one after the other, that most items passed the wrong way round. */
function clockRemarks({ legs }: Journey, outcomes: Outcomes, round: number): JourneyRemark[] {
  return legs.flatMap((to, leg): JourneyRemark[] => {
    const from = legs[leg - 1];
    if (from === undefined || from.facility === to.facility) return [];
    const apart: number[] = [];
    for (const [number, row] of outcomes.rows.entries()) {
      const at = number * legs.length + leg;
      const isCounted = row.round === round && row.voidReason === null;
      const seconds = (outcomes.atUs[at]! - outcomes.atUs[at - 1]!) / 1e6;
      if (isCounted && !Number.isNaN(seconds)) apart.push(seconds);
    }
    const back = apart.filter((seconds) => seconds < 0).sort((a, b) => a - b);
    if (back.length < fewestForClocks || 2 * back.length <= apart.length) return [];
    const medianS = back[back.length >> 1]!;
    return [
      { code: "clocks-differ", from: from.id, to: to.id, items: back.length, of: apart.length, medianS },
    ];
  });
}
