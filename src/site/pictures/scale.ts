import type { Pixels } from "./codec.ts";

/**
 * A smaller picture: each pixel is the mean of those that it stands for, the ones at its edges by their share, and each colour
 * by its opacity. In whole numbers, so that every machine gives the same bytes.
 */
export function scaled(from: Pixels, { width, height }: { width: number; height: number }): Pixels {
  if (width === from.width && height === from.height) return from;
  const data = new Uint8ClampedArray(width * height * 4);
  const columns = Array.from({ length: width }, (_, x) => shares(x, from.width, width));
  for (let y = 0; y < height; y += 1) {
    const rows = shares(y, from.height, height);
    for (let x = 0; x < width; x += 1) {
      const column = columns[x]!;
      let [red, green, blue, opacity, weight] = [0, 0, 0, 0, 0];
      for (let j = 0; j < rows.weights.length; j += 1) {
        let at = ((rows.first + j) * from.width + column.first) * 4;
        const down = rows.weights[j]!;
        for (const across of column.weights) {
          const share = down * across;
          const seen = share * from.data[at + 3]!;
          red += seen * from.data[at]!;
          green += seen * from.data[at + 1]!;
          blue += seen * from.data[at + 2]!;
          opacity += seen;
          weight += share;
          at += 4;
        }
      }
      const to = (y * width + x) * 4;
      if (opacity > 0) {
        data[to] = Math.round(red / opacity);
        data[to + 1] = Math.round(green / opacity);
        data[to + 2] = Math.round(blue / opacity);
      }
      data[to + 3] = Math.round(opacity / weight);
    }
  }
  return { width, height, data };
}

/** Which pixels of a longer edge one of a shorter edge stands for, and by how much, in parts of the shorter edge. */
function shares(place: number, long: number, short: number): { first: number; weights: number[] } {
  const [from, to] = [place * long, (place + 1) * long];
  const first = Math.floor(from / short);
  const last = Math.ceil(to / short);
  const weights = Array.from({ length: last - first }, (_, i) => {
    const start = (first + i) * short;
    return Math.min(to, start + short) - Math.max(from, start);
  });
  return { first, weights };
}

/** A picture turned upright, by how it is stored: the eight ways of Exif (CIPA DC-008, from memory). */
export function upright(from: Pixels, orientation: number): Pixels {
  if (orientation === 1) return from;
  const isOnSide = orientation > 4;
  const [width, height] = isOnSide ? [from.height, from.width] : [from.width, from.height];
  const data = new Uint8ClampedArray(from.data.length);
  const source = new Uint32Array(from.data.buffer, from.data.byteOffset, from.width * from.height);
  const target = new Uint32Array(data.buffer);
  const placeOf = places[orientation]!;
  const last = { column: width - 1, row: height - 1 };
  for (let y = 0; y < height; y += 1) {
    for (let x = 0; x < width; x += 1) {
      const [column, row] = placeOf(x, y, last);
      target[y * width + x] = source[row * from.width + column]!;
    }
  }
  return { width, height, data };
}

/** Where a pixel that is shown is stored: its column and row, from its place and the last column and row as shown. */
const places: Record<
  number,
  (x: number, y: number, last: { column: number; row: number }) => [number, number]
> = {
  2: (x, y, last) => [last.column - x, y],
  3: (x, y, last) => [last.column - x, last.row - y],
  4: (x, y, last) => [x, last.row - y],
  5: (x, y) => [y, x],
  6: (x, y, last) => [y, last.column - x],
  7: (x, y, last) => [last.row - y, last.column - x],
  8: (x, y, last) => [last.row - y, x],
};
