import { decimalText, statedNumber, thinSpace } from "../../model/number-words.ts";
import type { HeardSummary, PassResult } from "../../model/result.ts";
import type { Link } from "../page.ts";
import { fromZeroAxis } from "../pictures/axis.ts";
import { spreadPicture } from "../pictures/spread-strip.ts";
import { minutesOf } from "../words/dates.ts";
import type { HeardPart } from "./heard-part.ts";
import { spreadTable } from "./spread-table.ts";

const id = "heard-first-read";
const title = "When tags were first heard";

/** How long after the window of its pass opened each tag was first heard, against how long the windows are. */
export function firstReads(
  { firstReadMs, window }: HeardSummary,
  timed: PassResult[],
  downloads: Link[],
): HeardPart {
  if (firstReadMs === null) {
    const sentence = "No tag presented was heard, so there is no first moment.";
    return { id, title, sentence, figure: null, table: null };
  }
  const { n, ...figures } = firstReadMs;
  const seconds = Object.fromEntries(Object.entries(figures).map(([key, ms]) => [key, ms / 1000]));
  const spread = { n, ...seconds } as typeof firstReadMs;
  const text = (value: number) => decimalText(value, 2);
  const within = (value: number) => `${text(value)}${thinSpace}s`;
  const extremes = extremesOf(windowSeconds(timed, window));
  const caption = `Half of the tags read were first heard within ${within(spread.median)} of the opening of the window, nineteen in twenty within ${within(spread.q95)}, the last after ${within(spread.max)}. ${lengthSentence(extremes)}`;
  const rows = [{ label: "First read", spread }];
  return {
    id,
    title,
    sentence: "",
    figure: {
      id: `${id}-figure`,
      caption,
      howToRead: `Seconds from the opening of the window: it opens ${statedNumber(window.beforeS)}${thinSpace}s before a pass begins and closes ${statedNumber(window.afterS)}${thinSpace}s after it ends; the axis takes in the longest window. The thin line runs from the earliest first read to the latest, the bar over the middle nine tenths, and the upright stands at the median. First reads that crowd at either end say that the window, or one of the two clocks, is off.`,
      picture: spreadPicture({
        id: `${id}-picture`,
        title,
        description: caption,
        rows,
        axis: fromZeroAxis([spread.max, extremes.most]),
        unit: "s",
        text,
      }),
      table: spreadTable(
        "Seconds from the opening of the window to the first read",
        "",
        "Tags read",
        rows,
        text,
      ),
      downloads,
    },
    table: null,
  };
}

function windowSeconds(timed: PassResult[], { beforeS, afterS }: HeardSummary["window"]): number[] {
  return timed.flatMap(({ startedAt, endedAt }) => {
    const [start, end] = [minutesOf(startedAt), minutesOf(endedAt)];
    return start === null || end === null
      ? []
      : [Math.round((end - start) * 60_000) / 1000 + beforeS + afterS];
  });
}

function extremesOf(lengths: number[]): { least: number; most: number } {
  return {
    least: lengths.reduce((low, length) => Math.min(low, length), Number.POSITIVE_INFINITY),
    most: lengths.reduce((high, length) => Math.max(high, length), 0),
  };
}

function lengthSentence({ least, most }: { least: number; most: number }): string {
  const text = (value: number) => decimalText(value, 1);
  return least >= most
    ? `The windows are ${text(most)}${thinSpace}s long.`
    : `The windows are ${text(least)} to ${text(most)}${thinSpace}s long.`;
}
