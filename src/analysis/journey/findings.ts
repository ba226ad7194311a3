import { journeyMeasures } from "../../measures/journey/index.ts";
import type { Journey, JourneyCriterion } from "../../model/journey/journey.ts";
import type { JourneyFinding } from "../../model/journey/journey-result.ts";
import type { JourneySelection, Outcomes } from "../../model/journey/outcomes.ts";
import { remarksOn, strictlyJudged, unseenKinds } from "../findings/cautions.ts";
import { sensitivityOf, stateOf, toSettle } from "../findings/verdict.ts";

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
  const measure = journeyMeasures.get(criterion.measure);
  const evidence = measure.collect(selection, criterion);
  const withVoids = measure.collect({ ...selection, withVoids: true }, criterion);
  const voidPasses = withVoids.passes - evidence.passes;
  const hasVoids = withVoids.estimate(journey).n > evidence.estimate(journey).n;
  const state = stateOf(evidence, criterion, journey);
  const tags = evidence.tags();
  const log = { passes: selection.outcomes.runStarts.map((startedAt) => ({ startedAt })) };
  return {
    criterion: criterion.id,
    readPoint: null,
    round: journey.signOffRound,
    group: selection.leg === null ? null : { leg: journey.legs[selection.leg]!.id },
    state,
    measure: criterion.measure,
    limit: criterion.limit,
    sense: criterion.sense,
    passes: evidence.passes,
    voidPasses,
    tags,
    estimate: evidence.estimate(journey),
    withVoids: hasVoids ? withVoids.estimate(journey) : null,
    toSettle: toSettle(evidence, criterion, { state, unit: measure.unit.many, basis: journey }),
    concession: null,
    remarks: [...evidence.remarks, ...remarksOn(evidence, criterion, { state, basis: journey, log })],
    sensitivity: sensitivityOf(evidence, criterion, journey),
    stricter: strictlyJudged(evidence, criterion, journey),
    unseen: unseenKinds({ passes: evidence.passes, tags }, journey.confidence),
  };
}
