import { combinationKey } from "../../model/conditions.ts";
import type { PlannedRoute } from "../../model/result/plan.ts";
import type { Result } from "../../model/result/result.ts";

/** A planned pass and its combination: its place in the list of combinations. */
export interface PlannedPass {
  pass: string;
  cell: number;
}

/** What was walked of one combination: valid passes, and the tags that they presented. */
export interface CellDone {
  planned: number | null;
  done: number;
  tagsDone: number;
}

/** A pass that was logged, under whatever name. */
export interface KnownPass {
  pass: string;
  valid: boolean;
}

/** The planned passes of a read point, in the order to walk them. */
export function plannedPasses({ passes, cells }: PlannedRoute): PlannedPass[] {
  const places = new Map(cells.map(({ conditions }, place) => [combinationKey(conditions), place]));
  return passes.map(({ pass, conditions }) => ({ pass, cell: places.get(combinationKey(conditions))! }));
}

/** Whether a combination has as many valid passes as planned, with as many tags. */
export function isDone({ planned, done, tagsDone }: CellDone, tagsPerPass: number): boolean {
  return planned !== null && done >= planned && tagsDone >= planned * tagsPerPass;
}

/**
 * What a read point still lacks, in the planned order. A combination is done once it has its number of valid passes with
 * as many tags as planned, whatever they are called; passes whose own number was walked are the first to be left out.
 */
export function leftToWalk(plan: {
  passes: PlannedPass[];
  cells: CellDone[];
  tagsPerPass: number;
  known: KnownPass[];
}): PlannedPass[] {
  const { passes, cells, tagsPerPass, known } = plan;
  const valid = known.filter(({ valid }) => valid).map(({ pass }) => pass);
  const isWalked = ({ pass }: PlannedPass) => valid.some((id) => isRepeatOf(id, pass));
  const ofCells = cells.flatMap(({ planned, done, tagsDone }, cell) => {
    const own = passes.filter((one) => one.cell === cell);
    const inTurn = [...own.filter((pass) => !isWalked(pass)), ...own.filter(isWalked)];
    const byTags = Math.ceil(((planned ?? 0) * tagsPerPass - tagsDone) / tagsPerPass);
    return inTurn.slice(0, Math.max(0, (planned ?? 0) - done, byTags));
  });
  const wanted = new Set(ofCells);
  return passes.filter((pass) => wanted.has(pass));
}

/** `w03-2` is the second walk of `w03`. */
function isRepeatOf(id: string, planned: string): boolean {
  return id === planned || (id.startsWith(`${planned}-`) && /^\d+$/.test(id.slice(planned.length + 1)));
}

/** The number that a planned pass is logged under: its own, unless that was used, by a void pass say. */
export function freeNumber(planned: string, taken: ReadonlySet<string>): string {
  let id = planned;
  for (let walk = 2; taken.has(id); walk += 1) id = `${planned}-${walk}`;
  return id;
}

/** A planned pass that is still to be walked, under the number that it is to be logged under. */
export type PassLeft = PlannedRoute["passes"][number];

/** The passes that the files of a report still lack at a planned read point. */
export function passesLeft(result: Result, route: PlannedRoute): PassLeft[] {
  const rounds = result.readPoints.find((entry) => entry.id === route.readPoint)?.rounds ?? [];
  const logged = rounds.find((entry) => entry.id === route.round)?.passList ?? [];
  const taken = new Set(logged.map(({ id }) => id));
  const left = leftToWalk({
    passes: plannedPasses(route),
    cells: route.cells,
    tagsPerPass: result.plan!.tagsPerPass,
    known: logged.map(({ id, voidReason }) => ({ pass: id, valid: voidReason === null })),
  });
  return left.map(({ pass, cell }) => ({
    pass: freeNumber(pass, taken),
    conditions: route.cells[cell]!.conditions,
  }));
}
