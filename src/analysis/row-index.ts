import type { PassLog } from "../model/pass-log.ts";

/**
 * Which rows belong to which read point and round: found once, so that a finding looks at its own rows only.
 */
export interface RowIndex {
  /** Row numbers of one read point in one round, void passes included; the order carries no meaning. */
  rowsOf(readPoint: string, round: string): Int32Array;
  /** Pass numbers of the same, in the order walked. */
  passesOf(readPoint: string, round: string): number[];
}

const noRows = new Int32Array(0);

export function indexRows(log: PassLog): RowIndex {
  const places = new Map<string, number>();
  const passesByPlace: number[][] = [];
  const placeOfPass = new Int32Array(log.passes.length);
  log.passes.forEach((pass, number) => {
    const key = JSON.stringify([pass.readPoint, pass.round]);
    let place = places.get(key);
    if (place === undefined) {
      place = passesByPlace.push([]) - 1;
      places.set(key, place);
    }
    passesByPlace[place]!.push(number);
    placeOfPass[number] = place;
  });
  const { pass, length } = log.rows;
  const counts = new Int32Array(passesByPlace.length);
  for (let row = 0; row < length; row += 1) counts[placeOfPass[pass[row]!]!]! += 1;
  const rowsByPlace = passesByPlace.map((_, place) => new Int32Array(counts[place]!));
  const filled = new Int32Array(passesByPlace.length);
  for (let row = 0; row < length; row += 1) {
    const place = placeOfPass[pass[row]!]!;
    rowsByPlace[place]![filled[place]!++] = row;
  }
  const placeOf = (readPoint: string, round: string) => places.get(JSON.stringify([readPoint, round]));
  return {
    rowsOf: (readPoint, round) => {
      const place = placeOf(readPoint, round);
      return place === undefined ? noRows : rowsByPlace[place]!;
    },
    passesOf: (readPoint, round) => {
      const place = placeOf(readPoint, round);
      return place === undefined ? [] : passesByPlace[place]!;
    },
  };
}
