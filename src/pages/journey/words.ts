import { journeyMeasures } from "../../measures/journey/index.ts";
import { rounded } from "../../measures/rounding.ts";
import { rateFigures } from "../../measures/scales.ts";
import type { Estimate } from "../../model/estimate.ts";
import type { ItemResult } from "../../model/journey/item.ts";
import type { JourneyFinding, JourneyRemark, JourneyResult } from "../../model/journey/journey-result.ts";
import type { LegResult } from "../../model/journey/round.ts";
import {
  counted,
  countedInWords,
  countText,
  joined,
  nonEmpty,
  sentenceStart,
  thinSpace,
} from "../../model/number-words.ts";
import { countOf } from "../parts/rate-columns.ts";
import { momentText } from "../words/dates.ts";
import type { JourneyNames } from "./journey-context.ts";

/* What the pages of a journey say in words. */

/**
 * A stretch of time in the units that people use for it, to the nearest: `43 s`, `42 min`, `3 h 10 min`, `2 days 4 h`.
 *
 * Below zero it has a minus sign.
 */
export function durationText(seconds: number): string {
  const sign = seconds < 0 ? "\u2212" : "";
  const whole = Math.abs(seconds);
  if (whole < 9.95) return `${sign}${(Math.round(whole * 10) / 10).toString()}${thinSpace}s`;
  if (whole < 119.5) return `${sign}${Math.round(whole)}${thinSpace}s`;
  const minutes = Math.round(whole / 60);
  if (minutes < 120) return `${sign}${minutes}${thinSpace}min`;
  const hours = Math.floor(minutes / 60);
  if (hours < 48) return `${sign}${parts([hours, "h"], [minutes % 60, "min"])}`;
  const wholeHours = Math.round(minutes / 60);
  return `${sign}${Math.floor(wholeHours / 24)} days${wholeHours % 24 === 0 ? "" : ` ${wholeHours % 24}${thinSpace}h`}`;
}

function parts(...units: [number, string][]): string {
  return units
    .filter(([count]) => count > 0)
    .map(([count, unit]) => `${count}${thinSpace}${unit}`)
    .join(" ");
}

/** A moment on the wall clock of its place, else in UTC: `21 May 2026, 09:14:05`. */
export function whenText(local: string | null, utc: string): string {
  return local === null ? `${momentText(utc.slice(0, 19).replace("T", " "))} UTC` : momentText(local);
}

/** `112 of 120 items were seen on every leg`. */
function wholeClause({ promise: { share } }: Pick<JourneyResult, "promise">): string {
  if (share.n === 0) return "no run was made yet";
  const verb = share.n === 1 ? "item was" : "items were";
  return `${countOf(share)} ${verb} seen on every leg`;
}

/** The journey's verdict in one sentence, with how many journeys were whole: as its reason, unless that is another finding. */
export function journeyVerdict(
  result: Pick<JourneyResult, "state" | "promise" | "criteria" | "findings">,
): string {
  if (result.criteria.length === 0)
    return `No criterion is stated, so nothing was judged: ${wholeClause(result)}.`;
  const heads = {
    met: "The journey meets its criteria",
    "not-met": "The journey does not meet its criteria",
    undecided: "The journey is undecided",
    untested: "The journey is untested",
  };
  const { state, findings, promise } = result;
  const isReason = findings.some((finding) => finding.state === state && countsWholeJourneys(finding));
  const isAllTheSame = isReason || state === "met" || promise.share.k === 0;
  return `${heads[state]}${isAllTheSame ? ":" : ", though"} ${wholeClause(result)}.`;
}

const countsWholeJourneys = ({ measure }: Pick<JourneyFinding, "measure">) =>
  journeyMeasures.get(measure).everyRound === "completeRate";

/** Whether the evidence supports signing. */
export function journeySigning({ findings, state }: Pick<JourneyResult, "findings" | "state">): string {
  if (findings.length === 0) return "There is nothing to sign yet.";
  if (state === "met") return "The evidence supports signing for the whole chain.";
  const open = findings.filter((finding) => finding.state !== "met").length;
  return `The evidence does not support signing yet: ${countedInWords(open, "finding is", "findings are")} open.`;
}

/** A rate with its bounds: `97.5 % (93.1 to 99.2)`; empty where nothing was counted. */
export function rateText(estimate: Estimate): string {
  if (estimate.value === null) return "";
  const { lower, value, upper } = rateFigures(estimate, "at-least");
  return `${value}${thinSpace}% (${lower} to ${upper})`;
}

/** `within 30 min of the leg before`; empty where any time will do. */
export function allowedText({ withinS }: Pick<LegResult, "withinS">): string {
  return withinS === null ? "any time" : `within ${durationText(withinS)}`;
}

/** What became of an item, in one sentence. */
export function itemSentence(item: ItemResult, optional: ReadonlySet<string>, names: JourneyNames): string {
  const { legs, whole, inOrder, voidReason } = item;
  const of = (...states: string[]) => legs.filter(({ state }) => states.includes(state));
  const missing = of("not-seen").filter(({ leg }) => !optional.has(leg));
  const late = of("late");
  const unheard = legs.filter(({ carrier }) => carrier !== null && !carrier.heard);
  const listed = (some: { leg: string }[]) => joined(some.map(({ leg }) => names.leg(leg)));
  const said = [
    voidReason === null ? "" : `Void: ${voidReason}.`,
    whole ? "Seen on every leg that it needs." : "",
    missing.length === 0 ? "" : `Not seen on ${listed(missing)}.`,
    late.length === 0 ? "" : `Late on ${listed(late)}.`,
    inOrder === false ? "Its first sightings are not in the order of the legs." : "",
    wasInWrongPlace(item) ? "Seen in a wrong place." : "",
    unheard.length === 0 ? "" : `Its carrier was not heard with it on ${listed(unheard)}.`,
  ];
  return nonEmpty(said).join(" ");
}

