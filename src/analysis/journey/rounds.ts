import { journeyMeasures } from "../../measures/journey/index.ts";
import type { JourneyMeasure } from "../../measures/measure.ts";
import type { Estimate } from "../../model/estimate.ts";
import type { Journey } from "../../model/journey/journey.ts";
import {
  countedItems,
  countedLags,
  type JourneySelection,
  LegState,
  type Outcomes,
} from "../../model/journey/outcomes.ts";
import type { JourneyRoundResult } from "../../model/journey/round.ts";
import { spread } from "../rounds/heard-summary.ts";

type RoundKey = NonNullable<JourneyMeasure["everyRound"]>;
type LegKey = NonNullable<JourneyMeasure["everyLeg"]>;

/** What one round of a journey showed. @param round its index */
export function describeJourneyRound(
  journey: Journey,
  outcomes: Outcomes,
  round: number,
): JourneyRoundResult {
  const selection: JourneySelection = { outcomes, round, leg: null, withVoids: false };
  const valid = countedItems(selection);
  const all = countedItems({ ...selection, withVoids: true });
  const runsOf = (items: number[]) => new Set(items.map((row) => outcomes.run[row]!));
  const rates = ratesOf(journey, selection, ({ everyRound }) => everyRound) as Record<RoundKey, Estimate>;
  const withVoids = ratesOf(
    journey,
    { ...selection, withVoids: true },
    ({ everyRound }) => everyRound,
  ) as Record<RoundKey, Estimate>;
  const runs = runsOf(valid);
  return {
    id: journey.rounds[round]!.id,
    runs: runs.size,
    items: valid.length,
    voidRuns: runsOf(all).size - runs.size,
    voidItems: all.length - valid.length,
    ...rates,
    carrierRate: journey.carrier === null ? null : rates.carrierRate,
    withVoids: { items: all.length, completeRate: withVoids.completeRate },
    lag: spread(countedLags(selection).seconds),
    legs: journey.legs.map(({ id }, leg) => ({
      id,
      ...legOf(journey, { ...selection, leg }, valid),
    })),
  };
}

function legOf(
  journey: Journey,
  selection: JourneySelection,
  rows: readonly number[],
): Omit<JourneyRoundResult["legs"][number], "id"> {
  const { outcomes } = selection;
  const leg = selection.leg!;
  const { state, atUs, sinceUs, legs } = outcomes;
  const own = ratesOf(journey, selection, ({ everyLeg }) => everyLeg) as Record<LegKey, Estimate>;
  const count = (wanted: number) => rows.filter((row) => state[row * legs + leg] === wanted).length;
  const delays = rows
    .filter((row) => state[row * legs + leg]! >= LegState.seen)
    .map((row) => (atUs[row * legs + leg]! - sinceUs[row * legs + leg]!) / 1e6);
  const { k, n } = own.sightingRate;
  const isAsked = journey.carrier?.at.includes(journey.legs[leg]!.id) ?? false;
  return {
    k,
    n,
    late: count(LegState.late),
    outOfOrder: count(LegState.outOfOrder),
    sightingRate: own.sightingRate,
    carrier: isAsked ? own.carrier : null,
    delay: spread(delays),
    lag: spread(countedLags(selection).seconds),
  };
}

/** The share of items seen on a leg, void rows counted in. */
export function legWithVoids(journey: Journey, selection: JourneySelection): Estimate {
  const rates = ratesOf(journey, { ...selection, withVoids: true }, ({ everyLeg }) => everyLeg);
  return (rates as Record<LegKey, Estimate>).sightingRate;
}

/** The rates that are given with or without a criterion, by their keys. */
function ratesOf(
  journey: Journey,
  selection: JourneySelection,
  keyOf: (measure: JourneyMeasure) => string | undefined,
): Record<string, Estimate> {
  return Object.fromEntries(
    journeyMeasures.all().flatMap((measure) => {
      const key = keyOf(measure);
      return key === undefined ? [] : [[key, measure.collect(selection, {}).estimate(journey)]];
    }),
  );
}
