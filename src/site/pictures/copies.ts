import { createHash } from "node:crypto";
import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { drawingText } from "../../intake/pictures/read-picture.ts";
import { readSvg } from "../../intake/pictures/svg.ts";
import type { Picture } from "../../model/record/picture.ts";
import type { Result } from "../../model/result/result.ts";
import { type PictureCopy, pictureCopies } from "../../pages/record/pictures.ts";
import { codecOf } from "./codec.ts";
import { scaled, upright } from "./scale.ts";

/** A picture of which no copy can be made; says which and why. */
export class CopyRefused extends Error {}

/** Copies made before in this process: `serve` builds again and again, and a photograph takes half a second. */
const made = new Map<string, Uint8Array>();
const mostKept = 200;

/**
 * Writes the copies of photographs and drawings that the pages show: upright, no larger than a page needs, and without anything
 * but the picture.
 *
 * @param from the folder that holds the originals
 * @param site the folder of the site
 */
export async function writePictures(
  result: Result,
  { from, site }: { from: string; site: string },
): Promise<void> {
  for (const copy of pictureCopies(result)) {
    const bytes = originalOf(copy, from, result.facility.id);
    const key = JSON.stringify([copy.input.sha256, copy.width, copy.height]);
    const known = made.get(key) ?? (await copyOf(bytes, copy, result.facility.id));
    if (made.size < mostKept) made.set(key, known);
    const target = join(site, copy.path);
    mkdirSync(dirname(target), { recursive: true });
    writeFileSync(target, known);
  }
}

function originalOf({ input }: PictureCopy, from: string, facility: string): Buffer {
  const bytes = readFileSync(join(from, input.path));
  if (createHash("sha256").update(bytes).digest("hex") !== input.sha256)
    throw new CopyRefused(
      `"${input.path}" of ${facility} was changed since it was judged. Build again once nobody writes to it.`,
    );
  return bytes;
}

async function copyOf(
  bytes: Buffer,
  { picture, width, height, input }: PictureCopy,
  facility: string,
): Promise<Uint8Array> {
  if (picture.kind === "svg") return Buffer.from(readSvg(drawingText(bytes)).inert);
  const codec = await codecOf(picture.kind);
  const pixels = await codec.decode(bytes).catch(() => {
    throw new CopyRefused(
      `"${input.path}" of ${facility} cannot be decoded: it is damaged inside. Copy it again from where it came from, or save it again.`,
    );
  });
  const turned = asShown(picture, { width, height });
  return codec.encode(upright(scaled(pixels, turned), picture.orientation));
}

/** The size before the picture is turned: a small picture is turned faster. */
function asShown({ orientation }: Picture, { width, height }: { width: number; height: number }) {
  return orientation > 4 ? { width: height, height: width } : { width, height };
}
