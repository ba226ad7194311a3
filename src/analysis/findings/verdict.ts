import type { Basis, Limit } from "../../intervals/interval.ts";
import type { Evidence } from "../../measures/evidence/evidence.ts";
import type { Finding, ToSettle } from "../../model/result/finding.ts";
import type { State } from "../../model/state.ts";

/** What a criterion asks of a figure. */
export interface Asked extends Limit {
  minimumPasses: number;
}

/**
 * Untested where nothing was counted, or in fewer passes than the criterion's minimum, whatever the figure; and where it
 * would be met, were it not barred from that.
 */
export function stateOf(evidence: Evidence, asked: Asked, basis: Basis): State {
  if (evidence.isEmpty || evidence.passes < asked.minimumPasses) return "untested";
  const shown = evidence.decide(asked, basis);
  return shown === "met" && evidence.bar(asked, basis) !== null ? "untested" : shown;
}

/**
 * What would move a finding on: passes where it is untested, further `unit` without a fault where it is undecided. There,
 * `retune` says that so many faults would be a rare thing at the limit itself, so that a cause is worth looking for.
 */
export function toSettle(
  evidence: Evidence,
  asked: Asked,
  { state, unit, basis }: { state: State; unit: string; basis: Basis },
): ToSettle | null {
  const bar = evidence.bar(asked, basis);
  if (state === "untested") {
    const short = asked.minimumPasses - evidence.passes;
    if (evidence.whenUntested !== undefined) return evidence.whenUntested(Math.max(0, short));
    if (bar === null || evidence.isEmpty) return { furtherPasses: Math.max(1, short) };
    if ("furtherMinutes" in bar.takes) return short > 0 ? { furtherPasses: short } : bar.takes;
    return { furtherPasses: Math.max(bar.takes.furtherPasses, short) };
  }
  if (state !== "undecided") return null;
  const shown = evidence.further(asked, basis);
  const furtherWithoutMiss = shown === null ? null : Math.max(shown, bar?.further ?? 0);
  const chance = evidence.chanceAtLimit(asked, basis);
  return { unit, furtherWithoutMiss, chance, retune: chance !== null && chance < rareChance };
}

/** What happens less often than this at the limit asks for its cause. */
const rareChance = 0.1;

/** Independent; a scatter of well over one unit on the logit scale; one pass in many that misses half of its tags. */
const otherCorrelations = [0, 0.1, 0.5];

/** What other assumed correlations would have shown; empty where none is assumed. */
export function sensitivityOf(evidence: Evidence, asked: Asked, basis: Basis): Finding["sensitivity"] {
  if (!evidence.assumesCorrelation) return [];
  return otherCorrelations.map((missCorrelation) => {
    const other = { ...basis, missCorrelation };
    const { lower, upper, effectiveN } = evidence.estimate(other);
    return { missCorrelation, lower, upper, effectiveN, state: stateOf(evidence, asked, other) };
  });
}
