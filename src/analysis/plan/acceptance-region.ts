import type { State } from "../../model/estimate.ts";
import { firstThatHolds } from "../../statistics/first.ts";
import { fewestPairs, mostPairs, type PlannedWalk, plannedState } from "./planned-walk.ts";

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
  readonly #turns = new Map<number, number>();
  /** By number of faults: pairs up to which met holds in a walk of fewer passes. */
  readonly #metBefore: ReadonlyMap<number, number>;
  #notMetBegins: number | null = null;

  constructor(walk: PlannedWalk, passes: number, before?: AcceptanceRegion) {
    this.#walk = walk;
    this.#passes = passes;
    this.#metBefore = before?.#metSoFar() ?? new Map();
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

  /** The fewest pairs with which so many faults are no longer judged as the kindest; infinite where there are none. */
  turn(faults: number): number {
    const known = this.#turns.get(faults);
    if (known !== undefined) return known;
    const kind = this.kindest(faults);
    if (kind === "undecided") return Number.POSITIVE_INFINITY;
    const least = fewestPairs(this.#passes, faults);
    // Neither a pass more in a walk that is met nor a fault more in one that is not lets fewer pairs turn it.
    const near = kind === "met" ? this.#metBefore.get(faults) : this.#turns.get(faults - 1);
    const turned = firstThatHolds((pairs) => this.#stateOf(faults, pairs) !== kind, {
      from: Number.isFinite(near) ? Math.max(least, near!) : least,
      most: mostPairs(faults),
    });
    const turn = turned ?? Number.POSITIVE_INFINITY;
    this.#turns.set(faults, turn);
    return turn;
  }

  #metSoFar(): Map<number, number> {
    return new Map([...this.#metBefore, ...this.#turns].filter(([faults]) => faults < this.metEnds));
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
