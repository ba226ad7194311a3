import { sharedAxis } from "./interval-axis.ts";
import { narrowIntervalPicture } from "./interval-narrow.ts";
import type { IntervalPicture, IntervalRow } from "./interval-rows.ts";
import { wideIntervalPicture } from "./interval-wide.ts";

/** What fits on a printed page with its caption. */
const mostRows = 12;

/** The first part of a long picture fills what the top of a page has left on paper. */
const leadingRows = 5;

/**
 * Both forms; the style sheet shows the one that fits, and paper always has the wide one. Many rows are parted into several
 * pictures on the same axis, the worst few first, so that none is cut by the end of a page.
 */
export function intervalPicture(picture: IntervalPicture): string {
  const axis = sharedAxis(picture);
  const parts = partsOf(picture.rows);
  return parts
    .map((rows, index) => {
      const part: IntervalPicture = {
        ...picture,
        id: parts.length === 1 ? picture.id : `${picture.id}-${index + 1}`,
        title: parts.length === 1 ? picture.title : `${picture.title}, part ${index + 1} of ${parts.length}`,
        rows,
      };
      return wideIntervalPicture(part, axis) + narrowIntervalPicture(part, axis);
    })
    .join("");
}

function partsOf(rows: IntervalRow[]): IntervalRow[][] {
  if (rows.length <= mostRows) return [rows];
  const rest = rows.slice(leadingRows);
  const size = Math.ceil(rest.length / Math.ceil(rest.length / mostRows));
  const later = Array.from({ length: Math.ceil(rest.length / size) }, (_, index) =>
    rest.slice(index * size, (index + 1) * size),
  );
  return [rows.slice(0, leadingRows), ...later];
}
