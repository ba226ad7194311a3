import type { State } from "../../model/state.ts";
import { firstThatHolds } from "../../statistics/first.ts";
import { fewestPairs, type PlannedWalk, plannedState } from "./planned-walk.ts";

/** Pairs up to which a number of faults is known to be judged as the kindest, and from which on it is known not to be. */
interface Turn {
  holds: number;
  turned: number;
}

/**
 * Which outcomes of a walk of `passes` passes end in met, and which in not met, by number of faults and pairs of them that
 * share a pass.
 *
 * More faults are never kinder, so one search finds where met ends and another where not met begins. Faults that pile up in
 * few passes say less than the same number spread out: at one number of faults the verdict can only turn into undecided as
 * the pairs grow, and `turn` says where. `before` is the region of the same walk with fewer passes: what is met there is
 * met here.
 * Example: 25 passes of 40 tags, at least 0.99 at 95 %, Wilson, correlation 0.02: met with one fault, undecided with two.
 */
export class AcceptanceRegion {
  /** The fewest faults that cannot end in met. */
  readonly metEnds: number;
  readonly #walk: PlannedWalk;
  readonly #passes: number;
  readonly #turns = new Map<number, Turn>();
  /** By number of faults: pairs up to which met holds in a walk of fewer passes. */
  readonly #metBefore: ReadonlyMap<number, number>;
  #notMetBegins: number | null = null;

  constructor(walk: PlannedWalk, passes: number, before?: AcceptanceRegion) {
    this.#walk = walk;
    this.#passes = passes;
    this.#metBefore = before === undefined ? new Map() : before.#metSoFar();
    if (passes < walk.minimumPasses) {
      this.metEnds = 0;
      this.#notMetBegins = Number.POSITIVE_INFINITY;
    } else this.metEnds = this.#firstSpread((state) => state !== "met", before?.metEnds ?? 0);
  }

  /** What so many faults are judged if they are spread over the passes as evenly as they can be. */
  kindest(faults: number): "met" | "undecided" | "not-met" {
    if (faults < this.metEnds) return "met";
    this.#notMetBegins ??= this.#firstSpread((state) => state === "not-met", this.metEnds);
    return faults < this.#notMetBegins ? "undecided" : "not-met";
  }

  /**
   * The fewest pairs from `from` up with which so many faults are no longer judged as the kindest; infinite where there are
   * none up to `to`. To be asked of faults that are not undecided anyway.
   */
  turn(faults: number, { from, to }: { from: number; to: number }): number {
    const kind = this.kindest(faults);
    const turn = this.#turns.get(faults) ?? this.#firstGuess(faults, kind);
    this.#turns.set(faults, turn);
    const isTurned = (pairs: number) => this.#stateOf(faults, pairs) !== kind;
    if (turn.holds >= to) return Number.POSITIVE_INFINITY;
    if (turn.turned > to && !isTurned(to)) {
      turn.holds = to;
      return Number.POSITIVE_INFINITY;
    }
    const start = Math.max(from, turn.holds + 1);
    const most = Math.min(to, turn.turned);
    turn.turned = Math.min(most, firstThatHolds(isTurned, { from: start, most: most - 1 }) ?? most);
    if (turn.turned > start) turn.holds = turn.turned - 1;
    return Math.max(from, turn.turned);
  }

  /** Neither a pass more in a walk that is met nor a fault more in one that is not lets fewer pairs turn it. */
  #firstGuess(faults: number, kind: State): Turn {
    const near = kind === "met" ? this.#metBefore.get(faults) : this.#turns.get(faults - 1)?.holds;
    const holds = Math.max(fewestPairs(this.#passes, faults), near ?? 0);
    return { holds, turned: Number.POSITIVE_INFINITY };
  }

  #metSoFar(): Map<number, number> {
    const found = [...this.#turns].map(([faults, { holds }]) => [faults, holds] as const);
    return new Map([...this.#metBefore, ...found].filter(([faults]) => faults < this.metEnds));
  }

  #stateOf(faults: number, pairs: number): State {
    return plannedState(this.#walk, { passes: this.#passes, faults, pairs });
  }

  /** The fewest faults, spread evenly, from which on the state is as asked; one more than there can be where it never is. */
  #firstSpread(isAsked: (state: State) => boolean, from: number): number {
    const most = this.#passes * this.#walk.trialsPerPass;
    const holds = (faults: number) => isAsked(this.#stateOf(faults, fewestPairs(this.#passes, faults)));
    return firstThatHolds(holds, { from, most }) ?? most + 1;
  }
}
