import { measures } from "../../measures/index.ts";
import {
  type Combination,
  clausesOf,
  columnValues,
  combinationKey,
  crossed,
  statedNames,
  takes,
} from "../../model/conditions.ts";
import type { Condition, Criterion, Plan } from "../../model/facility.ts";
import type { PlannedLoad } from "../../model/pass-log.ts";
import type { FacilityPlan, PlanCell, PlannedFinding, PlannedReadPoint } from "../../model/result/plan.ts";
import type { WalkedFacility } from "../../model/rows.ts";
import { criterionGroups } from "../findings/criterion-groups.ts";
import { type CriterionSize, criterionSizer, tagsOfOnePass } from "./criterion-size.ts";
import { twoRounds } from "./two-rounds.ts";

interface SizedCriterion {
  criterion: Criterion;
  size: CriterionSize;
}

/**
 * How many passes a facility's plan comes to: the size of every finding, and the passes of every planned combination of
 * conditions at every read point. Null where the facility plans nothing.
 */
export function makePlan(soFar: WalkedFacility, load: PlannedLoad | null = null): FacilityPlan | null {
  const { id, name, plan, conditions, criteria, confidence, interval, missCorrelation } = soFar.facility;
  const { smallestChangeThatMatters } = soFar.facility;
  if (plan === null) return null;
  const basis = { confidence, interval, missCorrelation };
  const cells = crossed(plan.each);
  const walked = criteria.filter(({ readPoints }) => readPoints.some((one) => plan.readPoints.includes(one)));
  const isSized = ({ measure }: Criterion) => measures.get(measure).plan !== null;
  const placed = walked.filter(isSized).map((criterion) => {
    const counted = tagsOfOnePass(criterion, { plan, load, conditions });
    return { criterion, places: placesOf(criterion, counted, { plan, cells, soFar }) };
  });
  const findingsTogether = placed.flatMap(({ places }) => places).filter((one) => one.cells > 0).length;
  const sizeOf = criterionSizer({ plan, load, conditions, basis, together: Math.max(1, findingsTogether) });
  const sized = placed.map(({ criterion, places }) => ({ criterion, places, size: sizeOf(criterion)! }));
  const findings = sized.flatMap(({ criterion, places, size }) =>
    places.map((place): PlannedFinding => {
      const { id: criterionId, measure, sense, limit } = criterion;
      return { criterion: criterionId, ...place, measure, sense, limit, ...size };
    }),
  );
  const demands = sized.flatMap((one) => demandsOf(one, cells, conditions));
  return {
    facility: { id, name },
    basis,
    seed: plan.seed,
    tagsPerPass: plan.tagsPerPass,
    sameTags: plan.sameTags,
    expectedRate: plan.expectedRate,
    findings,
    findingsTogether,
    twoRounds: twoRounds(plan, smallestChangeThatMatters, basis),
    unplanned: walked
      .filter((criterion) => !isSized(criterion))
      .map(({ id: criterion, measure }) => ({ criterion, measure })),
    readPoints: plan.readPoints.map((readPoint) => ({
      readPoint,
      ...passesAt(
        demands.filter(({ criterion }) => criterion.readPoints.includes(readPoint)),
        cells,
        conditions,
      ),
      untested: findings.filter((finding) => finding.readPoint === readPoint && finding.cells === 0).length,
    })),
  };
}

/** Where a criterion will give a finding, by read point, then group, and in how many planned combinations. */
function placesOf(
  criterion: Criterion,
  counted: number,
  { plan, cells, soFar }: { plan: Plan; cells: PlanCell[]; soFar: WalkedFacility },
): Pick<PlannedFinding, "readPoint" | "group" | "cells">[] {
  const { conditions } = soFar.facility;
  const groups = groupsOf(criterion, cells, soFar).map((group) => {
    const counting = cells.filter((cell) => takes(clausesOf(criterion.where, group), cell, conditions));
    // A load of which the criterion counts no tag leaves it untested, however often it is walked.
    return { group, cells: counted === 0 ? 0 : counting.length };
  });
  return plan.readPoints
    .filter((readPoint) => criterion.readPoints.includes(readPoint))
    .flatMap((readPoint) => groups.map((group) => ({ readPoint, ...group })));
}

/** Those that the judge would make of what was walked so far, and those that the plan adds. */
function groupsOf(criterion: Criterion, cells: PlanCell[], soFar: WalkedFacility): (Combination | null)[] {
  const groups = criterionGroups(criterion, soFar);
  const known = new Set(groups.map((group) => combinationKey(group ?? {})));
  const added = plannedGroups(criterion, cells, soFar.facility.conditions).filter(
    (group) =>
      Object.keys(group ?? {}).length === criterion.forEach.length && !known.has(combinationKey(group ?? {})),
  );
  return [...groups, ...added];
}

/**
 * The groups of a criterion as the plan alone knows them. A column of `for_each` that the plan does not vary is left out:
 * whatever values will be walked in it, each is taken to be walked in every pass.
 */
function plannedGroups(
  criterion: Criterion,
  cells: PlanCell[],
  conditions: Condition[],
): (Combination | null)[] {
  if (criterion.forEach.length === 0) return [null];
  const groups = new Map<string, Combination>();
  for (const cell of cells) {
    if (!takes(criterion.where, cell, conditions)) continue;
    const varied = criterion.forEach.filter((column) => cell[column] !== undefined);
    const group = Object.fromEntries(
      varied.map((column) => [column, groupedAs(cell[column]!, column, { criterion, conditions })]),
    );
    groups.set(combinationKey(group), group);
  }
  return [...groups.values()];
}

/** What the criterion's groups call a planned value: as the criterion lists it, else by its name. */
function groupedAs(
  value: string,
  column: string,
  { criterion, conditions }: { criterion: Criterion; conditions: Condition[] },
): string {
  const values = columnValues(conditions, column);
  const names = statedNames(criterion.where, column, conditions) ?? [];
  const own = names.find((name) => values.allows({ column, kind: "values", values: [name] }, value));
  return own ?? values.nameOf(value) ?? value;
}

/** One criterion's demand on the cells of one group. */
interface Demand {
  criterion: Criterion;
  group: Combination | null;
  /** Over all cells that count; null where no number will do. */
  passes: number | null;
}

function demandsOf(
  { criterion, size }: SizedCriterion,
  cells: PlanCell[],
  conditions: Condition[],
): Demand[] {
  if (size.tagsCounted === 0) return [];
  const { passes } = size.forChance.at(-1)!;
  return plannedGroups(criterion, cells, conditions).map((group) => ({ criterion, group, passes }));
}

/**
 * Every combination is walked as often as the most demanding criterion that counts it needs. Worked out from the plan and
 * the criteria alone, so that what was walked cannot change what is still to be walked.
 */
function passesAt(
  demands: Demand[],
  cells: PlanCell[],
  conditions: Condition[],
): Pick<PlannedReadPoint, "cells" | "passes"> {
  const passes = cells.map((): number | null => 0);
  for (const { criterion, group, passes: needed } of demands) {
    const clauses = clausesOf(criterion.where, group);
    const counting = cells.flatMap((cell, i) => (takes(clauses, cell, conditions) ? [i] : []));
    for (const i of counting) {
      const before = passes[i]!;
      passes[i] =
        needed === null || before === null ? null : Math.max(before, Math.ceil(needed / counting.length));
    }
  }
  return {
    cells: cells.map((cell, i) => ({ conditions: cell, passes: passes[i]! })),
    passes: passes.reduce((sum, some) => (sum === null || some === null ? null : sum + some), 0),
  };
}
