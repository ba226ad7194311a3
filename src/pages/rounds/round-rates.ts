import type { MeasureId } from "../../model/facility.ts";
import type { Estimate, ReadPointResult, RoundResult } from "../../model/result.ts";
import type { FacilityContext } from "../parts/page.ts";
import { countOf } from "../parts/rate-columns.ts";
import type { IntervalRow } from "../pictures/interval-line.ts";
import { rateFigures, usualSense } from "../words/rates.ts";

/** One rate that every round has, as the page compares it. */
export interface RoundRate {
  id: string;
  title: string;
  measure: MeasureId;
  estimateOf: (round: RoundResult) => Estimate;
  /** What the last rounds of all read points showed where nothing was amiss. */
  faultless: string;
  /** What stands where a round that was walked has no such rate. */
  nothing: string;
}

export const roundRates: RoundRate[] = [
  {
    id: "tags-read",
    title: "Tags read",
    measure: "tag-read-rate",
    estimateOf: (round) => round.tagReadRate,
    faultless: "In the last round walked, no tag was missed at any read point.",
    nothing: "no tag presented",
  },
  {
    id: "complete-passes",
    title: "Complete passes",
    measure: "complete-pass-rate",
    estimateOf: (round) => round.completePassRate,
    faultless: "In the last round walked, every pass was complete at every read point.",
    nothing: "no tag presented",
  },
  {
    id: "strays",
    title: "Passes with a stray",
    measure: "stray-pass-rate",
    estimateOf: (round) => round.strayPassRate,
    faultless: "In the last round walked, no stray was heard at any read point that records them.",
    nothing: "strays not recorded",
  },
  {
    id: "bystanders",
    title: "Bystanders read",
    measure: "bystander-read-rate",
    estimateOf: (round) => round.bystanderReadRate,
    faultless: "In the last round walked, no bystander was read.",
    nothing: "no bystander placed",
  },
];

/** Rounds as lines of one row a read point: earlier ones thin and open, the last one full. */
export function roundRows({ result, names }: FacilityContext, rate: RoundRate): IntervalRow[] {
  // Where nobody walked is worth a row; that a read point has no bystanders, or records no strays, is not.
  const shown = result.readPoints.filter(
    (readPoint) => rate.measure === "tag-read-rate" || isRecorded([readPoint], rate),
  );
  return shown.map((readPoint) => ({
    label: readPoint.name,
    detail: "",
    state: null,
    conceded: "none",
    measure: rate.measure,
    sense: usualSense(rate.measure),
    limit: null,
    lines: readPoint.rounds.map((round, index) => {
      const estimate = rate.estimateOf(round);
      return {
        label: names.round(round.id),
        estimate,
        count: estimate.n === 0 ? "" : countOf(estimate),
        figures: rateFigures(estimate, usualSense(rate.measure)),
        earlier: index < readPoint.rounds.length - 1,
        emptyWord: emptyWord(round, rate),
      };
    }),
  }));
}

export function emptyWord(round: RoundResult, rate: RoundRate): string {
  return round.passList.length === 0 ? "not walked" : round.passes === 0 ? "void passes only" : rate.nothing;
}

/** Whether any round at any read point has such a rate at all. */
export function isRecorded(readPoints: ReadPointResult[], rate: RoundRate): boolean {
  return readPoints.some(({ rounds }) => rounds.some((round) => rate.estimateOf(round).n > 0));
}
