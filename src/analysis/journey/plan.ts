import pow from "@stdlib/math-base-special-pow";
import { journeyMeasures } from "../../measures/journey/index.ts";
import type { Journey, JourneyCriterion, JourneyPlan } from "../../model/journey/journey.ts";
import type { JourneyPlanResult, PlannedRuns, UnplannedRuns } from "../../model/journey/plan.ts";
import type { PlannedWalk } from "../plan/planned-walk.ts";
import { fewestPasses, mostPasses, passesForChance } from "../plan/sample-size.ts";
import { legsOf } from "./findings.ts";

const chancesAsked = [0.8, 0.9];
const faultsShown = [0, 1, 2, 3];

/** A finding whose chance to be met the plan tells. */
interface SizedFinding {
  criterion: JourneyCriterion;
  leg: number | null;
  walk: PlannedWalk;
  expected: number;
}

/** How many runs a chain takes, sized as a walk is: a run is a pass, an item a tag of it. Null where the journey plans nothing. */
export function planJourney(journey: Journey, runsDone: number): JourneyPlanResult | null {
  const { plan, criteria, legs } = journey;
  if (plan === null) return null;
  const asked = criteria.map((criterion) => {
    const expected = expectedOf(criterion, plan, journey);
    return { criterion, expected, walk: walkOf(criterion, plan, journey) };
  });
  const sized = asked.flatMap(({ criterion, expected, walk }) =>
    expected === null
      ? []
      : legsOf(criterion, journey).map((leg): SizedFinding => ({ criterion, leg, walk, expected })),
  );
  const together = Math.max(1, sized.length);
  const sizes = sizer(together);
  const findings = sized.map(
    ({ criterion, leg, walk, expected }): PlannedRuns => ({
      criterion: criterion.id,
      leg: leg === null ? null : legs[leg]!.id,
      unit: "items",
      tagsPerRun: plan.tagsPerRun,
      expected,
      limit: criterion.limit,
      impossible: walk.sense === "at-least" ? expected <= walk.limit : expected >= walk.limit,
      fewest: sizes(walk, expected).fewest,
      forChance: chancesAsked.map((chance) => ({ chance, runs: sizes(walk, expected).runsFor(chance) })),
    }),
  );
  const unplanned = asked.flatMap(({ criterion, expected, walk }) =>
    expected === null ? [unplannedRuns(criterion, walk, journey)] : [],
  );
  // Of no findings at all, none is met together with others.
  const forAll = (sized.length === 0 ? [] : chancesAsked).map((chance) => {
    const each = pow(chance, 1 / together);
    const runs = largest(sized.map(({ walk, expected }) => sizes(walk, expected).runsFor(each)));
    return { chance, each, runs };
  });
  const { tagsPerRun, sameTags, expectedRate, expectedOrderRate } = plan;
  return {
    tagsPerRun,
    sameTags,
    expectedRate,
    expectedOrderRate,
    findings,
    unplanned,
    forAll,
    runs: largest([
      ...forAll.slice(-1).map(({ runs }) => runs),
      ...unplanned.map(({ fewest }) => fewest[0]!.runs),
    ]),
    runsDone,
  };
}

/** Null where the measure is no share, or the plan does not say how large it is expected to be. */
function expectedOf({ measure }: JourneyCriterion, plan: JourneyPlan, { legs }: Journey): number | null {
  const card = journeyMeasures.get(measure).plan;
  if (card.trials === "sightings") return null;
  return card.expected({
    legRate: plan.expectedRate,
    legs: legs.filter(({ optional }) => !optional).length,
    orderRate: plan.expectedOrderRate,
  });
}

function walkOf(
  { sense, limit, minimumPasses }: JourneyCriterion,
  plan: JourneyPlan,
  basis: Journey,
): PlannedWalk {
  return {
    trialsPerPass: plan.tagsPerRun,
    unit: "presentations",
    sameTags: plan.sameTags,
    sense,
    limit,
    minimumPasses,
    basis,
  };
}

interface Size {
  fewest: PlannedRuns["fewest"];
  /** @param chance one of those that were asked for */
  runsFor(chance: number): number | null;
}

/** Sizes findings, those that come to the same walk once. @param together how many are to be met together */
function sizer(together: number): (walk: PlannedWalk, expected: number) => Size {
  const known = new Map<string, Size>();
  // All are met at least as often as if they were independent: what helps one helps the others that share its runs.
  const chances = [...new Set([...chancesAsked, ...chancesAsked.map((chance) => pow(chance, 1 / together))])];
  chances.sort((a, b) => a - b);
  return (walk, expected) => {
    const key = JSON.stringify([walk.sense, walk.limit, walk.minimumPasses, expected]);
    const size = known.get(key) ?? sizeOf(walk, expected, chances);
    known.set(key, size);
    return size;
  };
}

function sizeOf(walk: PlannedWalk, expected: number, chances: number[]): Size {
  const faultRate = walk.sense === "at-least" ? 1 - expected : expected;
  const found = passesForChance(walk, faultRate, chances);
  return {
    fewest: fewestRuns(walk),
    runsFor: (chance) => found.find((one) => one.chance === chance)!.passes,
  };
}

const fewestRuns = (walk: PlannedWalk) =>
  faultsShown.map((faults) => ({ faults, runs: fewestPasses(walk, faults) }));

/** How many runs a criterion takes at the least, where the plan does not tell how often they will do. */
function unplannedRuns(criterion: JourneyCriterion, walk: PlannedWalk, journey: Journey): UnplannedRuns {
  const { plan: card } = journeyMeasures.get(criterion.measure);
  const { id, measure, forEach, minimumPasses } = criterion;
  const { trialsPerPass: items } = walk;
  if (card.trials === "items") {
    const fewest = fewestRuns(walk).map(({ faults, runs }) => ({
      faults,
      trials: runs === null ? null : runs * items,
      runs,
    }));
    return { criterion: id, measure, unit: "items", trialsPerRun: items, fewest };
  }
  const seenOn = forEach.length > 0 ? 1 : journey.legs.filter(({ optional }) => !optional).length;
  const trialsPerRun = items * seenOn;
  const fewest = faultsShown.map((faults) => {
    const trials = card.fewest(faults, criterion, journey);
    const runs = trials === null ? null : Math.max(minimumPasses, Math.ceil(trials / trialsPerRun));
    return { faults, trials, runs: runs !== null && runs > mostPasses ? null : runs };
  });
  return { criterion: id, measure, unit: "sightings", trialsPerRun, fewest };
}

/** Null where any is out of reach, or there is none. */
function largest(runs: readonly (number | null)[]): number | null {
  return runs.length === 0 || runs.includes(null) ? null : Math.max(...(runs as number[]));
}
