import normalCdf from "@stdlib/stats-base-dists-normal-cdf";
import normalQuantile from "@stdlib/stats-base-dists-normal-quantile";
import tQuantile from "@stdlib/stats-base-dists-t-quantile";
import { incompleteGamma } from "../numerics/incomplete-gamma.ts";
import { type Bounds, criticalValue } from "../wilson.ts";

/** Trials at one dose: `k` of `n` responded. Several groups may have the same dose. */
export interface DoseGroup {
  dose: number;
  n: number;
  k: number;
}

/** So many subjects, each of whom had `trials[i]` trials in the group `groups[i]`, numbered as the groups are given. */
export interface Cohort {
  subjects: number;
  groups: readonly number[];
  trials: readonly number[];
}

/** Of intercept and slope: both variances, and the covariance between them. */
export interface CurveCovariance {
  intercept: number;
  slope: number;
  both: number;
}

/** The shape of the curve: logistic (`logit`), or the normal distribution's (`probit`), whose tails are shorter. */
export type Link = "logit" | "probit";

export interface DoseCurve {
  state: "fitted";
  link: Link;
  /** On the scale of the link, at dose 0. */
  intercept: number;
  /** On the scale of the link, for one unit of dose; negative where responses fall with the dose. */
  slope: number;
  /** Of independent trials, from the expected information. */
  covariance: CurveCovariance;
  /** Where subjects have one tolerance each, as `doseResponse` says; null where no cohorts were given. */
  clustered: CurveCovariance | null;
  deviance: number;
  /** Pearson's X², the squared residuals over their variances. */
  pearson: number;
  /** Of deviance and X²: groups less two. */
  degreesOfFreedom: number;
}

/** A curve, or why there is none. The likelihood has no maximum where no dose has responses below one that lacks some. */
export type DoseResponse =
  | DoseCurve
  /** No trials, or all of them at one dose. */
  | { state: "too-few-doses" }
  | { state: "no-response" }
  | { state: "all-respond" }
  /**
   * The curve would be a step. It lies between the highest dose without a response and the lowest at which all responded;
   * null where there is no such dose. `rises` says whether the high doses are those that responded.
   */
  | { state: "separated"; noneAt: number | null; allAt: number | null; rises: boolean };

interface LinkCard {
  /** The chance of a response and that of none, each to its own precision. */
  response(eta: number): number;
  none(eta: number): number;
  density(eta: number): number;
  /** The linear predictor of a chance. */
  eta(share: number): number;
}

const links: Record<Link, LinkCard> = {
  logit: {
    response: (eta) => 1 / (1 + Math.exp(-eta)),
    none: (eta) => 1 / (1 + Math.exp(eta)),
    density: (eta) => 1 / (1 + Math.exp(-eta)) / (1 + Math.exp(eta)),
    eta: (share) => Math.log(share / (1 - share)),
  },
  probit: {
    response: (eta) => normalCdf(eta, 0, 1),
    none: (eta) => normalCdf(-eta, 0, 1),
    density: (eta) => Math.exp((-eta * eta) / 2) / Math.sqrt(2 * Math.PI),
    eta: (share) => normalQuantile(share, 0, 1),
  },
};

