import { isUtf8 } from "node:buffer";
import { createHash } from "node:crypto";
import { readFile, stat } from "node:fs/promises";
import { join } from "node:path";
import { countText } from "../../model/number-words.ts";
import type { InputFile } from "../../model/record/input-file.ts";
import { codeOf } from "../places/place-in-folder.ts";
import { fileUnreadable } from "../problems/folder.ts";
import { pictureTooLarge, pictureUnreadable } from "../problems/pictures.ts";
import { type FoundPicture, refused } from "./found.ts";
import { readJpeg } from "./jpeg.ts";
import { readPng } from "./png.ts";
import { readSvg } from "./svg.ts";

const mostBytes = 50e6;
/** A drawing is held as text, and a browser lays out all of it. */
const mostSvgBytes = 5e6;

export type ReadPicture =
  | { input: InputFile; problem: null }
  | { input: null; problem: FoundPicture["problem"] };

/** Reads a photograph or drawing of a facility's folder as far as to know what it is: it is not decoded. */
export async function readPicture(folder: string, path: string): Promise<ReadPicture> {
  const onDisk = join(folder, path);
  let bytes: Buffer;
  try {
    const { size } = await stat(onDisk);
    if (size > mostBytes)
      return {
        input: null,
        problem: pictureTooLarge.with({ found: `${countText(size)} bytes`, most: "50 MB" }),
      };
    bytes = await readFile(onDisk);
  } catch (error) {
    return { input: null, problem: fileUnreadable.with({ reason: codeOf(error) }) };
  }
  const { picture, problem } = pictureIn(bytes);
  if (picture === null) return { input: null, problem };
  const sha256 = createHash("sha256").update(bytes).digest("hex");
  const rows = { rows: null, used: null, void: null };
  return { input: { path, sha256, bytes: bytes.length, ...rows, picture }, problem: null };
}

/** What a file is goes by its beginning, whatever it is called. */
export function pictureIn(bytes: Buffer): FoundPicture {
  const starts = (hex: string) => bytes.subarray(0, hex.length / 2).toString("hex") === hex;
  if (starts("ffd8ff")) return readJpeg(bytes);
  if (starts("89504e470d0a1a0a")) return readPng(bytes);
  if (!isDrawing(bytes)) return refused(pictureUnreadable.otherKind({ kind: kindOf(bytes) }));
  if (bytes.length > mostSvgBytes)
    return refused(
      pictureTooLarge.with({ found: `${countText(bytes.length)} bytes of SVG`, most: "5 MB of SVG" }),
    );
  return readSvg(drawingText(bytes)).found;
}

/** The text of an SVG. */
export function drawingText(bytes: Buffer): string {
  return bytes.toString("utf8").replace(/^\ufeff/, "");
}

function isDrawing(bytes: Buffer): boolean {
  const head = bytes.subarray(0, 4096).toString("utf8");
  return /^\ufeff?\s*</.test(head) && /<(?:\w+:)?svg[\s>]/.test(head) && isUtf8(bytes) && !bytes.includes(0);
}

/** Beginnings of files that people take for pictures. */
const otherKinds: [RegExp, string][] = [
  [/^GIF8/, "a GIF"],
  [/^RIFF....WEBP/s, "a WebP picture"],
  [/^(?:II\*\0|MM\0\*)/, "a TIFF"],
  [/^BM/, "a bitmap (BMP)"],
  [/^%PDF/, "a PDF"],
  [/^....ftyp(?:hei[cmsx]|hev[cmx]|mif1|msf1)/s, "a HEIC picture"],
  [/^....ftypavi[fs]/s, "an AVIF picture"],
  [/^....ftyp/s, "a film"],
  [/^PK/, "a ZIP archive"],
];

/** What a file is that is no picture that can be read. */
export function kindOf(bytes: Buffer): string {
  if (bytes[0] === 0x1f && bytes[1] === 0x8b) return "a gzip-packed file";
  const head = bytes.subarray(0, 32).toString("latin1");
  return otherKinds.find(([pattern]) => pattern.test(head))?.[1] ?? "a file of another kind";
}
