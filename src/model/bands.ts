/**
 * Bands cut a measured condition, such as speed, into ranges that can be compared. They are given as rising edges.
 */

/**
 * The name under which a band appears everywhere.
 *
 * @param lo lower edge, in the column's unit
 * @param hi upper edge, in the column's unit
 * @example bandName(1, 2) // "1 to 2"
 */
export function bandName(lo: number, hi: number): string {
  return `${lo} to ${hi}`;
}

/**
 * The names of all bands that the edges make, rising.
 *
 * @param bands rising edges, at least two
 * @example bandNames([0, 1, 2]) // ["0 to 1", "1 to 2"]
 */
export function bandNames(bands: readonly number[]): string[] {
  return bands.slice(1).map((edge, i) => bandName(bands[i]!, edge));
}

/**
 * Which band a value falls into. The first band holds both its edges, later ones exclude the lower: every value between
 * the outermost edges has exactly one band.
 *
 * @param bands rising edges, at least two
 * @param value in the column's unit
 * @returns the band's index from 0, or -1 outside all bands (and for NaN)
 * @example bandOf([0, 1, 2], 1) // 0
 * @example bandOf([0, 1, 2], 1.01) // 1
 */
export function bandOf(bands: readonly number[], value: number): number {
  if (!(value >= bands[0]!)) return -1;
  for (let i = 1; i < bands.length; i += 1) {
    if (value <= bands[i]!) return i - 1;
  }
  return -1;
}
