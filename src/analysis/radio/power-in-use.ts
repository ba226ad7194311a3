import binomialCdf from "@stdlib/stats-base-dists-binomial-cdf";
import { powerFit } from "../../measures/evidence/margins.ts";
import { shareOf } from "../../measures/power-margin.ts";
import { rounded } from "../../measures/rounding.ts";
import type { PowerShort } from "../../model/diagnosis/why.ts";
import { statedNumber } from "../../model/number-words.ts";
import type { PowerSteps } from "../../model/radio/power-steps.ts";
import {
  type DoseCurve,
  doseFor,
  shareAt,
  spreadOf,
  waldLowerP,
} from "../../statistics/regression/dose-response.ts";
import type { Candidate, DiagnosedPoint, Source } from "../diagnosis/misses/candidate.ts";
import { sharesAsked } from "./power-curves.ts";

/**
 * Whether the transmit power in use is short of what the power log says is needed. The chance is that of reads as few if the power in
 * use read the share asked for, twice the smaller of two (Bonferroni): of a curve as low, by the larger of the two links, since the
 * suggestion must not rest on the choice; and of the tags read at the lowest power measured that is no lower, which rests on no curve.
 */
export const powerInUse: Source<PowerShort> = (point) => {
  const { walked, place } = point;
  const own = walked.log.power.find(
    ({ readPoint, round }) => readPoint === place.readPoint && round === place.round,
  );
  if (own === undefined || own.steps.length === 0) return { candidates: [], details: () => null };
  const share = shareAsked(point);
  const found = own.inUseDbm === null ? null : judged(point, { own, inUseDbm: own.inUseDbm, share });
  const candidate = found?.candidate ?? null;
  return {
    candidates: candidate === null ? [] : [candidate],
    details: (pAdjusted) => ({
      share,
      inUseDbm: own.inUseDbm,
      atInUse: found?.atInUse ?? null,
      pAdjusted: candidate === null ? null : pAdjusted(candidate),
    }),
  };
};

/** The largest share that a criterion on the power wants read at the read point; the usual one where there is none. */
function shareAsked({ walked, readPoint }: DiagnosedPoint): number {
  const asked = sharesAsked(walked.facility, readPoint.id);
  return asked.length === 0 ? shareOf({}) : Math.max(...asked);
}

interface Judged {
  own: PowerSteps;
  inUseDbm: number;
  share: number;
}

function judged(
  point: DiagnosedPoint,
  { own, inUseDbm, share }: Judged,
): { candidate: Candidate | null; atInUse: PowerShort["atInUse"] } {
  const curves = (["logit", "probit"] as const).flatMap((link) => {
    const fit = powerFit(own, link);
    return fit.state === "fitted" ? [fit.curve] : [];
  });
  const logit = curves[0];
  const inUse = `${statedNumber(inUseDbm)} dBm`;
  const asked = `${statedNumber(share * 100)} %`;
  const step = own.steps.find(({ powerDbm }) => powerDbm >= inUseDbm);
  const counts = step === undefined ? [] : [binomialCdf(step.read, step.presented, share)];
  const common = {
    kind: "power",
    subject: { power: inUse },
    counts: null,
    ratio: null,
    covers: null,
  } as const;
  if (logit !== undefined) {
    const spread = spreadOf(logit, point.confidence);
    const at = shareAt(logit, inUseDbm, spread);
    const chances = curves.map((curve) =>
      waldLowerP(curve, { dose: inUseDbm, share }, spreadOf(curve, point.confidence)),
    );
    return {
      atInUse: { value: at.share, lower: at.lower, upper: at.upper },
      candidate: {
        ...common,
        p: ofSeveral([Math.max(...chances), ...counts]),
        explains: explained(point, { missRate: 1 - at.share, share }),
        sentence: `The transmit power in use, ${inUse}, is too low: by the power log it reads ${percent(at.share)} of the tags, and ${asked} takes ${neededText(logit, share, point.confidence)}. Raise it as far as the rules and the licence allow, or find what takes it.`,
      },
    };
  }
  if (step === undefined) return { candidate: null, atInUse: null };
  const { presented, read, powerDbm } = step;
  return {
    atInUse: null,
    candidate: {
      ...common,
      p: ofSeveral(counts),
      explains: explained(point, { missRate: 1 - read / presented, share }),
      sentence: `The transmit power in use, ${inUse}, is too low: the power log has ${read} of ${presented} tags read at ${statedNumber(powerDbm)} dBm, and ${asked} are asked for. Raise it as far as the rules and the licence allow, or find what takes it.`,
    },
  };
}

/** The smallest of several chances, as one chance. */
function ofSeveral(chances: readonly number[]): number {
  return Math.min(1, chances.length * Math.min(...chances));
}

/** How many of the misses lie beyond those that the share asked for leaves, if the power log's miss rate holds in the passes. */
function explained(
  { misses, presentations }: DiagnosedPoint,
  { missRate, share }: { missRate: number; share: number },
): number {
  return Math.max(0, Math.min(misses, missRate * presentations) - (1 - share) * presentations);
}

function neededText(curve: DoseCurve, share: number, confidence: number): string {
  const { dose, limits } = doseFor(curve, share, spreadOf(curve, confidence));
  const within =
    limits.state === "bounded"
      ? ` (${rounded(limits.lower, 1, "up")} to ${rounded(limits.upper, 1, "up")})`
      : "";
  return `${rounded(dose, 1, "up")} dBm${within}`;
}

/** Rounded down, so that 100 % is never said of a curve. */
function percent(share: number): string {
  return `${rounded(share * 100, 1, "down")} %`;
}
