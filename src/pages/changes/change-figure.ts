import { rateFigures } from "../../measures/scales.ts";
import type { Estimate } from "../../model/estimate.ts";
import { statedNumber, statedPercent } from "../../model/number-words.ts";
import type { Comparison } from "../../model/result/comparison.ts";
import type { FacilityContext } from "../parts/page.ts";
import { countOf } from "../parts/rate-columns.ts";
import type { RoundPair } from "../parts/round-pairs.ts";
import { type ChangeRow, changePicture } from "../pictures/change-picture.ts";
import type { IntervalLine } from "../pictures/interval-line.ts";
import { amountPhrase } from "../words/comparisons.ts";
import { pointFigures, pointsText } from "../words/figures.ts";
import type { ReadPointChange } from "./read-point-changes.ts";

/** The picture of all read points between two rounds, with its finding and how to read it. */
export interface ChangeFigure {
  caption: string;
  howToRead: string;
  /** SVG. */
  picture: string;
}

export function changeFigure(
  { result, names, paths }: FacilityContext,
  pair: RoundPair,
  changes: ReadPointChange[],
): ChangeFigure {
  const before = names.round(pair.before);
  const after = names.round(pair.after);
  const { smallestChangeThatMatters, confidence } = result.basis;
  const matters = pointsText(statedNumber(smallestChangeThatMatters * 100));
  return {
    caption: captionOf(changes),
    howToRead: `The rates of both rounds share one axis: the earlier one is thin with an open circle, the later one thick. Their difference has an axis of its own, with its interval at ${statedPercent(confidence)}: an interval entirely right of 0 is better, entirely left of 0 worse. The grey band marks changes that do not matter, less than ${matters} either way: a line inside it is as good as before, within that change. A line that crosses 0 and leaves the band shows no change, but does not rule one out.`,
    picture: changePicture({
      id: `change-${paths.changesStem(pair)}`,
      title: `Tags read: ${before} and ${after}, and the difference`,
      description:
        "One row per read point, worst first: two lines for the two rounds and one for their difference. The table below has the same figures.",
      before,
      after,
      smallestChangeThatMatters,
      rows: changes.map((change) => changeRow(change, { before, after })),
    }),
  };
}

/** `titles` are those of the two rounds. */
function changeRow({ readPoint, whole }: ReadPointChange, titles: RoundPair): ChangeRow {
  const { change, difference, estimates } = whole;
  const label = readPoint.name;
  if (difference === null || estimates === null) {
    return { label, change, lines: [emptyLine(whole, titles.after)], difference: null };
  }
  return {
    label,
    change,
    lines: [lineOf(titles.before, estimates.before, true), lineOf(titles.after, estimates.after, false)],
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

/** The empty track of a read point that cannot be compared. */
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

/** The largest loss, else the largest gain, else that there is neither. */
function captionOf(changes: ReadPointChange[]): string {
  const [first] = changes;
  if (first?.whole.change === "worse") {
    return `Largest loss at ${first.readPoint.name}: ${amountPhrase(first.whole)}.`;
  }
  const gained = changes.filter(({ whole }) => whole.change === "better");
  const none = "No read point is shown to be worse";
  if (gained.length > 0) {
    const most = gained.reduce((far, one) =>
      one.whole.difference!.value > far.whole.difference!.value ? one : far,
    );
    return `${none}. Largest gain at ${most.readPoint.name}: ${amountPhrase(most.whole)}.`;
  }
  return changes.every(({ whole }) => whole.change === "not-comparable")
    ? "There is nothing to compare at any read point."
    : `${none}, and none to be better.`;
}
