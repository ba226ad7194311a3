import { codecOf, type Pixels } from "../../src/site/pictures/codec.ts";
import { randomStream } from "../random-stream.ts";
import { exifBlock } from "./exif.ts";

/*
 * Drawings that stand for photographs: no real place is shown. One of them carries what a phone puts into its pictures, so that the
 * site shows what becomes of it.
 */

const width = 480;
const height = 360;

type Colour = readonly [number, number, number];

const wall: Colour = [196, 194, 186];
const floor: Colour = [122, 120, 116];
const steel: Colour = [74, 82, 92];
const dark: Colour = [38, 42, 48];
const antenna: Colour = [228, 228, 224];
const strip: Colour = [176, 190, 160];
const mark: Colour = [176, 58, 36];

class Drawing implements Pixels {
  readonly width = width;
  readonly height = height;
  readonly data = new Uint8ClampedArray(width * height * 4);

  fill(x: number, y: number, across: number, down: number, [red, green, blue]: Colour): void {
    for (let row = Math.max(0, y); row < Math.min(height, y + down); row += 1)
      for (let column = Math.max(0, x); column < Math.min(width, x + across); column += 1)
        this.data.set([red, green, blue, 255], (row * width + column) * 4);
  }

  /** The grain of a photograph taken in poor light. */
  grain(label: string): void {
    const stream = randomStream(label);
    for (let at = 0; at < this.data.length; at += 4) {
      const shade = stream.integer(-5, 5);
      for (let i = 0; i < 3; i += 1) this.data[at + i]! += shade;
    }
  }
}

/** A door from inside: wall, floor, opening, two posts. */
function dockDoor(): Drawing {
  const drawing = new Drawing();
  drawing.fill(0, 0, width, 270, wall);
  drawing.fill(0, 270, width, 90, floor);
  drawing.fill(130, 50, 220, 220, dark);
  for (const x of [112, 350]) drawing.fill(x, 40, 18, 232, steel);
  drawing.fill(112, 32, 256, 18, steel);
  return drawing;
}

/** Three antennas at their places and one too high, framed. */
function highAntenna(): Drawing {
  const drawing = dockDoor();
  for (const [x, y] of [
    [96, 104],
    [96, 190],
    [354, 190],
    [354, 50],
  ] as const)
    drawing.fill(x, y, 30, 44, antenna);
  for (const [x, y, across, down] of [
    [344, 40, 50, 4],
    [344, 100, 50, 4],
    [344, 40, 4, 64],
    [390, 40, 4, 64],
  ] as const)
    drawing.fill(x, y, across, down, mark);
  return drawing;
}

/** Curtain strips in the opening, some of them over an antenna. */
function curtain(): Drawing {
  const drawing = dockDoor();
  for (const [x, y] of [
    [96, 84],
    [96, 180],
    [354, 84],
    [354, 180],
  ] as const)
    drawing.fill(x, y, 30, 44, antenna);
  for (let x = 134; x < 350; x += 24) drawing.fill(x, 50, 18, 206, strip);
  for (const x of [342, 362]) drawing.fill(x, 60, 14, 180, strip);
  return drawing;
}

/** As a phone held upright stores it: on its side, to the left. */
function onItsSide(drawing: Drawing): Pixels {
  const data = new Uint8ClampedArray(drawing.data.length);
  for (let y = 0; y < height; y += 1)
    for (let x = 0; x < width; x += 1) {
      const from = (y * width + x) * 4;
      data.set(drawing.data.subarray(from, from + 4), ((width - 1 - x) * height + y) * 4);
    }
  return { width: height, height: width, data };
}

/** By path below the facility's folder. */
export async function fennickPhotographs(): Promise<Map<string, Uint8Array>> {
  const { encode } = await codecOf("jpeg");
  const high = highAntenna();
  high.grain("fennick high antenna");
  const strips = curtain();
  strips.grain("fennick curtain");
  const stored = await encode(onItsSide(high));
  const block = exifBlock({ orientation: 6, latitude: 47, longitude: -30, artist: "Invented Phone Owner" });
  return new Map([
    ["attachments/dock-2-antenna-3.jpg", withSegment(stored, block)],
    ["attachments/dock-1-curtain.jpg", await encode(strips)],
  ]);
}

/** An application segment right behind the start of the image. */
function withSegment(jpeg: Uint8Array, segment: Uint8Array): Uint8Array {
  return Buffer.concat([jpeg.subarray(0, 2), segment, jpeg.subarray(2)]);
}