/**
 * The share that responds as a function of the dose: link(share) = intercept + slope dose, by maximum likelihood.
 *
 * Doses are in any unit, on the scale on which the curve is taken to be straight (dBm, the logarithm of a concentration).
 * Groups without trials are left out. Equal doses may be one group or several: the curve is the same, deviance and X² are
 * not. Where no finite curve is the likeliest, the state says why, and there are no figures.
 *
 * Trials are independent, unless `cohorts` say which were of the same subjects. Each subject is then taken to have a tolerance: at
 * every dose above it all of the subject's trials respond, and below it none. Responses at two doses have the covariance
 * P1 (1 - P2), P1 being the smaller share. The estimates are the same, and `clustered` is their covariance: I^-1 V I^-1, with I the
 * information and V the covariance of the score. It may be larger than that of independent trials, or smaller.
 *
 * Fisher scoring, which is iteratively reweighted least squares; errors are from the expected information.
 * Sources: D. J. Finney (1971), Probit analysis, third edition; P. McCullagh and J. A. Nelder (1989), Generalized linear
 * models, sections 2.5 and 4.3; K.-Y. Liang and S. L. Zeger (1986), Biometrika 73, 13-22, for the sandwich, whose middle is the
 * model's here; all from memory.
 * Example: 2, 9, 22, 34, 39 and 40 of 40 at 15, 18, 21, 24, 27 and 30, probit: -6.2030 + 0.30220 dose, deviance 0.186.
 */
export function doseResponse(
  given: readonly DoseGroup[],
  link: Link,
  cohorts: readonly Cohort[] | null = null,
): DoseResponse {
  const groups = given.filter(({ n }) => n > 0);
  const without = stateWithoutCurve(groups);
  if (without !== null) return without;
  const trials = groups.reduce((sum, { n }) => sum + n, 0);
  const centre = groups.reduce((sum, { dose, n }) => sum + n * dose, 0) / trials;
  const card = links[link];
  let [level, slope] = [card.eta(groups.reduce((sum, { k }) => sum + k, 0) / trials), 0];
  let at = sumsAt(groups, card, { centre, level, slope });
  for (let step = 0; step < 100; step += 1) {
    const determinant = at.w * at.wxx - at.wx * at.wx;
    const move = {
      level: (at.wxx * at.score - at.wx * at.scoreX) / determinant,
      slope: (at.w * at.scoreX - at.wx * at.score) / determinant,
    };
    let scale = 1;
    let next = at;
    for (let halved = 0; halved < 40; halved += 1) {
      next = sumsAt(groups, card, {
        centre,
        level: level + scale * move.level,
        slope: slope + scale * move.slope,
      });
      if (next.deviance <= at.deviance + 1e-10) break;
      scale /= 2;
    }
    level += scale * move.level;
    slope += scale * move.slope;
    at = next;
    if (
      Math.abs(move.level) < 1e-12 * (1 + Math.abs(level)) &&
      Math.abs(move.slope) < 1e-12 * Math.abs(slope)
    )
      break;
  }
  const determinant = at.w * at.wxx - at.wx * at.wx;
  const variance = { intercept: at.wxx / determinant, slope: at.w / determinant, both: -at.wx / determinant };
  return {
    state: "fitted",
    link,
    intercept: level - slope * centre,
    slope,
    covariance: movedTo0(variance, centre),
    clustered:
      cohorts === null
        ? null
        : movedTo0(
            sandwich(variance, scoreCovariance(given, cohorts, { card, centre, level, slope })),
            centre,
          ),
    deviance: at.deviance,
    pearson: at.pearson,
    degreesOfFreedom: groups.length - 2,
  };
}

function stateWithoutCurve(groups: readonly DoseGroup[]): Exclude<DoseResponse, DoseCurve> | null {
  if (new Set(groups.map(({ dose }) => dose)).size < 2) return { state: "too-few-doses" };
  if (groups.every(({ k }) => k === 0)) return { state: "no-response" };
  if (groups.every(({ k, n }) => k === n)) return { state: "all-respond" };
  const doses = (holds: (group: DoseGroup) => boolean) => groups.filter(holds).map(({ dose }) => dose);
  const responded = doses(({ k }) => k > 0);
  const failed = doses(({ k, n }) => k < n);
  const rises = Math.max(...failed) <= Math.min(...responded);
  const falls = Math.max(...responded) <= Math.min(...failed);
  if (!rises && !falls) return null;
  const none = failed.filter((dose) => !responded.includes(dose));
  const all = responded.filter((dose) => !failed.includes(dose));
  const nearest = (of: number[], isLow: boolean) =>
    of.length === 0 ? null : isLow ? Math.max(...of) : Math.min(...of);
  return { state: "separated", noneAt: nearest(none, rises), allAt: nearest(all, !rises), rises };
}

