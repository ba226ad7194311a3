import { powerFit } from "../../measures/evidence/margins.ts";
import { powerMargin, shareOf } from "../../measures/power-margin.ts";
import type { Facility } from "../../model/facility.ts";
import type { PowerCurve, PowerResult } from "../../model/radio/power-curves.ts";
import type { PowerSteps } from "../../model/radio/power-steps.ts";
import type { WalkedFacility } from "../../model/rows.ts";
import { doseFor, type Link, shareAt, spreadOf } from "../../statistics/regression/dose-response.ts";

/** Shown of every curve, with those that criteria ask for. */
const usualShares = [0.5, 0.9, 0.99];
/** Points of the band between two whole dB. */
const pointsADb = 2;

/** What the power logs show of a read point, by round; empty where it has none. */
export function powerResults({ facility, log }: WalkedFacility, readPoint: string): PowerResult[] {
  const asked = sharesAsked(facility, readPoint);
  const shares = [...new Set([...usualShares, ...asked])].sort((a, b) => a - b);
  return log.power
    .filter((one) => one.readPoint === readPoint && one.steps.length > 0)
    .map((own) => ({
      round: own.round,
      inUseDbm: own.inUseDbm,
      steps: own.steps,
      tagsNamed: own.cohorts !== null,
      curves: (["logit", "probit"] as const).map((link) =>
        curveOf(own, { link, shares, confidence: facility.confidence }),
      ),
    }));
}

function curveOf(
  logged: PowerSteps,
  { link, shares, confidence }: { link: Link; shares: readonly number[]; confidence: number },
): PowerCurve {
  const { steps, inUseDbm } = logged;
  const fit = powerFit(logged, link);
  if (fit.state !== "fitted")
    return {
      link,
      ...fit,
      intercept: null,
      slope: null,
      deviance: null,
      degreesOfFreedom: null,
      heterogeneity: null,
      needed: [],
      band: [],
    };
  const { curve } = fit;
  const spread = spreadOf(curve, confidence);
  const needed = shares.map((share) => {
    const { dose, limits } = doseFor(curve, share, spread);
    const [lowerDbm, upperDbm] = limits.state === "bounded" ? [limits.lower, limits.upper] : [null, null];
    const above = (power: number | null) => (power === null || inUseDbm === null ? null : inUseDbm - power);
    const value = above(dose);
    return {
      share,
      powerDbm: dose,
      lowerDbm,
      upperDbm,
      margin: value === null ? null : { value, lower: above(upperDbm), upper: above(lowerDbm) },
    };
  });
  const shown = [...steps.map(({ powerDbm }) => powerDbm), ...(inUseDbm === null ? [] : [inUseDbm])];
  const from = Math.floor(Math.min(...shown)) - 1;
  const to = Math.ceil(Math.max(...shown)) + 1;
  const evenly = Array.from({ length: (to - from) * pointsADb + 1 }, (_, i) => from + i / pointsADb);
  return {
    link,
    state: "fitted",
    noneAtDbm: null,
    allAtDbm: null,
    intercept: curve.intercept,
    slope: curve.slope,
    deviance: curve.deviance,
    degreesOfFreedom: curve.degreesOfFreedom,
    heterogeneity: spread.factor,
    needed,
    band: [...new Set([...shown, ...evenly])]
      .sort((a, b) => a - b)
      .map((powerDbm) => ({ powerDbm, ...shareAt(curve, powerDbm, spread) })),
  };
}

/** The shares that criteria on the power want read at a read point. */
export function sharesAsked({ criteria }: Pick<Facility, "criteria">, readPoint: string): number[] {
  return criteria
    .filter(({ measure, readPoints }) => measure === powerMargin.id && readPoints.includes(readPoint))
    .map(shareOf);
}
