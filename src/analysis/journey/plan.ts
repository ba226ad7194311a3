import { journeyMeasures } from "../../measures/journey/index.ts";
import type { Journey } from "../../model/journey/journey.ts";
import type { JourneyPlanResult, PlannedRuns } from "../../model/journey/journey-result.ts";
import type { PlannedWalk } from "../plan/planned-walk.ts";
import { fewestPasses, passesForChance } from "../plan/sample-size.ts";
import { legsOf } from "./findings.ts";

const chancesAsked = [0.8, 0.9];
const faultsShown = [0, 1, 2, 3];

/** How many runs a chain takes, sized as a walk is: a run is a pass, an item a tag of it. Null where the journey plans nothing. */
export function planJourney(journey: Journey, runsDone: number): JourneyPlanResult | null {
  const { plan, criteria, legs } = journey;
  if (plan === null) return null;
  const required = legs.filter(({ optional }) => !optional).length;
  const sized = new Map<string, Pick<PlannedRuns, "fewest" | "forChance">>();
  const findings = criteria.flatMap((criterion) => {
    const expectedOf = journeyMeasures.get(criterion.measure).expected;
    if (expectedOf === null) return [];
    const expected = expectedOf({ legRate: plan.expectedRate, legs: required });
    const walk: PlannedWalk = {
      trialsPerPass: plan.tagsPerRun,
      unit: "presentations",
      sameTags: plan.sameTags,
      sense: criterion.sense,
      limit: criterion.limit,
      minimumPasses: criterion.minimumPasses,
      basis: journey,
    };
    const key = JSON.stringify([walk.sense, walk.limit, walk.minimumPasses, expected]);
    const size = sized.get(key) ?? sizeOf(walk, expected);
    sized.set(key, size);
    const atLeast = criterion.sense === "at-least";
    return legsOf(criterion, journey).map(
      (leg): PlannedRuns => ({
        criterion: criterion.id,
        leg: leg === null ? null : legs[leg]!.id,
        unit: "items",
        tagsPerRun: plan.tagsPerRun,
        expected,
        limit: criterion.limit,
        impossible: atLeast ? expected <= criterion.limit : expected >= criterion.limit,
        ...size,
      }),
    );
  });
  const needed = findings.map(({ forChance }) => forChance.at(-1)!.runs);
  return {
    tagsPerRun: plan.tagsPerRun,
    sameTags: plan.sameTags,
    expectedRate: plan.expectedRate,
    findings,
    unplanned: criteria
      .filter(({ measure }) => journeyMeasures.get(measure).expected === null)
      .map(({ id, measure }) => ({ criterion: id, measure })),
    runs: needed.length === 0 || needed.includes(null) ? null : Math.max(...(needed as number[])),
    runsDone,
  };
}

function sizeOf(walk: PlannedWalk, expected: number): Pick<PlannedRuns, "fewest" | "forChance"> {
  const faultRate = walk.sense === "at-least" ? 1 - expected : expected;
  return {
    fewest: faultsShown.map((faults) => ({ faults, runs: fewestPasses(walk, faults) })),
    forChance: passesForChance(walk, faultRate, chancesAsked).map(({ chance, passes }) => ({
      chance,
      runs: passes,
    })),
  };
}