/** Score and expected information at a curve, with the doses less their mean; deviance and X² beside them. */
function sumsAt(
  groups: readonly DoseGroup[],
  card: LinkCard,
  { centre, level, slope }: { centre: number; level: number; slope: number },
) {
  const sums = { w: 0, wx: 0, wxx: 0, score: 0, scoreX: 0, deviance: 0, pearson: 0 };
  for (const { dose, n, k } of groups) {
    const x = dose - centre;
    const eta = level + slope * x;
    const [response, none, density] = [card.response(eta), card.none(eta), card.density(eta)];
    sums.deviance += 2 * (gain(k, n * response) + gain(n - k, n * none));
    const variance = response * none;
    // So far out that a group carries no weight.
    if (variance === 0 || density === 0) continue;
    const weight = (n * density * density) / variance;
    // The two tails keep their precision where the chance of a response is nearly 1.
    const residual = k * none - (n - k) * response;
    const score = (density * residual) / variance;
    sums.w += weight;
    sums.wx += weight * x;
    sums.wxx += weight * x * x;
    sums.score += score;
    sums.scoreX += score * x;
    sums.pearson += (residual * residual) / (n * variance);
  }
  return sums;
}

/** The covariance of level and slope at the mean dose, as that of intercept and slope at dose 0. */
function movedTo0({ intercept, slope, both }: CurveCovariance, centre: number): CurveCovariance {
  return {
    intercept: intercept - 2 * centre * both + centre * centre * slope,
    slope,
    both: both - centre * slope,
  };
}

/** bread x middle x bread, all of them symmetric. */
function sandwich(bread: CurveCovariance, middle: CurveCovariance): CurveCovariance {
  const { intercept: a, both: b, slope: d } = bread;
  const [left, right] = [
    [a * middle.intercept + b * middle.both, a * middle.both + b * middle.slope],
    [b * middle.intercept + d * middle.both, b * middle.both + d * middle.slope],
  ] as const;
  return {
    intercept: left[0]! * a + left[1]! * b,
    both: left[0]! * b + left[1]! * d,
    slope: right[0]! * b + right[1]! * d,
  };
}

/** The covariance of the score of level and slope, with the doses less their mean, where each subject has one tolerance. */
function scoreCovariance(
  groups: readonly DoseGroup[],
  cohorts: readonly Cohort[],
  { card, centre, level, slope }: { card: LinkCard; centre: number; level: number; slope: number },
): CurveCovariance {
  const at = groups.map(({ dose }) => {
    const x = dose - centre;
    const eta = level + slope * x;
    const [response, none] = [card.response(eta), card.none(eta)];
    const weight = response * none === 0 ? 0 : card.density(eta) / (response * none);
    return { x, eta, response, none, weight };
  });
  const sum = { intercept: 0, both: 0, slope: 0 };
  for (const { subjects, groups: tried, trials } of cohorts) {
    const order = tried.map((group, i) => ({ ...at[group]!, n: trials[i]! })).sort((a, b) => a.eta - b.eta);
    // Of the groups in which fewer respond.
    const below = { level: 0, slope: 0 };
    for (const { x, response, none, weight, n } of order) {
      const [own, other] = [n * weight * response, n * weight * none * subjects];
      sum.intercept += other * (own + 2 * below.level);
      sum.both += other * (own * x + below.level * x + below.slope);
      sum.slope += other * x * (own * x + 2 * below.slope);
      below.level += own;
      below.slope += own * x;
    }
  }
  return sum;
}

/**
 * The cohorts of groups that may have shared their subjects, each with one trial a group: the smaller group's are all among those
 * of the larger. Numbers of trials, in the order of the groups.
 * Example: 40, 10 and 40: 10 subjects in all three groups, and 30 in the first and the last.
 */
