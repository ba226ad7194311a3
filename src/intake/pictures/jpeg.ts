import { pictureUnreadable } from "../problems/pictures.ts";
import { type Besides, type FoundPicture, refused } from "./found.ts";
import { readExifBlock, readIptc, readXmp } from "./metadata.ts";
import { pictureOf, refusedSize } from "./size.ts";

/* The markers of ITU-T T.81, annex B, from memory. */

const startOfScan = 0xda;
const endOfImage = 0xd9;
const comment = 0xfe;
/** Huffman-coded, 8 or 12 bits, in one go or progressive: what the decoder reads. */
const readFrames = [0xc0, 0xc1, 0xc2];

/** Walks the segments of a JPEG, without decoding it: its size, how it is stored, and what it holds besides. */
export function readJpeg(bytes: Buffer): FoundPicture {
  const besides: Besides = new Set();
  const damaged = (why: string) => refused(pictureUnreadable.damaged({ why }));
  const cutOff = () => damaged("a JPEG that ends in the middle");
  let size: { width: number; height: number } | null = null;
  let orientation = 1;
  let at = 2;
  for (;;) {
    if (at + 4 > bytes.length && bytes[at + 1] !== endOfImage) return cutOff();
    if (bytes[at] !== 0xff) return damaged("a JPEG with bytes where a marker belongs");
    const marker = bytes[at + 1]!;
    if (marker === 0xff) {
      at += 1;
      continue;
    }
    if (marker === endOfImage) {
      // Cameras append smaller copies, depth maps and films.
      if (bytes.subarray(at + 2).some((byte) => byte !== 0)) besides.add("preview");
      break;
    }
    const length = bytes.readUInt16BE(at + 2);
    if (length < 2 || at + 2 + length > bytes.length) return cutOff();
    const body = bytes.subarray(at + 4, at + 2 + length);
    if (marker >= 0xc0 && marker <= 0xcf && ![0xc4, 0xc8, 0xcc].includes(marker)) {
      if (!readFrames.includes(marker) || body[0] !== 8 || body.length < 6)
        return refused(
          pictureUnreadable.unsupported({ what: "a JPEG of a rare kind (lossless, arithmetic or 12 bits)" }),
        );
      if (size !== null) return damaged("a JPEG with two frames");
      size = { height: body.readUInt16BE(1), width: body.readUInt16BE(3) };
    } else orientation = readSegment(marker, body, besides) ?? orientation;
    at += 2 + length;
    if (marker === startOfScan) {
      const next = endOfScan(bytes, at);
      if (next === null) return cutOff();
      at = next;
    }
  }
  if (size === null || size.width === 0 || size.height === 0) return damaged("a JPEG without a size");
  const tooLarge = refusedSize(size);
  return tooLarge === null
    ? { picture: pictureOf({ kind: "jpeg", ...size, orientation, besides }), problem: null }
    : refused(tooLarge);
}

/** What a segment tells besides the picture; the orientation where it states one. */
function readSegment(marker: number, body: Buffer, besides: Besides): number | null {
  const starts = (name: string) => body.subarray(0, name.length).toString("latin1") === name;
  if (marker === 0xe1 && starts("Exif\0")) return readExifBlock(body, besides);
  if (marker === 0xe1 && starts("http")) readXmp(body.toString("latin1"), besides);
  else if (marker === 0xed) readIptc(body, besides);
  else if (marker === 0xe2 && starts("MPF\0")) besides.add("preview");
  else if (marker === comment && body.length > 0) besides.add("text");
  return null;
}

/** Where the coded data of a scan end: at the next marker that is no restart and no stuffed byte. */
function endOfScan(bytes: Buffer, from: number): number | null {
  for (
    let at = bytes.indexOf(0xff, from);
    at >= 0 && at + 1 < bytes.length;
    at = bytes.indexOf(0xff, at + 1)
  ) {
    const next = bytes[at + 1]!;
    if (next !== 0 && next !== 0xff && !(next >= 0xd0 && next <= 0xd7)) return at;
  }
  return null;
}
