import type { State } from "../../model/state.ts";
import { firstThatHolds } from "../../statistics/numerics/first.ts";
import { fewestPairs, type PlannedWalk, plannedState } from "./planned-walk.ts";

/** What is known of the critical number of pairs: the verdict is the same up to `same` and another from `other` on. */
interface Bracket {
  same: number;
  other: number;
}

/**
 * Which outcomes of a walk of `passes` passes end in met, and which in not met, by number of faults and pairs of them that
 * share a pass.
 *
 * More faults are never kinder, so one search finds where met ends and another where not met begins. Faults that pile up in
 * few passes show less than the same number spread out: at one number of faults the verdict can only become undecided as the
 * pairs grow, from the critical number of pairs on. `before` is the region of the same walk with fewer passes: what is met
 * there is met here.
 * Example: 25 passes of 40 tags, at least 0.99 at 95 %, Wilson, correlation 0.02: met with one fault, undecided with two.
 */
export class AcceptanceRegion {
  /** The fewest faults that cannot end in met. */
  readonly rejectionNumber: number;
  readonly #walk: PlannedWalk;
  readonly #passes: number;
  readonly #brackets = new Map<number, Bracket>();
  /** By number of faults: pairs up to which met holds in a walk of fewer passes. */
  readonly #metBefore: ReadonlyMap<number, number>;
  #notMetBegins: number | null = null;

  constructor(walk: PlannedWalk, passes: number, before?: AcceptanceRegion) {
    this.#walk = walk;
    this.#passes = passes;
    this.#metBefore = before === undefined ? new Map() : before.#metSoFar();
    if (passes < walk.minimumPasses) {
      this.rejectionNumber = 0;
      this.#notMetBegins = Number.POSITIVE_INFINITY;
    } else this.rejectionNumber = this.#firstSpread((state) => state !== "met", before?.rejectionNumber ?? 0);
  }

  /** What so many faults are judged if they are spread over the passes as evenly as they can be. */
  stateIfSpread(faults: number): "met" | "undecided" | "not-met" {
    if (faults < this.rejectionNumber) return "met";
    this.#notMetBegins ??= this.#firstSpread((state) => state === "not-met", this.rejectionNumber);
    return faults < this.#notMetBegins ? "undecided" : "not-met";
  }

  /** The most faults, none above `most`, that are not undecided if they are spread; -1 where all are. */
  mostDecided(most: number): number {
    if (most < this.rejectionNumber) return most;
    return this.stateIfSpread(most) === "not-met" ? most : this.rejectionNumber - 1;
  }

  /**
   * The fewest pairs from `from` up with which so many faults have another verdict than if they were spread evenly; infinite
   * where there are none up to `to`. To be asked only of faults that are not undecided anyway.
   */
  criticalPairs(faults: number, { from, to }: { from: number; to: number }): number {
    const spread = this.stateIfSpread(faults);
    const known = this.#brackets.get(faults) ?? this.#firstBracket(faults, spread);
    this.#brackets.set(faults, known);
    const isOther = (pairs: number) => this.#stateOf(faults, pairs) !== spread;
    if (known.same >= to) return Number.POSITIVE_INFINITY;
    if (known.other > to && !isOther(to)) {
      known.same = to;
      return Number.POSITIVE_INFINITY;
    }
    const start = Math.max(from, known.same + 1);
    const most = Math.min(to, known.other);
    known.other = Math.min(most, firstThatHolds(isOther, { from: start, most: most - 1 }) ?? most);
    if (known.other > start) known.same = known.other - 1;
    return Math.max(from, known.other);
  }

  /** Neither a pass more in a walk that is met nor a fault more in one that is not met lowers the critical number. */
  #firstBracket(faults: number, spread: State): Bracket {
    const near = spread === "met" ? this.#metBefore.get(faults) : this.#brackets.get(faults - 1)?.same;
    const same = Math.max(fewestPairs(this.#passes, faults), near ?? 0);
    return { same, other: Number.POSITIVE_INFINITY };
  }

  #metSoFar(): Map<number, number> {
    const found = [...this.#brackets].map(([faults, { same }]) => [faults, same] as const);
    return new Map([...this.#metBefore, ...found].filter(([faults]) => faults < this.rejectionNumber));
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