export function nestedCohorts(trials: readonly number[]): Cohort[] {
  const sizes = [...new Set([0, ...trials])].sort((a, b) => a - b);
  return sizes.slice(1).map((size, i) => {
    const groups = trials.flatMap((n, group) => (n >= size ? [group] : []));
    return { subjects: size - sizes[i]!, groups, trials: groups.map(() => 1) };
  });
}

function gain(observed: number, expected: number): number {
  return observed === 0 ? 0 : observed * Math.log(observed / expected);
}

/** How far estimates of a curve may be off: `factor` times the variance, `quantile` errors either way. */
export interface Spread {
  factor: number;
  quantile: number;
}

/** X² larger than chance makes it at this level is taken for scatter beyond the binomial. */
const heterogeneityLevel = 0.05;

/**
 * The spread of a curve: the binomial's own, with the normal quantile; or, where the groups scatter about the curve more than
 * that explains (X² beyond the 5 % level of chi-squared), the heterogeneity factor X² / degrees of freedom, with the
 * t quantile of these.
 *
 * `confidence` is two-sided, 0..1. Groups that are no more than two cannot scatter.
 * Source: Finney (1971), section 4.5, from memory; the level is our choice.
 * Example: X² 14.11 on 16 degrees: factor 1, quantile 1.96; X² 20 on 4 degrees: factor 5, quantile 2.776.
 */
export function spreadOf(
  { pearson, degreesOfFreedom: df }: Pick<DoseCurve, "pearson" | "degreesOfFreedom">,
  confidence: number,
): Spread {
  const isScattered = df > 0 && incompleteGamma(df / 2, pearson / 2).upper < heterogeneityLevel;
  return isScattered
    ? { factor: Math.max(1, pearson / df), quantile: tQuantile(1 - (1 - confidence) / 2, df) }
    : { factor: 1, quantile: criticalValue(confidence) };
}

/** The dose at which a share responds. */
export interface DoseForShare {
  dose: number;
  limits: DoseLimits;
}

/**
 * Every dose that the data do not contradict. Where the slope is not told from 0 they reach without end: `excluded` are the
 * ends of the gap that alone is contradicted, null where nothing is.
 */
type DoseLimits = ({ state: "bounded" } & Bounds) | { state: "unbounded"; excluded: Bounds | null };

/**
 * The dose at which a share (strictly between 0 and 1) responds, with the limits of Fieller.
 *
 * With m = link(share) - intercept: dose = m / slope. Fieller's limits are the doses x for which
 * (intercept + slope x - link(share))² <= q² f Var(intercept + slope x), q and f being quantile and factor of the spread.
 * The set is bounded only if slope² > q² f Var(slope), that is g < 1. Of a curve with two covariances a dose is in the set where it is by
 * either, that is by the larger variance at that dose.
 *
 * Sources: E. C. Fieller (1954), J. R. Stat. Soc. B 16, 175-185; Finney (1971), section 4.6; both from memory.
 * Example: the curve above at 50 %: 20.526, 19.763 to 21.271; at 99 %: 28.224, 26.738 to 30.434.
 */
export function doseFor(curve: DoseCurve, share: number, spread: Spread): DoseForShare {
  const { intercept, slope } = curve;
  const m = links[curve.link].eta(share) - intercept;
  return {
    dose: m / slope,
    limits: covariancesOf(curve)
      .map((covariance) => fiellerLimits({ slope, covariance }, m, spread))
      .reduce(eitherOf),
  };
}

function covariancesOf({ covariance, clustered }: DoseCurve): CurveCovariance[] {
  return clustered === null ? [covariance] : [covariance, clustered];
}

