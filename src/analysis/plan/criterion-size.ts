import pow from "@stdlib/math-base-special-pow";
import type { Basis } from "../../intervals/interval.ts";
import { measures } from "../../measures/index.ts";
import { passesForWorst } from "../../measures/worst-pass.ts";
import { type Combination, combinationKey, namesOf, statedNames, takes } from "../../model/conditions.ts";
import type { Condition, Criterion, Plan } from "../../model/facility.ts";
import type { PlannedLoad } from "../../model/pass-log.ts";
import type { PlannedFinding } from "../../model/result/plan.ts";
import { operatingCharacteristic } from "./operating-characteristic.ts";
import type { PlannedWalk } from "./planned-walk.ts";
import { fewestPasses, passesForChance } from "./sample-size.ts";

/** What a plan says of one criterion, wherever it is judged. */
export type CriterionSize = Omit<
  PlannedFinding,
  "criterion" | "readPoint" | "group" | "measure" | "sense" | "limit" | "cells"
>;

/** What the sizes of a facility's criteria are worked out from. */
interface Planned {
  plan: Plan;
  /** What every pass carries; null where the plan names no manifest. */
  load: PlannedLoad | null;
  conditions: Condition[];
  basis: Basis;
  /** How many findings are to be met together. */
  together: number;
}

const chancesAsked = [0.8, 0.9];
const faultsShown = [0, 1, 2, 3];

/**
 * Makes the function that sizes the criteria of a facility: how many passes each takes, and what they risk; null for a
 * criterion whose measure has no trials that succeed or fail. Criteria that come to the same walk share their sizes.
 */
export function criterionSizer(planned: Planned): (criterion: Criterion) => CriterionSize | null {
  const known = new Map<string, Sizes>();
  const { plan, basis, together } = planned;
  return (criterion) => {
    const { plan: trials } = measures.get(criterion.measure);
    if (trials === null) return null;
    const counted = tagsOfOnePass(criterion, planned);
    const tags = Math.max(1, counted);
    const ofTags = trials.trials === "tags";
    const walk: PlannedWalk = {
      trialsPerPass: ofTags ? tags : 1,
      unit: ofTags ? "presentations" : "passes",
      sameTags: ofTags && plan.sameTags,
      sense: criterion.sense,
      limit: criterion.limit,
      minimumPasses: Math.max(
        criterion.minimumPasses,
        passesForWorst(criterion, criterion, basis.confidence),
      ),
      basis,
    };
    // The plan states the share of tags that is read, and the measure says what follows from it.
    const expected = trials.expected({
      readRate: plan.expectedRate,
      tags,
      missCorrelation: basis.missCorrelation,
    });
    const key = JSON.stringify([walk, expected]);
    const sizes = known.get(key) ?? sizesOf(walk, expected, together);
    known.set(key, sizes);
    return { unit: walk.unit, expected, tagsCounted: counted, ...sizes };
  };
}

/** How many tags of one planned pass a criterion of a measure that a plan can size counts; 0 leaves it untested. */
export function tagsOfOnePass(
  criterion: Criterion,
  planned: Pick<Planned, "plan" | "load" | "conditions">,
): number {
  return measures.get(criterion.measure).plan?.countsPresented
    ? tagsCounted(criterion, planned)
    : planned.plan.tagsPerPass;
}

type Sizes = Omit<CriterionSize, "unit" | "expected" | "tagsCounted">;

function sizesOf(walk: PlannedWalk, expected: number, together: number): Sizes {
  const atLeast = walk.sense === "at-least";
  const faultRate = atLeast ? 1 - expected : expected;
  const fewest = faultsShown.map((faults) => ({ faults, passes: fewestPasses(walk, faults) }));
  // All are met at least as often as if they were independent: what helps one helps the others that share its passes.
  const eachAsked = chancesAsked.map((chance) => pow(chance, 1 / together));
  const sized = passesForChance(
    walk,
    faultRate,
    [...new Set([...chancesAsked, ...eachAsked])].sort((a, b) => a - b),
  );
  const sizedFor = (chance: number) => sized.find((one) => one.chance === chance)!;
  const forChance = chancesAsked.map(sizedFor);
  const passes = forChance.findLast((one) => one.passes !== null)?.passes ?? fewest[0]!.passes;
  return {
    impossible: atLeast ? expected <= walk.limit : expected >= walk.limit,
    fewest,
    fewestSameTags:
      walk.unit === "presentations" ? fewestPasses({ ...walk, sameTags: true }, 0) : fewest[0]!.passes,
    forChance,
    forAll: chancesAsked.map((chance, i) => {
      const { passes, reached } = sizedFor(eachAsked[i]!);
      return { chance, each: eachAsked[i]!, passes, reached };
    }),
    risk: passes === null ? null : operatingCharacteristic(walk, passes, faultRate),
  };
}

/**
 * How many tags of one planned pass a criterion counts, in the group of its `for_each` that gets the fewest: 0 or more.
 *
 * What the load says of its tags is taken as it stands: only those that `where` takes count, and each value of a
 * `for_each` column has its own. Values of a `for_each` column that neither plan nor load tells are taken to share the
 * tags of a pass evenly, as far as the criterion or the bands name them: so many tags for each as come out whole, at
 * least one. Values that only a walk will show cannot be shared out, and each is taken to get them all.
 * Example: 20 tags a pass, three orientations named in `where` and nothing more said of them: 6.
 */
export function tagsCounted(
  criterion: Criterion,
  { plan, load, conditions }: Pick<Planned, "plan" | "load" | "conditions">,
): number {
  const varied = new Set(plan.each.map(({ column }) => column));
  const stated = load?.columns ?? {};
  const open = criterion.forEach.filter((column) => !varied.has(column));
  const shares = open
    .filter((column) => !(column in stated))
    .reduce(
      (product, column) =>
        product * Math.max(1, statedNames(criterion.where, column, conditions)?.length ?? 0),
      1,
    );
  const tags = load === null ? plan.tagsPerPass : fewestOfLoad(criterion, load, { open, conditions });
  return tags === 0 ? 0 : Math.max(1, Math.floor(tags / shares));
}

/** The tags that `where` takes, counted by what they say in the `for_each` columns: the smallest count. */
function fewestOfLoad(
  criterion: Criterion,
  { tags, columns }: PlannedLoad,
  { open, conditions }: { open: string[]; conditions: Condition[] },
): number {
  const { where, forEach } = criterion;
  const own = forEach.filter((column) => open.includes(column) && column in columns);
  const asked = where.filter(({ column }) => column in columns);
  const counts = new Map<string, number>();
  for (const i of tags.keys()) {
    const cell: Record<string, string> = {};
    for (const { column } of asked) if (columns[column]![i] != null) cell[column] = columns[column]![i]!;
    const isTaken = asked.every(({ column }) => column in cell) && takes(asked, cell, conditions);
    const values = own.map((column) => [column, columns[column]![i] ?? null] as const);
    if (!isTaken || values.some(([, value]) => value === null)) continue;
    const key = combinationKey(namesOf(Object.fromEntries(values) as Combination, conditions));
    counts.set(key, (counts.get(key) ?? 0) + 1);
  }
  const named = own.reduce(
    (product, column) => product * (statedNames(criterion.where, column, conditions)?.length ?? 0),
    1,
  );
  return counts.size === 0 || counts.size < named ? 0 : Math.min(...counts.values());
}
