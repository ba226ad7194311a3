import type { State } from "../../model/result.ts";

/** Worst first: the order of weight on every page. */
export const statesByWeight: State[] = ["not-met", "untested", "undecided", "met"];

/** The state as it is written: `not met`. */
export function stateWord(state: State): string {
  return state === "not-met" ? "not met" : state;
}

/** 0 for the worst state, 3 for the best: for sorting worst first. */
export function stateWeight(state: State): number {
  return statesByWeight.indexOf(state);
}
