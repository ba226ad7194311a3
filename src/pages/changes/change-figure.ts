import { rateFigures } from "../../measures/scales.ts";
import type { Estimate } from "../../model/estimate.ts";
import { statedNumber, thinSpace } from "../../model/number-words.ts";
import type { Comparison, Result } from "../../model/result.ts";
import type { ChangeRow } from "../pictures/change-picture.ts";
import { changePicture } from "../pictures/change-picture.ts";
import type { IntervalLine } from "../pictures/interval-line.ts";
import { roundTitle } from "../rounds/round-rows.ts";
import { amountPhrase } from "../words/comparisons.ts";
import { pointFigures, pointsText } from "../words/figures.ts";
import { countOf } from "./compared-cells.ts";
import type { ReadPointChange } from "./ranked-changes.ts";
import type { RoundPair } from "./round-pairs.ts";

/** The picture of all read points between two rounds, with its finding and how to read it. */
export interface ChangeFigure {
  caption: string;
  howToRead: string;
  /** SVG. */
  picture: string;
}

export function changeFigure(pair: RoundPair, changes: ReadPointChange[], result: Result): ChangeFigure {
  const before = roundTitle(result, pair.before);
  const after = roundTitle(result, pair.after);
  const { smallestChangeThatMatters, confidence } = result.basis;
  const matters = pointsText(statedNumber(smallestChangeThatMatters * 100));
  return {
    caption: captionOf(changes),
    howToRead: `The rates of both rounds share one axis, the earlier one thin with an open circle, the later one full. How far the later rate lies from the earlier one is drawn on an axis of its own, with the interval of that difference at ${statedNumber(confidence * 100)}${thinSpace}%: wholly right of 0 is better, wholly left of it worse. The grey band holds what does not matter, less than ${matters} either way: a line that stays inside it is as good as before. A line that crosses 0 and leaves the band shows no change and rules none out.`,
    picture: changePicture({
      id: "before-and-after",
      title: `Tags read: ${before} and ${after}, and the difference`,
      description:
        "One row a read point, worst first: two lines for the two rounds, and one for the difference between them. The table below holds the same figures.",
      before,
      after,
      smallestChangeThatMatters,
      rows: changes.map(({ readPoint, whole }) => changeRow(readPoint.name, whole, before, after)),
    }),
  };
}

function changeRow(label: string, comparison: Comparison, before: string, after: string): ChangeRow {
  const { change, difference, estimates } = comparison;
  if (difference === null || estimates === null) {
    return { label, change, lines: [emptyLine(comparison, after)], difference: null };
  }
  return {
    label,
    change,
    lines: [lineOf(before, estimates.before, true), lineOf(after, estimates.after, false)],
    difference: { ...difference, figures: pointFigures(difference) },
  };
}

function lineOf(label: string, estimate: Estimate, earlier: boolean): IntervalLine {
  return {
    label,
    estimate,
    count: countOf(estimate),
    figures: rateFigures(estimate, "at-least"),
    earlier,
    emptyWord: "",
  };
}

/** What stands in the track of a read point that cannot be compared. */
function emptyLine({ reasons }: Comparison, after: string): IntervalLine {
  const unwalked = reasons.filter(({ code }) => code === "not-walked").length;
  const estimate: Estimate = {
    kind: "rate",
    value: null,
    k: 0,
    n: 0,
    lower: null,
    upper: null,
    confidence: 0,
    method: "none",
    effectiveN: null,
    designEffect: null,
  };
  return {
    label: after,
    estimate,
    count: "",
    figures: rateFigures(estimate, "at-least"),
    earlier: false,
    emptyWord:
      unwalked === 0 ? "nothing in common" : unwalked === 1 ? "walked in one round only" : "not walked",
  };
}

/** The weightiest thing to be seen: the greatest loss, else the greatest gain, else that there is neither. */
function captionOf(changes: ReadPointChange[]): string {
  const [first] = changes;
  if (first?.whole.change === "worse") {
    return `Lost most at ${first.readPoint.name}: ${amountPhrase(first.whole)}.`;
  }
  const gained = changes.filter(({ whole }) => whole.change === "better");
  const none = "No read point is shown to have got worse";
  if (gained.length > 0) {
    const most = gained.reduce((far, one) =>
      one.whole.difference!.value > far.whole.difference!.value ? one : far,
    );
    return `${none}. Gained most at ${most.readPoint.name}: ${amountPhrase(most.whole)}.`;
  }
  return changes.every(({ whole }) => whole.change === "not-comparable")
    ? "There is nothing to compare at any read point."
    : `${none}, and none to have got better.`;
}
