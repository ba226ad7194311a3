import { crc32, deflateSync } from "node:zlib";

/* Small pictures, made byte by byte: tests change one thing about them. */

const chunk = (name: string, body: Buffer): Buffer => {
  const named = Buffer.concat([Buffer.from(name, "latin1"), body]);
  const length = Buffer.alloc(4);
  length.writeUInt32BE(body.length, 0);
  const sum = Buffer.alloc(4);
  sum.writeUInt32BE(crc32(named), 0);
  return Buffer.concat([length, named, sum]);
};

interface MadePng {
  width?: number;
  height?: number;
  /** Packed; by default as many rows of zeros as the size asks for. */
  data?: Buffer;
  /** Further chunks before the data. */
  more?: [string, Buffer][];
}

/** Eight bits of grey a pixel. */
export function png({ width = 2, height = 2, data, more = [] }: MadePng = {}): Buffer {
  const head = Buffer.alloc(13);
  head.writeUInt32BE(width, 0);
  head.writeUInt32BE(height, 4);
  head[8] = 8;
  return Buffer.concat([
    Buffer.from("89504e470d0a1a0a", "hex"),
    chunk("IHDR", head),
    ...more.map(([name, body]) => chunk(name, body)),
    chunk("IDAT", data ?? deflateSync(Buffer.alloc((width + 1) * height))),
    chunk("IEND", Buffer.alloc(0)),
  ]);
}

export const segment = (marker: number, body: Buffer): Buffer => {
  const head = Buffer.from([0xff, marker, 0, 0]);
  head.writeUInt16BE(body.length + 2, 2);
  return Buffer.concat([head, body]);
};

interface MadeJpeg {
  width?: number;
  height?: number;
  /** Segments behind the start. */
  more?: Buffer[];
  /** The marker of its frame: 0xc0 is the usual one. */
  frame?: number;
  behind?: Buffer;
}

/** A JPEG as far as its segments go: nothing in it can be decoded. */
export function jpeg({
  width = 4,
  height = 3,
  more = [],
  frame = 0xc0,
  behind = Buffer.alloc(0),
}: MadeJpeg = {}): Buffer {
  const size = Buffer.from([8, height >> 8, height & 255, width >> 8, width & 255, 1, 1, 0x11, 0]);
  return Buffer.concat([
    Buffer.from([0xff, 0xd8]),
    ...more,
    segment(frame, size),
    segment(0xda, Buffer.from([1, 1, 0, 0, 63, 0])),
    Buffer.from([0x12, 0xff, 0x00, 0x34, 0xff, 0xd0, 0x56, 0xff, 0xd9]),
    behind,
  ]);
}

export const svg = (content: string, attributes = 'viewBox="0 0 40 20"'): string =>
  `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" ${attributes}>${content}</svg>`;
