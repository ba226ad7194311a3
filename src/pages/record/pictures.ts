import { joined, nonEmpty } from "../../model/number-words.ts";
import type { InputFile } from "../../model/record/input-file.ts";
import { type BesidesPicture, besidesWords, copySize, type Picture } from "../../model/record/picture.ts";
import type { Result } from "../../model/result/result.ts";
import type { Link, PageContext } from "../parts/page.ts";
import { distinctSlugs, facilityFolder } from "../parts/paths.ts";
import { dateText } from "../words/dates.ts";

/** A picture of the facility as the site holds it. */
export interface PictureCopy {
  input: InputFile;
  picture: Picture;
  /** From the site's root. */
  path: string;
  width: number;
  height: number;
}

/** Wide enough for a printed page; a plan is looked at more closely. */
const longestEdge = 1200;
const longestPlanEdge = 1600;

const endings = { jpeg: "jpg", png: "png", svg: "svg" } as const;

/** Every photograph and drawing of a facility, in the order of its inputs. */
export function pictureCopies({ facility, inputs }: Result): PictureCopy[] {
  const originals = inputs.flatMap((input) =>
    input.picture === undefined ? [] : [{ input, picture: input.picture }],
  );
  const names = distinctSlugs(
    originals.map(({ input }) => input.path.replace(/^attachments\//, "").replace(/\.[^.]*$/, "")),
  );
  return originals.map(({ input, picture }, index) => {
    const longest = input.path === facility.floorPlan?.image ? longestPlanEdge : longestEdge;
    const path = `${facilityFolder(facility.id)}/pictures/${names[index]}.${endings[picture.kind]}`;
    return { input, picture, path, ...copySize(picture, longest) };
  });
}

/** A photograph or drawing on a page. */
export interface ShownPicture {
  href: string;
  width: number;
  height: number;
  /** The open point that it belongs to, where that is not said elsewhere on the page. */
  label: string;
  /** What it shows; that nobody said so where nobody did. */
  caption: string;
  hasCaption: boolean;
  /** `Taken 21 May 2026.`, and what the original holds besides; empty where there is nothing to say. */
  note: string;
}

const noCaption = "No caption was written.";

type Attachments = NonNullable<Result["attachments"]>;

/** The attachments that a page is about. */
export function shownPictures(
  { result, href }: PageContext,
  isWanted: (attachment: Attachments[number]) => boolean,
): ShownPicture[] {
  const copies = new Map(pictureCopies(result).map((copy) => [copy.input.path, copy]));
  return (result.attachments ?? []).filter(isWanted).flatMap(({ file, caption, openPoint, taken }) => {
    const copy = copies.get(file);
    if (copy === undefined) return [];
    const { width, height, picture } = copy;
    const parts = [taken === null ? "" : `Taken ${dateText(taken)}.`, besidesSentence(picture)];
    return [
      {
        href: href(copy.path),
        width,
        height,
        label: openPoint ?? "",
        caption: caption ?? noCaption,
        hasCaption: caption !== null,
        note: nonEmpty(parts).join(" "),
      },
    ];
  });
}

/** What the copy leaves out of the original; a preview tells nothing by itself. */
function besidesSentence({ holds }: Picture): string {
  const told = besidesText(holds.filter((what) => what !== "preview"));
  return told === "" ? "" : `The original also holds ${told}; this copy does not.`;
}

function besidesText(holds: BesidesPicture[]): string {
  return joined(holds.map((what) => besidesWords[what]));
}

/** Beyond these they are folded. */
const mostShown = 3;

/** Pictures in a row, the further ones folded. */
export interface PictureRow {
  shown: ShownPicture[];
  rest: ShownPicture[];
  /** `4 more photographs and drawings`. */
  more: string;
}

export function pictureRow(pictures: ShownPicture[]): PictureRow {
  const rest = pictures.slice(mostShown);
  const more =
    rest.length === 1 ? "One more photograph or drawing" : `${rest.length} more photographs and drawings`;
  return { shown: pictures.slice(0, mostShown), rest, more };
}

/** One of the pictures as the inputs page lists them. */
export interface ListedPicture {
  file: string;
  caption: string;
  /** Where it is shown; empty where it is shown beside the list. */
  shownOn: Link | null;
  besides: string;
}

/**
 * Every attachment, and the image of the plan where there is something to say of it, with what their originals hold besides
 * the picture.
 */
export function listedPictures({ result, names, paths, link, href }: PageContext): ListedPicture[] {
  const copies = new Map(pictureCopies(result).map((copy) => [copy.input.path, copy]));
  const entries = (result.attachments ?? []).map(({ file, caption, readPoint, openPoint }) => ({
    file,
    caption: caption ?? noCaption,
    shownOn:
      readPoint !== null
        ? { label: names.readPoint(readPoint), href: `${href(paths.readPoint(readPoint))}#photographs` }
        : openPoint !== null
          ? { label: `open point ${openPoint}`, href: `${href(paths.overview)}#open-points` }
          : null,
  }));
  const { floorPlan } = result.facility;
  const plan =
    floorPlan?.image === undefined
      ? []
      : [{ file: floorPlan.image, caption: "The floor plan.", shownOn: link("overview", paths.overview) }];
  const rows = [...plan, ...entries].map((entry) => {
    const { holds = [], leftOut = [] } = copies.get(entry.file)?.picture ?? {};
    const left = leftOut.length === 0 ? "" : `The copy leaves out ${joined(leftOut)}.`;
    const besides = holds.length === 0 ? "" : `Also holds ${besidesText(holds)}.`;
    return { ...entry, besides: nonEmpty([besides, left]).join(" ") };
  });
  return rows.filter(({ file, besides }) => besides !== "" || file !== floorPlan?.image);
}
