import { journeyMeasures } from "../../measures/journey/index.ts";
import type { Journey, JourneyCriterion } from "../../model/journey/journey.ts";
import type { JourneyFinding } from "../../model/journey/journey-result.ts";
import type { JourneySelection, Outcomes } from "../../model/journey/outcomes.ts";
import { judgedFigure } from "../findings/judged-figure.ts";

/** Every criterion of a journey, on each leg where it holds for each of them: of the round that is judged, by the rule of facilities. */
export function journeyFindings(journey: Journey, outcomes: Outcomes): JourneyFinding[] {
  const round = journey.rounds.findIndex(({ id }) => id === journey.signOffRound);
  return journey.criteria.flatMap((criterion) =>
    legsOf(criterion, journey).map((leg) =>
      journeyFinding(journey, criterion, { outcomes, round, leg, withVoids: false }),
    ),
  );
}

/** The legs that a criterion holds for, each on its own; a single null for one that counts the journey as a whole. */
export function legsOf(
  { measure, forEach, where }: JourneyCriterion,
  { legs, carrier }: Journey,
): (number | null)[] {
  const { byLeg, asksCarrier = false } = journeyMeasures.get(measure);
  if (byLeg === "never" || (byLeg === "possible" && forEach.length === 0)) return [null];
  const named = where.flatMap((clause) => (clause.kind === "values" ? clause.values : []));
  return legs.flatMap(({ id }, leg) => {
    const isAsked = named.length === 0 ? !asksCarrier || carrier?.at.includes(id) : named.includes(id);
    return isAsked ? [leg] : [];
  });
}

function journeyFinding(
  journey: Journey,
  criterion: JourneyCriterion,
  selection: JourneySelection,
): JourneyFinding {
  const log = { passes: selection.outcomes.runStarts.map((startedAt) => ({ startedAt })) };
  return {
    criterion: criterion.id,
    readPoint: null,
    round: journey.signOffRound,
    group: selection.leg === null ? null : { leg: journey.legs[selection.leg]!.id },
    ...judgedFigure(journeyMeasures.get(criterion.measure), selection, {
      criterion,
      basis: journey,
      log,
      voids: "within passes",
    }),
    concession: null,
  };
}
