import type { Basis, Limit } from "../../intervals/interval.ts";
import type { Evidence } from "../../measures/evidence/evidence.ts";
import type { Finding, ToSettle } from "../../model/result.ts";
import type { State } from "../../model/state.ts";

/** What a criterion asks of a figure. */
export interface Asked extends Limit {
  minimumPasses: number;
}

/** Untested where nothing was counted, or in fewer passes than the criterion's minimum, whatever the figure. */
export function stateOf(evidence: Evidence, asked: Asked, basis: Basis): State {
  if (evidence.isEmpty || evidence.passes < asked.minimumPasses) return "untested";
  return evidence.decide(asked, basis);
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
  if (state === "untested") return { furtherPasses: Math.max(1, asked.minimumPasses - evidence.passes) };
  if (state !== "undecided") return null;
  const furtherWithoutMiss = evidence.further(asked, basis);
  const chance = evidence.chanceAtLimit(asked, basis);
  return { unit, furtherWithoutMiss, chance, retune: chance !== null && chance < rareChance };
}

/** What happens less often than this at the limit asks for its cause. */
const rareChance = 0.1;

const otherCorrelations = [0, 0.1];

/** What other assumed correlations would have shown; empty where none is assumed. */
export function sensitivityOf(evidence: Evidence, asked: Asked, basis: Basis): Finding["sensitivity"] {
  if (!evidence.assumesCorrelation) return [];
  return otherCorrelations.map((missCorrelation) => {
    const other = { ...basis, missCorrelation };
    const { lower, upper, effectiveN } = evidence.estimate(other);
    return { missCorrelation, lower, upper, effectiveN, state: stateOf(evidence, asked, other) };
  });
}
