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
      sentence: "No tag presented was heard, so there are no reads to count.",
      figure: null,
      table: null,
    };
  }
  const caption =
    spread.min === spread.max
      ? `Every tag that was read was heard ${timesText(spread.min)} in its pass.`
      : `A tag that was read was heard ${text(spread.min)} to ${text(spread.max)} times in its pass: in half of the cases ${timesText(spread.median)} or more, in one of twenty ${timesText(spread.q05)} or less.`;
  const rows = [{ label: "Reads of a tag", spread }];
  return {
    id,
    title,
    sentence: "",
    figure: {
      id: `${id}-figure`,
      caption,
      howToRead:
        "The thin line runs from the fewest reads to the most, the bar over the middle nine tenths, and the upright stands at the median. A tag counts once in each pass that presented it; missed tags were not heard and are not in it. Where tags are read only once or twice, little is left to spare.",
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
