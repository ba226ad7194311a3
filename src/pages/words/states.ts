import type { State } from "../../analysis/result.ts";

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

/** What the state means, in one sentence. */
export function stateMeaning(state: State): string {
  switch (state) {
    case "met":
      return "The whole interval lies on the good side of the limit.";
    case "not-met":
      return "The whole interval lies on the wrong side of the limit.";
    case "undecided":
      return "The limit lies inside the interval: the evidence shows neither.";
    case "untested":
      return "Not walked, or fewer passes than were asked for.";
  }
}
