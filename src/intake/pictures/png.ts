import { crc32, inflateSync } from "node:zlib";
import { pictureUnreadable } from "../problems/pictures.ts";
import { type Besides, type FoundPicture, refused } from "./found.ts";
import { readExifBlock, readXmp } from "./metadata.ts";
import { pictureOf, refusedSize } from "./size.ts";

/* The chunks of ISO/IEC 15948 (PNG), from memory. */

interface Header {
  width: number;
  height: number;
  bitsPerPixel: number;
  isInterlaced: boolean;
}

interface Chunk {
  name: string;
  body: Buffer;
}

const samples: Record<number, number> = { 0: 1, 2: 3, 3: 1, 4: 2, 6: 4 };

/** Walks the chunks of a PNG and unpacks its data, no further than its size allows: its size, and what it holds besides. */
export function readPng(bytes: Buffer): FoundPicture {
  const damaged = (why: string) => refused(pictureUnreadable.damaged({ why }));
  const chunks = chunksOf(bytes);
  if (typeof chunks === "string") return damaged(chunks);
  const header = headerOf(chunks[0]);
  if (header === null) return damaged("a PNG without a size");
  const tooLarge = refusedSize(header);
  if (tooLarge !== null) return refused(tooLarge);
  const fault = dataFault(chunks, header);
  if (fault !== null) return damaged(fault);
  const besides: Besides = new Set();
  let orientation = 1;
  for (const { name, body } of chunks) {
    if (name === "eXIf") orientation = readExifBlock(body, besides);
    if (["tEXt", "zTXt", "iTXt"].includes(name)) readText(body, besides);
  }
  return { picture: pictureOf({ kind: "png", ...header, orientation, besides }), problem: null };
}

/** What is wrong with the chunks, in words, where they are not whole. */
function chunksOf(bytes: Buffer): Chunk[] | string {
  const chunks: Chunk[] = [];
  for (let at = 8; at + 12 <= bytes.length; ) {
    const length = bytes.readUInt32BE(at);
    if (at + 12 + length > bytes.length) break;
    const checked = bytes.subarray(at + 4, at + 8 + length);
    const name = checked.toString("latin1", 0, 4);
    if (crc32(checked) !== bytes.readUInt32BE(at + 8 + length))
      return `a PNG whose checksum does not fit at byte ${at}`;
    chunks.push({ name, body: checked.subarray(4) });
    if (name === "IEND") return chunks;
    at += 12 + length;
  }
  return "a PNG that ends in the middle";
}

function headerOf(chunk: Chunk | undefined): Header | null {
  if (chunk?.name !== "IHDR" || chunk.body.length !== 13) return null;
  const { body } = chunk;
  const [width, height] = [body.readUInt32BE(0), body.readUInt32BE(4)];
  const channels = samples[body[9]!];
  if (width === 0 || height === 0 || channels === undefined) return null;
  return { width, height, bitsPerPixel: channels * body[8]!, isInterlaced: body[12] === 1 };
}

/** A small file may unpack to gigabytes: it is unpacked no further than its size allows. */
function dataFault(chunks: Chunk[], { width, height, bitsPerPixel, isInterlaced }: Header): string | null {
  const whole = (Math.ceil((width * bitsPerPixel) / 8) + 1) * height;
  // Seven passes have rows of their own, each with its byte and its padding.
  const most = isInterlaced ? 2 * whole + 16 * height + 1024 : whole;
  const data = Buffer.concat(chunks.filter(({ name }) => name === "IDAT").map(({ body }) => body));
  try {
    const unpacked = inflateSync(data, { maxOutputLength: most });
    return isInterlaced || unpacked.length === whole ? null : "a PNG with less data than its size asks for";
  } catch (fault) {
    return (fault as NodeJS.ErrnoException).code === "ERR_BUFFER_TOO_LARGE"
      ? "a PNG with more data than its size asks for"
      : "a PNG whose data cannot be unpacked";
  }
}

function readText(body: Buffer, besides: Besides): void {
  const key = body.toString("latin1", 0, Math.max(0, body.indexOf(0)));
  if (key === "Software") return;
  if (key.startsWith("XML:com.adobe.xmp")) readXmp(body.toString("latin1"), besides);
  else if (/^(?:Author|Copyright|Artist)$/.test(key)) besides.add("person");
  else besides.add("text");
}
