import { combinationKey } from "../../model/conditions.ts";
import type { PlannedRoute } from "../../model/plan.ts";
import type { Result } from "../../model/result.ts";

/** A planned pass that is still to be walked. */
export interface PassLeft {
  /** As it is to be logged: as the plan numbers it, unless that was used, by a void pass say. */
  pass: string;
  conditions: PlannedRoute["passes"][number]["conditions"];
}

/**
 * What a read point still lacks, in the planned order. A combination is done once it has its number of valid passes with
 * as many tags as planned, whatever they are called; passes whose own number was walked are the first to be left out.
 */
export function passesLeft(result: Result, { readPoint, round, passes, cells }: PlannedRoute): PassLeft[] {
  const rounds = result.readPoints.find((entry) => entry.id === readPoint)?.rounds ?? [];
  const logged = rounds.find((entry) => entry.id === round)?.passList ?? [];
  const taken = new Set(logged.map(({ id }) => id));
  const valid = logged.filter(({ voidReason }) => voidReason === null).map(({ id }) => id);
  const wanted = new Set<string>();
  for (const { conditions, planned, done, tagsDone } of cells) {
    const key = combinationKey(conditions);
    const own = passes.filter((one) => combinationKey(one.conditions) === key).map(({ pass }) => pass);
    const isWalked = (pass: string) => valid.some((id) => isRepeatOf(id, pass));
    const inTurn = [...own.filter((pass) => !isWalked(pass)), ...own.filter(isWalked)];
    const tags = result.plan!.tagsPerPass;
    const byTags = Math.ceil(((planned ?? 0) * tags - tagsDone) / tags);
    for (const pass of inTurn.slice(0, Math.max(0, (planned ?? 0) - done, byTags))) wanted.add(pass);
  }
  return passes
    .filter(({ pass }) => wanted.has(pass))
    .map(({ pass, conditions }) => ({ pass: freeNumber(pass, taken), conditions }));
}

/** `w03-2` is the second walk of `w03`. */
function isRepeatOf(id: string, planned: string): boolean {
  return id === planned || (id.startsWith(`${planned}-`) && /^\d+$/.test(id.slice(planned.length + 1)));
}

function freeNumber(planned: string, taken: ReadonlySet<string>): string {
  let id = planned;
  for (let walk = 2; taken.has(id); walk += 1) id = `${planned}-${walk}`;
  return id;
}
