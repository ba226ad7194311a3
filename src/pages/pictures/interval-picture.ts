import { sharedAxis } from "./interval-axis.ts";
import { narrowIntervalPicture } from "./interval-narrow.ts";
import type { IntervalPicture } from "./interval-rows.ts";
import { wideIntervalPicture } from "./interval-wide.ts";
import { pictureParts } from "./picture-parts.ts";

/**
 * Both forms; the style sheet shows the one that fits, and paper always has the wide one. Many rows are parted into several
 * pictures on the same axis, the worst few first, so that none is cut by the end of a page.
 */
export function intervalPicture(picture: IntervalPicture): string {
  const axis = sharedAxis(picture);
  const parts = pictureParts(picture.rows);
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
