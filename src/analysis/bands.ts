/** The name of a band, as reports and logs call it: "1 to 2". */
export function bandName(from: number, to: number): string {
  return `${from} to ${to}`;
}

/**
 * Which band a value lies in, by index; -1 outside all of them, and for NaN.
 *
 * `edges` rise. The first band holds both its edges, every later one only its upper edge: bands 0, 1, 2 put 0 and 1
 * into "0 to 1" and 2 into "1 to 2".
 */
export function bandOf(edges: number[], value: number): number {
  if (value === edges[0]) return 0;
  for (let index = 0; index + 1 < edges.length; index += 1) {
    if (value > edges[index]! && value <= edges[index + 1]!) return index;
  }
  return -1;
}
