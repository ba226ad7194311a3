import type { State } from "../../model/state.ts";
import { fewestPairs, type PlannedWalk, plannedState } from "./planned-walk.ts";

/** What each layout of a walk's faults would be judged. */
export interface LayoutVerdicts {
  /** With the faults spread as evenly as they can be. */
  kindest(faults: number): State;
  /** The fewest pairs, from `from` up, with which so many faults are no longer judged so; `to` + 1 where none up to `to`. */
  turn(faults: number, from: number, to: number): number;
  /** The fewest faults that cannot end in met. */
  readonly metEnds: number;
  /** By total of faults: pairs up to which met is known to hold. */
  readonly metUpTo: ReadonlyMap<number, number>;
}

/**
 * The verdicts on walks of `passes` passes by total of faults and pairs of them that share a pass.
 *
 * More faults are never kinder, so two halvings find where met ends and where not met begins. Faults that pile up in few
 * passes say less than the same number spread out: at one total a verdict can only turn into undecided as the pairs
 * grow. So every answer bounds the next one. `before` are the verdicts on a walk of fewer passes: what was met there is
 * met here.
 * Example: 25 passes of 40 tags, at least 0.99 at 95 %, Wilson, correlation 0.02: met with one fault, undecided with two.
 */
export function layoutVerdicts(walk: PlannedWalk, passes: number, before?: LayoutVerdicts): LayoutVerdicts {
  const metUpTo = new Map(before?.metUpTo);
  const known = new Map<number, { holds: number; turned: number }>();
  const evenly = (faults: number) => plannedState(walk, passes, faults, fewestPairs(passes, faults));
  const most = passes * walk.trialsPerPass;
  const tooFew = passes < walk.minimumPasses;
  const metEnds = tooFew ? 0 : first((faults) => evenly(faults) !== "met", before?.metEnds ?? 0, most);
  let notMetBegins = tooFew ? Number.POSITIVE_INFINITY : null;
  const kindest = (faults: number): State => {
    if (faults < metEnds) return "met";
    notMetBegins ??= first((some) => evenly(some) === "not-met", metEnds, most);
    return faults < notMetBegins ? "undecided" : "not-met";
  };
  /** The last two turns found: the next total turns about where a line through them leads. */
  let last = { faults: 0, pairs: 0 };
  let earlier = { faults: 1, pairs: 0 };
  const guessAt = (faults: number) => {
    const slope = (last.pairs - earlier.pairs) / (last.faults - earlier.faults || 1);
    return Math.round(last.pairs + slope * (faults - last.faults));
  };
  return {
    kindest,
    metEnds,
    metUpTo,
    turn(faults, from, to) {
      const kind = kindest(faults);
      if (kind === "undecided") return to + 1;
      const least = fewestPairs(passes, faults);
      const held = kind === "met" ? (metUpTo.get(faults) ?? least) : least;
      const bounds = known.get(faults) ?? {
        holds: Math.max(least, held),
        turned: Number.POSITIVE_INFINITY,
      };
      known.set(faults, bounds);
      const open = () => bounds.holds < to && bounds.turned > from && bounds.turned - bounds.holds > 1;
      const ask = (pairs: number) => {
        if (pairs <= bounds.holds || pairs >= bounds.turned) return;
        if (plannedState(walk, passes, faults, pairs) === kind) bounds.holds = pairs;
        else bounds.turned = pairs;
      };
      const guess = guessAt(faults);
      const near = guess > from && guess < to;
      if (open() && !near) ask(to);
      if (open() && !near) ask(from);
      for (let reach = 1; near && reach <= 64 && open(); reach *= 4) {
        if (bounds.turned > guess - reach) ask(Math.max(from, guess - reach));
        if (open() && bounds.holds < guess + reach) ask(Math.min(to, guess + reach));
        if (bounds.holds >= guess - reach && bounds.turned <= guess + reach) break;
      }
      if (open() && bounds.turned > to) ask(to);
      if (open() && bounds.holds < from) ask(from);
      while (open()) ask(Math.floor((Math.max(bounds.holds, from) + Math.min(bounds.turned, to)) / 2));
      if (bounds.turned - bounds.holds === 1 && faults !== last.faults) {
        earlier = last;
        last = { faults, pairs: bounds.turned };
      }
      if (kind === "met") metUpTo.set(faults, bounds.holds);
      return Math.min(to + 1, Math.max(from, bounds.holds + 1));
    },
  };
}

/** The fewest of `from` to `most` that `reached` holds for; `most` + 1 where it holds for none. It holds from there on. */
function first(reached: (faults: number) => boolean, from: number, most: number): number {
  let low = from - 1;
  let high = from;
  for (let step = 1; high <= most && !reached(high); step *= 2) {
    low = high;
    high += step;
  }
  high = Math.min(high, most + 1);
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (reached(middle)) high = middle;
    else low = middle;
  }
  return high;
}
