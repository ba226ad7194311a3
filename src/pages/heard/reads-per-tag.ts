import { countText, decimalText } from "../../model/number-words.ts";
import type { HeardSummary } from "../../model/result.ts";
import type { Link } from "../page.ts";
import { fromZeroAxis } from "../pictures/axis.ts";
import { spreadPicture } from "../pictures/spread-strip.ts";
import type { HeardPart } from "./heard-part.ts";
import { spreadTable } from "./spread-table.ts";

const id = "heard-reads";
const title = "Reads of each tag in a pass";

/** How often a tag that was read was heard in its pass: whether it was caught with something to spare. */
export function readsPerTag({ readsPerTag: spread }: HeardSummary, downloads: Link[]): HeardPart {
  if (spread === null) {
    return {
      id,
      title,
      sentence: "No presented tag was read, so there are no reads to count.",
      figure: null,
      table: null,
    };
  }
  const caption =
    spread.min === spread.max
      ? `Every tag that was read was read ${timesText(spread.min)} in its pass.`
      : `Each tag that was read was read ${text(spread.min)} to ${text(spread.max)} times in its pass: half of them ${timesText(spread.median)} or more, 5 % of them ${timesText(spread.q05)} or less.`;
  const rows = [{ label: "Reads of a tag", spread }];
  return {
    id,
    title,
    sentence: "",
    figure: {
      id: `${id}-figure`,
      caption,
      howToRead:
        "The thin line runs from the fewest to the most reads, the bar covers the middle 90 %, and the upright mark is the median. A tag counts once in each pass that presented it; missed tags are not included. Tags that are read only once or twice have little margin.",
      picture: spreadPicture({
        id: `${id}-picture`,
        title,
        description: caption,
        rows,
        axis: fromZeroAxis([spread.max]),
        unit: "",
        text,
      }),
      table: spreadTable(title, "", "Tags read", rows, text),
      downloads,
    },
    table: null,
  };
}

function text(reads: number): string {
  return Number.isInteger(reads) ? countText(reads) : decimalText(reads, 1);
}

function timesText(reads: number): string {
  return reads === 1 ? "once" : `${text(reads)} times`;
}
