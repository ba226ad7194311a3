/** Every state of a finding, worst first. */
export const statesWorstFirst = ["not-met", "untested", "undecided", "met"] as const;

/** What the evidence shows of what is asked. */
export type State = (typeof statesWorstFirst)[number];

/** The worst of several states; untested where there are none. Nothing is averaged. */
export function worstState(states: Iterable<State>): State {
  const present = new Set(states);
  return statesWorstFirst.find((state) => present.has(state)) ?? "untested";
}

/** Orders states worst first. */
export function byState(a: State, b: State): number {
  return statesWorstFirst.indexOf(a) - statesWorstFirst.indexOf(b);
}
