import { countText } from "../../model/number-words.ts";
import { besidesPicture, type Picture } from "../../model/record/picture.ts";
import type { FullText } from "../problems/card/problem.ts";
import { pictureTooLarge } from "../problems/pictures.ts";
import type { Besides } from "./found.ts";

/** More than any camera of the trade takes; unpacked it is four bytes a pixel. */
const mostPixels = 64e6;
const longestEdge = 30_000;

/** Why a picture is not unpacked; null where it is. */
export function refusedSize({ width, height }: { width: number; height: number }): FullText | null {
  if (width * height <= mostPixels && Math.max(width, height) <= longestEdge) return null;
  return pictureTooLarge.with({
    found: `${countText(width)} by ${countText(height)} pixels`,
    most: `64 million pixels, and ${countText(longestEdge)} along an edge`,
  });
}

/** A picture as it is shown: those stored on their side change width and height. */
export function pictureOf({
  kind,
  width,
  height,
  orientation,
  besides,
  leftOut = [],
}: Pick<Picture, "kind" | "width" | "height" | "orientation"> & {
  besides: Besides;
  leftOut?: string[];
}): Picture {
  const isOnSide = orientation > 4;
  return {
    kind,
    width: isOnSide ? height : width,
    height: isOnSide ? width : height,
    orientation,
    holds: besidesPicture.filter((what) => besides.has(what)),
    leftOut,
  };
}
