import type { State } from "../../model/state.ts";

/** The state as it is written: `not met`. */
export function stateWord(state: State): string {
  return state === "not-met" ? "not met" : state;
}