/** Whether a read point that is no leg of the journey saw it. */
export function wasInWrongPlace({ visits }: Pick<ItemResult, "visits">): boolean {
  return (visits ?? []).some(({ leg }) => leg === null);
}

/** What the read points' own walks promise, beside what was seen, in plain words. */
export function promiseSentences(
  { promise, legs }: Pick<JourneyResult, "promise" | "legs">,
  names: JourneyNames,
): string[] {
  const { product, bounds, share, outside, surely, missing } = promise;
  const percent = (value: number, direction: "down" | "up") =>
    value === 1 ? "100" : rounded(value * 100, 1, direction);
  const needed = legs.filter(({ optional }) => !optional).length;
  const seen =
    share.n === 0 ? "No run was made yet." : `Seen whole were ${countOf(share)}: ${rateText(share)}.`;
  if (product === null || bounds === null) {
    return [
      seen,
      `The read points' own walks promise nothing of the chain: ${joined(missing.map((leg) => names.leg(leg)))} ${missing.length === 1 ? "was" : "were"} not walked by ${missing.length === 1 ? "itself" : "themselves"}.`,
    ];
  }
  const all = `${percent(product.value, "down")}${thinSpace}%`;
  // The walk of a single read point bounds nothing but its own rate.
  const walks =
    needed === 1
      ? [`By the read point's own walk ${all} of journeys are whole.`]
      : [
          `If the ${countedInWords(needed, "read point misses", "read points miss")} independently of each other, ${all} of journeys are whole by their own walks: the product of their rates.`,
          `At exactly the rates observed in those walks, the share lies between ${percent(bounds.lower, "down")} and ${percent(bounds.upper, "up")}${thinSpace}% however the misses depend on each other: no more can be whole than the weakest read point sees, and no fewer than if no two misses fell on one item. The uncertainty of the rates themselves is not in these bounds.`,
        ];
  const limits = needed === 1 ? "that rate" : "the bounds";
  if (share.n === 0) return [...walks, seen];
  if (outside === null)
    return [
      ...walks,
      seen,
      `That is ${needed === 1 ? "the same" : "inside the bounds"}: the chain does what the walks showed.`,
    ];
  return [
    ...walks,
    seen,
    surely
      ? `That is ${outside} ${limits}, with the uncertainty of both counted in: the walks did not show what the operation does.`
      : `That is ${outside} ${limits}, though chance alone may do as much: the walks may not have shown what the operation does.`,
  ];
}

/** An observation on the journey as a whole. */
export function remarkText(remark: JourneyRemark, names: JourneyNames): string {
  switch (remark.code) {
    case "outside-bounds":
      return `The share of whole journeys is ${remark.side} what the read points' own walks allow${remark.surely ? "" : ", though chance may do as much"}: the walks ${remark.surely ? "did not show" : "may not have shown"} what the operation does.`;
    case "not-walked":
      return `Nothing is promised by the read points' own walks, since ${joined(remark.legs.map((leg) => names.leg(leg)))} ${remark.legs.length === 1 ? "has" : "have"} none.`;
    case "runs-without-sighting": {
      const rest = remark.count - remark.runs.length;
      const runs = `${joined(remark.runs)}${rest > 0 ? ` and ${counted(rest, "more", "more")}` : ""}`;
      return `No item of ${remark.count === 1 ? "run" : "runs"} ${runs} was seen anywhere: look whether the run was made, and whether its times are right.`;
    }
    case "clocks-differ":
      return `${countText(remark.items)} of ${countText(remark.of)} items were seen on ${names.leg(remark.to)} before ${names.leg(remark.from)}, most of them by ${durationText(Math.abs(remark.medianS))}: the clocks of the two facilities hardly agree.`;
    case "known-before-seen":
      return `The site knew of ${counted(remark.sightings, "sighting", "sightings")} before ${remark.sightings === 1 ? "it was" : "they were"} made: two clocks that differ.`;
    case "no-criterion":
      return "Nothing is asked of the journey, so it is untested.";
  }
}

/** `Two items were lost: nothing saw them at the end of the chain.` */
export function lostSentence({ lost, items }: Pick<JourneyResult, "lost" | "items">): string {
  if (items.length === 0) return "No item was sent yet.";
  if (lost.length === 0) return "No item was lost: each was seen at the end of the chain.";
  const many = sentenceStart(countedInWords(lost.length, "item was", "items were"));
  return `${many} lost: nothing saw ${lost.length === 1 ? "it" : "them"} at the end of the chain.`;
}

/** `Two sightings came later than the leg allows, and count as not seen: 2 on Carried.` */
export function lateSentence({ legs }: Pick<JourneyResult, "legs">, names: JourneyNames): string {
  const late = legs.filter((leg) => leg.late > 0);
  const count = late.reduce((sum, leg) => sum + leg.late, 0);
  if (count === 0) return "No sighting came late.";
  const many = sentenceStart(countedInWords(count, "sighting came", "sightings came"));
  const where = joined(late.map((leg) => `${countText(leg.late)} on ${names.leg(leg.id)}`));
  return `${many} later than the leg allows, and ${count === 1 ? "counts" : "count"} as not seen: ${where}.`;
}
