import { includes, valuesOf } from "../../model/conditions.ts";
import {
  type CellDone,
  freeNumber,
  isDone,
  type KnownPass,
  leftToWalk,
  type PlannedPass,
} from "../plan/passes-left.ts";
import type { LoggedPass } from "./pass.ts";

import type { WalkData, WalkRoute } from "./walk-data.ts";

/** A read point of the plan, and what the browser keeps of the walk. */
export interface Walk {
  data: WalkData;
  route: WalkRoute;
  passes: LoggedPass[];
}

/** How far the plan of one read point has come. */
export interface Progress {
  planned: number;
  done: number;
  /** By combination, in the order of the route. */
  cells: (CellDone & { isDone: boolean })[];
}

/** A pass with the combinations that it counts for and the tags that it presented. */
interface PlacedPass extends KnownPass {
  cells: number[];
  tags: number;
}

/**
 * Every pass of this read point and round that is known, each id once: what the browser keeps stands for the same pass in
 * the files.
 */
function knownPasses({ data, route, passes }: Walk): PlacedPass[] {
  const own = passes
    .filter(({ readPoint, round }) => readPoint === route.readPoint && round === route.round)
    .map((pass) => ({
      pass: pass.pass,
      valid: pass.voidReason === "",
      cells: cellsOf(pass, route, data),
      tags: pass.presented,
    }));
  const ids = new Set(own.map(({ pass }) => pass));
  return [...own, ...route.before.filter(({ pass }) => !ids.has(pass))];
}

function cellsOf({ conditions }: LoggedPass, { cells }: WalkRoute, { columns }: WalkData): number[] {
  const walked = Object.fromEntries(
    columns.map(({ column, bands }) => {
      const name = valuesOf({ bands }).nameOf(conditions[column] ?? "");
      return [column, name === null ? [] : [name]];
    }),
  );
  return cells.flatMap(({ names }, place) => (includes(walked, names) ? [place] : []));
}

export function progress(walk: Walk): Progress {
  const walked = knownPasses(walk).filter(({ valid }) => valid);
  const cells = walk.route.cells.map(({ planned }, place) => {
    const own = walked.filter((pass) => pass.cells.includes(place));
    const cell = { planned, done: own.length, tagsDone: own.reduce((sum, { tags }) => sum + tags, 0) };
    return { ...cell, isDone: isDone(cell, walk.data.tagsPerPass) };
  });
  const sum = (count: (cell: CellDone) => number) => cells.reduce((total, cell) => total + count(cell), 0);
  return {
    planned: sum(({ planned }) => planned ?? 0),
    done: sum(({ planned, done }) => Math.min(done, planned ?? 0)),
    cells,
  };
}

/** Passes still to be walked, in the planned order. */
export function openPasses(walk: Walk): PlannedPass[] {
  return leftToWalk({
    passes: walk.route.passes,
    cells: progress(walk).cells,
    tagsPerPass: walk.data.tagsPerPass,
    known: knownPasses(walk),
  });
}

/** An id that no pass of this read point and round has yet: the planned one, or, after a void pass, `w03-2`. */
export function freeId(walk: Walk, planned: string): string {
  return freeNumber(planned, new Set(knownPasses(walk).map(({ pass }) => pass)));
}

/** The same for a pass that is not on the plan: `x01`. */
export function freeExtraId(walk: Walk): string {
  const taken = new Set([...knownPasses(walk), ...walk.route.passes].map(({ pass }) => pass));
  let number = 1;
  const id = () => `x${String(number).padStart(2, "0")}`;
  while (taken.has(id())) number += 1;
  return id();
}
