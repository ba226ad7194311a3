import { journeyMeasures } from "../../measures/journey/index.ts";
import { countPresentations } from "../../measures/journey/presentations.ts";
import type { Journey } from "../../model/journey/journey.ts";
import type { JourneyComparison } from "../../model/journey/journey-result.ts";
import type { Outcomes } from "../../model/journey/outcomes.ts";
import { changeOf, differenceBetween } from "../comparison/difference.ts";

/**
 * What became of every rate of a journey between each round and the next, and between the first and the last: as a whole, and of rates that
 * hold for each leg, on each. Rounds are taken as independent: other items, or the same on other days.
 */
export function compareJourney(journey: Journey, outcomes: Outcomes): JourneyComparison[] {
  const { rounds } = journey;
  const pairs = rounds.slice(1).map((_, i) => [i, i + 1] as const);
  if (rounds.length > 2) pairs.push([0, rounds.length - 1]);
  return pairs.flatMap(([before, after]) =>
    journeyMeasures.all().flatMap((measure): JourneyComparison[] => {
      const { presentations } = measure;
      if (presentations === undefined || (measure.asksCarrier && journey.carrier === null)) return [];
      const legs = measure.byLeg === "always" ? journey.legs.map((_, leg) => leg) : [null];
      return legs.map((leg) => {
        const roundOf = (round: number) => {
          const selection = { outcomes, round, leg, withVoids: false };
          const { counts } = countPresentations(outcomes, presentations(selection));
          const estimate = measure.collect(selection, {}).estimate(journey);
          return { estimate, compared: { counts, tags: null, strata: [counts] } };
        };
        const one = roundOf(before);
        const other = roundOf(after);
        const isEmpty = one.estimate.n === 0 || other.estimate.n === 0;
        const found = isEmpty
          ? null
          : differenceBetween({ before: one.compared, after: other.compared, pairs: null }, journey);
        return {
          measure: measure.id,
          leg: leg === null ? null : journey.legs[leg]!.id,
          before: rounds[before]!.id,
          after: rounds[after]!.id,
          estimates: { before: one.estimate, after: other.estimate },
          difference: found?.difference ?? null,
          p: found?.p ?? null,
          change:
            found === null
              ? "not-comparable"
              : changeOf(found.difference!, journey.smallestChangeThatMatters),
        };
      });
    }),
  );
}
