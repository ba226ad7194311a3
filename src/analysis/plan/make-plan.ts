import { measures } from "../../measures/index.ts";
import type { PlannedTrials } from "../../measures/measure.ts";
import { type Combination, clausesOf, combinationKey, crossed, takes } from "../../model/conditions.ts";
import type { Criterion, Plan } from "../../model/facility.ts";
import type { PlannedLoad } from "../../model/pass-log.ts";
import type { FacilityPlan, PlanCell, PlannedFinding } from "../../model/plan.ts";
import type { WalkedFacility } from "../../model/rows.ts";
import { criterionGroups } from "../findings/criterion-groups.ts";
import { operatingCharacteristic } from "./operating-characteristic.ts";
import type { PlannedWalk } from "./planned-walk.ts";
import { type Demand, plannedGroups, readPointPlan } from "./read-point-plan.ts";
import { fewestPasses, passesForChance } from "./sample-size.ts";
import { tagsCounted } from "./tags-counted.ts";

const chancesAsked = [0.8, 0.9];
const faultsShown = [0, 1, 2, 3];

/** Null where the facility plans nothing. */
export function makePlan(soFar: WalkedFacility, load: PlannedLoad | null = null): FacilityPlan | null {
  const { facility } = soFar;
  const { plan, confidence, interval, missCorrelation } = facility;
  if (plan === null) return null;
  const cells = crossed(plan.each);
  const basis = { confidence, interval, missCorrelation };
  const sized = new Map<string, Sized>();
  const walked = facility.criteria.filter(({ readPoints }) =>
    readPoints.some((id) => plan.readPoints.includes(id)),
  );
  const trialsOf = ({ measure }: Criterion) => measures.get(measure).plan;
  const planned = walked.filter((criterion) => trialsOf(criterion) !== null);
  const sizeOf = (criterion: Criterion) => {
    const trials = trialsOf(criterion)!;
    const counted = trials.countsPresented
      ? tagsCounted(criterion, plan, load, facility.conditions)
      : plan.tagsPerPass;
    const { walk, expected } = walkOf(criterion, trials, plan, { tags: Math.max(1, counted), basis });
    const key = JSON.stringify([walk, expected]);
    const sizes = sized.get(key) ?? sizesOf(walk, expected);
    sized.set(key, sizes);
    return { unit: walk.unit, expected, tagsCounted: counted, ...sizes };
  };
  const demands = planned.flatMap((criterion): Demand[] => {
    const { forChance, tagsCounted: tags } = sizeOf(criterion);
    const { passes } = forChance.at(-1)!;
    if (tags === 0) return [];
    return plannedGroups(criterion, facility.conditions, cells).map((group) => ({
      criterion,
      group,
      passes,
    }));
  });
  const findings = planned.flatMap((criterion) => {
    const sizes = sizeOf(criterion);
    const groups = groupsOf(criterion, cells, soFar);
    return plan.readPoints
      .filter((readPoint) => criterion.readPoints.includes(readPoint))
      .flatMap((readPoint) =>
        groups.map((group): PlannedFinding => {
          const { id, measure, sense, limit, where } = criterion;
          const counting = cells.filter((cell) => takes(clausesOf(where, group), cell, facility.conditions));
          return {
            criterion: id,
            readPoint,
            group,
            measure,
            sense,
            limit,
            // A load of which the criterion counts no tag leaves it untested, however often it is walked.
            cells: sizes.tagsCounted === 0 ? 0 : counting.length,
            ...sizes,
          };
        }),
      );
  });
  return {
    facility: { id: facility.id, name: facility.name },
    basis,
    seed: plan.seed,
    tagsPerPass: plan.tagsPerPass,
    sameTags: plan.sameTags,
    expectedRate: plan.expectedRate,
    findings,
    unplanned: walked
      .filter((criterion) => !planned.includes(criterion))
      .map(({ id, measure }) => ({ criterion: id, measure })),
    readPoints: plan.readPoints.map((id) => {
      const untested = findings.filter(
        ({ readPoint, cells: counting }) => readPoint === id && counting === 0,
      );
      return readPointPlan(id, demands, cells, facility.conditions, untested.length);
    }),
  };
}

type Sized = Pick<PlannedFinding, "impossible" | "fewest" | "fewestSameTags" | "forChance" | "risk">;

/**
 * What a criterion counts of a planned walk of `tags` tags a pass, and at which rate it is expected: the plan states the
 * share of tags that is read, and the measure says what follows from it.
 */
function walkOf(
  { sense, limit, minimumPasses }: Criterion,
  { trials, expected }: PlannedTrials,
  plan: Plan,
  { tags, basis }: { tags: number; basis: PlannedWalk["basis"] },
): { walk: PlannedWalk; expected: number } {
  const ofTags = trials === "tags";
  const { missCorrelation } = basis;
  return {
    walk: {
      trialsPerPass: ofTags ? tags : 1,
      unit: ofTags ? "presentations" : "passes",
      sameTags: ofTags && plan.sameTags,
      sense,
      limit,
      minimumPasses,
      basis,
    },
    expected: expected({ readRate: plan.expectedRate, tags, missCorrelation }),
  };
}

function sizesOf(walk: PlannedWalk, expected: number): Sized {
  const atLeast = walk.sense === "at-least";
  const faultRate = atLeast ? 1 - expected : expected;
  const impossible = atLeast ? expected <= walk.limit : expected >= walk.limit;
  const fewest = faultsShown.map((faults) => ({ faults, passes: fewestPasses(walk, faults) }));
  const forChance = passesForChance(walk, faultRate, chancesAsked);
  const passes = forChance.findLast((one) => one.passes !== null)?.passes ?? fewest[0]!.passes;
  return {
    impossible,
    fewest,
    fewestSameTags:
      walk.unit === "presentations" ? fewestPasses({ ...walk, sameTags: true }, 0) : fewest[0]!.passes,
    forChance,
    risk: passes === null ? null : operatingCharacteristic(walk, passes, faultRate),
  };
}

/** Those that the judge would make of what was walked so far, and those that the plan adds. */
function groupsOf(criterion: Criterion, cells: PlanCell[], soFar: WalkedFacility): (Combination | null)[] {
  const groups = criterionGroups(criterion, soFar);
  const known = new Set(groups.map((group) => combinationKey(group ?? {})));
  const added = plannedGroups(criterion, soFar.facility.conditions, cells).filter(
    (group) =>
      Object.keys(group ?? {}).length === criterion.forEach.length && !known.has(combinationKey(group ?? {})),
  );
  return [...groups, ...added];
}
