import { stretchedRateAxis } from "./axis.ts";
import { narrowChangePicture } from "./change-narrow.ts";
import type { ChangePicture } from "./change-rows.ts";
import { wideChangePicture } from "./change-wide.ts";
import { sharedDifferenceAxis } from "./difference-track.ts";
import { pictureParts } from "./picture-parts.ts";

/**
 * Both forms of the picture of before and after; the style sheet shows the one that fits, and paper always has the wide
 * one. Many rows are parted into several pictures on the same two axes.
 */
export function changePicture(picture: ChangePicture): string {
  const estimates = picture.rows.flatMap(({ lines }) => lines.map(({ estimate }) => estimate));
  const rates = estimates.flatMap(({ value, lower, upper }) => [value, lower, upper]);
  const rateAxis = stretchedRateAxis(
    rates.filter((rate) => rate !== null),
    "at-least",
  );
  const pointAxis = sharedDifferenceAxis(picture);
  const parts = pictureParts(picture.rows);
  return parts
    .map((rows, index) => {
      const part: ChangePicture = {
        ...picture,
        id: parts.length === 1 ? picture.id : `${picture.id}-${index + 1}`,
        title: parts.length === 1 ? picture.title : `${picture.title}, part ${index + 1} of ${parts.length}`,
        rows,
      };
      return wideChangePicture(part, rateAxis, pointAxis) + narrowChangePicture(part, rateAxis, pointAxis);
    })
    .join("");
}
