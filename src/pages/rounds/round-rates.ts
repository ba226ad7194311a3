import { measures } from "../../measures/index.ts";
import type { RoundRate as EveryRound } from "../../measures/measure.ts";
import { figuresOf, type Scale } from "../../measures/scales.ts";
import type { Estimate } from "../../model/estimate.ts";
import type { Sense } from "../../model/facility.ts";
import type { ReadPointResult } from "../../model/result/read-point.ts";
import type { RoundResult } from "../../model/result/round.ts";
import type { FacilityContext } from "../parts/page.ts";
import { countOf } from "../parts/rate-columns.ts";
import type { IntervalRow } from "../pictures/interval-line.ts";

/** One rate that every round has, as the page compares it. */
export interface RoundRate extends EveryRound {
  /** Of its measure. */
  measure: string;
  scale: Scale;
  sense: Sense;
  estimateOf(round: RoundResult): Estimate;
}

export function roundRates(): RoundRate[] {
  return measures.all().flatMap(({ id, everyRound, scale, usualSense }): RoundRate[] => {
    if (everyRound === undefined) return [];
    const estimateOf = (round: RoundResult) => round[everyRound.key];
    return [{ ...everyRound, measure: id, scale, sense: usualSense, estimateOf }];
  });
}

/** Rounds as lines of one row a read point: earlier ones thin and open, the last one full. */
export function roundRows({ result, names }: FacilityContext, rate: RoundRate): IntervalRow[] {
  // A read point without passes is listed; one without bystanders or recorded strays is not.
  const shown = result.readPoints.filter((readPoint) => rate.isAlwaysListed || isRecorded([readPoint], rate));
  return shown.map((readPoint) => ({
    label: readPoint.name,
    detail: "",
    state: null,
    conceded: "none",
    scale: rate.scale,
    sense: rate.sense,
    limit: null,
    lines: readPoint.rounds.map((round, index) => {
      const estimate = rate.estimateOf(round);
      return {
        label: names.round(round.id),
        estimate,
        count: estimate.n === 0 ? "" : countOf(estimate),
        figures: figuresOf(estimate, rate),
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
