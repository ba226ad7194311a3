import type { MarginEstimate } from "../../model/estimate.ts";
import type { PowerCurveState } from "../../model/radio/power-curves.ts";
import type { PowerSteps } from "../../model/radio/power-steps.ts";
import type { Remark } from "../../model/result/remark.ts";
import { firstThatHolds } from "../../statistics/numerics/first.ts";
import {
  type CurveCovariance,
  type DoseCurve,
  type DoseResponse,
  designEffectAt,
  doseFor,
  doseResponse,
  type Link,
  nestedCohorts,
  type Spread,
  spreadOf,
  waldLowerP,
} from "../../statistics/regression/dose-response.ts";
import { decideByBounds, type Evidence, noBounds } from "./evidence.ts";
import { isOnWrongSide, mostFurther } from "./settling.ts";

/** A power log's curve, or why there is none: one that rises with the power. */
export type PowerFit =
  | { state: "fitted"; curve: DoseCurve }
  | { state: Exclude<PowerCurveState, "fitted">; noneAtDbm: number | null; allAtDbm: number | null };

const names: Record<Exclude<DoseResponse["state"], "fitted">, Exclude<PowerCurveState, "fitted">> = {
  "too-few-doses": "too-few-powers",
  "no-response": "none-read",
  "all-respond": "all-read",
  separated: "separated",
};

/** What a power log shows of a read point. */
export type LoggedPowers = Pick<PowerSteps, "steps" | "cohorts">;

/**
 * The share read as a function of the power in dBm. A curve that falls with the power says nothing of the power needed. Where the log
 * does not name its tags, the same ones may have been presented at every power, and are taken to have been.
 */
export function powerFit({ steps, cohorts }: LoggedPowers, link: Link): PowerFit {
  const fit = doseResponse(
    steps.map(({ powerDbm, presented, read }) => ({ dose: powerDbm, n: presented, k: read })),
    link,
    cohorts ?? nestedCohorts(steps.map(({ presented }) => presented)),
  );
  const none = { noneAtDbm: null, allAtDbm: null };
  if (fit.state === "fitted")
    return fit.slope > 0 ? { state: "fitted", curve: fit } : { state: "falling", ...none };
  if (fit.state !== "separated") return { state: names[fit.state], ...none };
  return fit.rises
    ? { state: "separated", noneAtDbm: fit.noneAt, allAtDbm: fit.allAt }
    : { state: "falling", ...none };
}

/** What the margin is made of. */
interface Margin extends LoggedPowers {
  /** Null where the settings state none. */
  inUseDbm: number | null;
  /** The share that is to be read; strictly between 0 and 1. */
  share: number;
}

/**
 * How far the transmit power in use lies above the power that a share needs, in dB, by the logistic curve, with the limits of
 * Fieller. Where the same tags were presented at every power, a weak one is missed again and again: variances are the larger of those
 * of independent presentations and of tags that are each read from a power of their own on. Pearson's X² does not show it, since the
 * scatter about the curve is then small.
 */
export function marginEvidence({ inUseDbm, share, ...logged }: Margin): Evidence {
  const { steps } = logged;
  const fit = powerFit(logged, "logit");
  const n = steps.reduce((sum, step) => sum + step.presented, 0);
  const k = steps.reduce((sum, step) => sum + step.read, 0);
  const curve = fit.state === "fitted" ? fit.curve : null;
  const estimate = (confidence: number): MarginEstimate => {
    const common = { kind: "margin", k, n, confidence, method: "fieller" } as const;
    if (curve === null || inUseDbm === null) return { ...common, value: null, ...noBounds };
    const spread = spreadOf(curve, confidence);
    const margin = marginOf({ curve, spread, inUseDbm, share });
    const designEffect = designEffectAt(curve, inUseDbm - margin.value, spread);
    return { ...common, ...margin, effectiveN: n / designEffect, designEffect };
  };
  return {
    passes: steps.length,
    remarks: [],
    remarksAt: ({ confidence }) => remarksOn(fit, { steps, inUseDbm, share }, confidence),
    isOfPasses: false,
    isRate: false,
    tags: () => null,
    byPass: null,
    bar: () => null,
    isEmpty: n === 0 || inUseDbm === null,
    assumesCorrelation: false,
    estimate: ({ confidence }) => estimate(confidence),
    decide: (limit, { confidence }) => decideByBounds(estimate(confidence), limit),
    further: (limit, { confidence }) => {
      const { value } = estimate(confidence);
      if (curve === null || inUseDbm === null || value === null || isOnWrongSide(value, limit)) return null;
      const spread = spreadOf(curve, confidence);
      return firstThatHolds(
        (more) => {
          const longer = { curve: repeated(curve, n / (n + more)), spread, inUseDbm, share };
          return decideByBounds(marginOf(longer), limit) === "met";
        },
        { from: 1, most: mostFurther },
      );
    },
    chanceAtLimit: (limit, { confidence }) => {
      const { value } = estimate(confidence);
      if (curve === null || inUseDbm === null || value === null || !isOnWrongSide(value, limit)) return null;
      return waldLowerP(curve, { dose: inUseDbm - limit.limit, share }, spreadOf(curve, confidence));
    },
    whenUntested: (short) => ({ furtherPowers: n === 0 ? Math.max(2, short) : short }),
  };
}

/** Bounds are null where the limits of the power needed have none. */
function marginOf({
  curve,
  spread,
  inUseDbm,
  share,
}: {
  curve: DoseCurve;
  spread: Spread;
  inUseDbm: number;
  share: number;
}): { value: number; lower: number | null; upper: number | null } {
  const { dose, limits } = doseFor(curve, share, spread);
  const value = inUseDbm - dose;
  return limits.state === "bounded"
    ? { value, lower: inUseDbm - limits.upper, upper: inUseDbm - limits.lower }
    : { value, lower: null, upper: null };
}

/** The same curve from more tags at the same powers, read in the same shares: its variances shrink by a factor. */
function repeated(curve: DoseCurve, factor: number): DoseCurve {
  const shrunk = ({ intercept, slope, both }: CurveCovariance) => ({
    intercept: intercept * factor,
    slope: slope * factor,
    both: both * factor,
  });
  return {
    ...curve,
    covariance: shrunk(curve.covariance),
    clustered: curve.clustered === null ? null : shrunk(curve.clustered),
  };
}

function remarksOn(
  fit: PowerFit,
  { steps, inUseDbm, share }: Omit<Margin, "cohorts">,
  confidence: number,
): Remark[] {
  const remarks: Remark[] = [];
  if (steps.length === 0) return remarks;
  if (inUseDbm === null) remarks.push({ code: "power-in-use-unknown" });
  if (fit.state !== "fitted") {
    const { state: why, noneAtDbm, allAtDbm } = fit;
    return [...remarks, { code: "no-power-curve", why, noneAtDbm, allAtDbm }];
  }
  const spread = spreadOf(fit.curve, confidence);
  const { dose: neededDbm, limits } = doseFor(fit.curve, share, spread);
  const highestDbm = steps.at(-1)!.powerDbm;
  if (limits.state === "unbounded") remarks.push({ code: "power-limits-unbounded" });
  else if (neededDbm > highestDbm) remarks.push({ code: "power-beyond-steps", neededDbm, highestDbm });
  if (spread.factor > 1) remarks.push({ code: "power-scatter", factor: spread.factor });
  return remarks;
}