function fiellerLimits(
  { slope, covariance }: Pick<DoseCurve, "slope" | "covariance">,
  m: number,
  { quantile, factor }: Spread,
): DoseLimits {
  const qq = quantile * quantile * factor;
  // a x² - 2 b x + c <= 0.
  const a = slope * slope - qq * covariance.slope;
  const b = m * slope + qq * covariance.both;
  const c = m * m - qq * covariance.intercept;
  const discriminant = b * b - a * c;
  if (discriminant < 0 || a === 0) return { state: "unbounded", excluded: null };
  const root = Math.sqrt(discriminant);
  const ends = [(b - root) / a, (b + root) / a].sort((one, other) => one - other);
  const bounds = { lower: ends[0]!, upper: ends[1]! };
  return a > 0 ? { state: "bounded", ...bounds } : { state: "unbounded", excluded: bounds };
}

/** The doses in one set or the other, which both hold the estimate. */
function eitherOf(one: DoseLimits, other: DoseLimits): DoseLimits {
  if (one.state === "bounded" && other.state === "bounded")
    return {
      state: "bounded",
      lower: Math.min(one.lower, other.lower),
      upper: Math.max(one.upper, other.upper),
    };
  if (one.state === "unbounded") return { state: "unbounded", excluded: gapLeft(one.excluded, other) };
  return eitherOf(other, one);
}

/** What of a gap another set leaves. */
function gapLeft(gap: Bounds | null, by: DoseLimits): Bounds | null {
  if (gap === null || (by.state === "unbounded" && by.excluded === null)) return null;
  const left = { ...gap };
  if (by.state === "unbounded") {
    left.lower = Math.max(gap.lower, by.excluded!.lower);
    left.upper = Math.min(gap.upper, by.excluded!.upper);
  } else {
    if (by.lower <= gap.lower) left.lower = Math.max(gap.lower, by.upper);
    if (by.upper >= gap.upper) left.upper = Math.min(gap.upper, by.lower);
  }
  return left.lower < left.upper ? left : null;
}

/**
 * The variance of the curve at a dose over that of as many independent trials without scatter; 1 or more.
 * Example: the counts above from the same 40 subjects at each dose, logit, at 20.515, where 50 % respond: 2.0736.
 */
export function designEffectAt(curve: DoseCurve, dose: number, { factor }: Pick<Spread, "factor">): number {
  return (factor * varianceAt(curve, dose)) / varianceOf(curve.covariance, dose);
}

/**
 * The share that responds at a dose, 0..1, and its interval, symmetric on the scale of the link.
 * Example: the curve above at 24: 0.853, 0.771 to 0.913.
 */
export function shareAt(curve: DoseCurve, dose: number, spread: Spread): { share: number } & Bounds {
  const card = links[curve.link];
  const eta = curve.intercept + curve.slope * dose;
  const reach = spread.quantile * Math.sqrt(spread.factor * varianceAt(curve, dose));
  return { share: card.response(eta), lower: card.response(eta - reach), upper: card.response(eta + reach) };
}

/**
 * The one-sided p of Wald's test, 0..1: how likely a curve as low as this one at a dose is, or lower, if exactly a share responds there.
 *
 * The normal distribution's lower tail of (intercept + slope dose - link(share)) / standard error (A. Wald 1943, from memory).
 * Example: the curve above at 30 for 99 %: 0.9495.
 */
export function waldLowerP(
  curve: DoseCurve,
  { dose, share }: { dose: number; share: number },
  { factor }: Pick<Spread, "factor">,
): number {
  const distance = curve.intercept + curve.slope * dose - links[curve.link].eta(share);
  return normalCdf(distance / Math.sqrt(factor * varianceAt(curve, dose)), 0, 1);
}

function varianceAt(curve: DoseCurve, dose: number): number {
  return Math.max(...covariancesOf(curve).map((covariance) => varianceOf(covariance, dose)));
}

function varianceOf({ intercept, slope, both }: CurveCovariance, dose: number): number {
  // Rounding can make it a hair less than nothing.
  return Math.max(0, intercept + 2 * dose * both + dose * dose * slope);
}
