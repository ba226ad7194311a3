import { z } from "zod";
import type { Limit } from "../intervals/interval.ts";
import { asFraction } from "../model/decimal.ts";
import { fewestTrialsToSee } from "../statistics/clopper-pearson.ts";
import type { Bar } from "./evidence/evidence.ts";
import type { CriterionFault, Parameters } from "./measure.ts";

/**
 * What a criterion may say of bad passes: `worst_pass`, the share of its tags that a bad pass misses, or of its bystanders
 * that it reads. A walk in which a bad kind of pass did not come up looks like that of a good read point, whatever the
 * interval. So such a criterion is met only after so many passes that a kind of pass which by itself breaks the limit would
 * have come up. It guards against misses that all lie in bad passes, and no more.
 */
export const worstPass = {
  parameters: {
    worst_pass: {
      schema: z.number().nullish().meta({
        description:
          "The share of its tags that a bad pass misses (of bystanders: reads): met only after enough passes for such a kind to come up.",
      }),
    },
  },
  faults: worstPassFaults,
};

function worstPassOf({ worst_pass: share }: Parameters): number | null {
  return typeof share === "number" ? share : null;
}

/** The share of presentations that may be faults. */
function allowedShare({ sense, limit }: Limit): number {
  return sense === "at-least" ? 1 - limit : limit;
}

function worstPassFaults(written: Parameters): CriterionFault[] {
  const share = worstPassOf(written);
  const { at_least: atLeast, at_most: atMost } = written;
  const allowed =
    typeof atLeast === "number"
      ? Number((1 - atLeast).toPrecision(12))
      : typeof atMost === "number"
        ? atMost
        : 0;
  if (share === null || (share > allowed && share <= 1)) return [];
  const isPercent = share > 1 && share <= 100 && share / 100 > allowed;
  return [
    {
      key: "worst_pass",
      code: "worst-pass-out-of-range",
      expected: `a number above ${allowed}, the share of faults that the limit allows, and at most 1`,
      advice: isPercent
        ? `Write ${asFraction(share)}.`
        : "Write the share of its tags that a bad pass misses: 0.5 for half of them. Passes no worse than the limit allows cannot break it.",
    },
  ];
}

/**
 * Passes that it takes before a finding can be met: so many that a kind of pass with `worst_pass` faults, frequent enough to
 * break the limit alone, comes up with a chance of 1 - alpha/2.
 * Example: at least 0.99, worst_pass 0.5, 95 %: 183.
 */
export function passesForWorst(criterion: Parameters, limit: Limit, confidence: number): number {
  const share = worstPassOf(criterion);
  return share === null ? 1 : fewestTrialsToSee(allowedShare(limit) / share, confidence);
}

/** What too few passes bar. @param counted passes, and presentations in them */
export function worstPassBar(
  criterion: Parameters,
  limit: Limit,
  { confidence, passes, n }: { confidence: number; passes: number; n: number },
): Bar | null {
  const needed = passesForWorst(criterion, limit, confidence);
  const share = worstPassOf(criterion);
  if (share === null || passes >= needed) return null;
  const furtherPasses = needed - passes;
  return {
    remark: { code: "worst-pass", worstPass: share, passes: needed },
    takes: { furtherPasses },
    further: passes === 0 ? furtherPasses : furtherPasses * Math.max(1, Math.round(n / passes)),
  };
}
