import type { State } from "./estimate.ts";

const worstFirst: State[] = ["not-met", "untested", "undecided", "met"];

/** The worst of several states; untested where there are none. Nothing is averaged. */
export function worstState(states: Iterable<State>): State {
  const present = new Set(states);
  return worstFirst.find((state) => present.has(state)) ?? "untested";
}

/** Orders states worst first. */
export function byState(a: State, b: State): number {
  return worstFirst.indexOf(a) - worstFirst.indexOf(b);
}
