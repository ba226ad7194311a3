import { noRssi, type PassLog } from "../../model/pass-log.ts";
import type { WalkedFacility } from "../../model/rows.ts";
import { risingOrder, sortedGroups } from "../../statistics/numerics/sorted-groups.ts";

/**
 * Which antennas heard which presented rows: one entry a row and antenna, as far as the logs name antennas. A reader's own
 * log names every antenna that heard a tag, a pass log only that of the strongest read.
 */
export interface Hearings {
  length: number;
  row: Int32Array;
  /** Index into `antennas`. */
  antenna: Int32Array;
  /** 0 where they are not counted. */
  reads: Float64Array;
  levels: Levels;
  /** The recorded levels of an antenna, rising. */
  levelsOf: (antenna: number) => Float64Array;
  antennas: string[];
  /** Whether every antenna that heard a row is known. */
  areAllNamed: boolean;
}

const known = new WeakMap<Int32Array, Hearings>();

/** Hearings of presented rows; found once for an array of rows. */
export function hearingsOf(walked: WalkedFacility, presented: Int32Array): Hearings {
  const found = known.get(presented) ?? foundHearings(walked, presented);
  known.set(presented, found);
  return found;
}

function foundHearings({ log, index }: WalkedFacility, presented: Int32Array): Hearings {
  const { rows, heard } = log;
  const { antennas, ofRows, ofHeard } = numberedAntennas(log);
  const isTold = log.passes.map(({ readsFrom }) => heard !== null && readsFrom === "reader-log");
  const ofReaders = rowsByPass(
    rows.pass,
    presented.filter((row) => isTold[rows.pass[row]!]!),
  );
  let most = presented.length;
  for (const pass of ofReaders.keys()) {
    const [from, to] = index.heardIn(pass);
    most += to - from;
  }
  const found = {
    row: new Int32Array(most),
    antenna: new Int32Array(most),
    reads: new Float64Array(most),
    rssiDbm: new Float64Array(most),
  };
  let length = 0;
  const keep = (row: number, antenna: number, reads: number, rssi: number) => {
    found.row[length] = row;
    found.antenna[length] = antenna;
    found.reads[length] = reads;
    found.rssiDbm[length] = rssi;
    length += 1;
  };
  let areAllNamed = heard !== null;
  for (let i = 0; i < presented.length; i += 1) {
    const row = presented[i]!;
    if (isTold[rows.pass[row]!]!) continue;
    if (rows.antenna[row] !== -1 && rows.tag[row] !== -1 && rows.tagsRead[row] !== 0) {
      areAllNamed = false;
      keep(row, ofRows[rows.antenna[row]!]!, rows.readCounts[row]!, rows.rssiDbm[row]!);
    }
  }
  const rowOfTag = new Int32Array(log.tags.length).fill(-1);
  for (const [pass, own] of ofReaders) {
    for (const row of own) if (rows.tag[row] !== -1) rowOfTag[rows.tag[row]!] = row;
    const [from, to] = index.heardIn(pass);
    for (let entry = from; entry < to; entry += 1) {
      const row = rowOfTag[heard!.tag[entry]!]!;
      const antenna = heard!.antenna[entry]!;
      if (row !== -1 && antenna !== -1)
        keep(row, ofHeard[antenna]!, heard!.reads[entry]!, heard!.rssiDbm[entry]!);
    }
    for (const row of own) if (rows.tag[row] !== -1) rowOfTag[rows.tag[row]!] = -1;
  }
  const antenna = found.antenna.subarray(0, length);
  const levels = new Levels(found.rssiDbm.subarray(0, length));
  return {
    length,
    row: found.row.subarray(0, length),
    antenna,
    reads: found.reads.subarray(0, length),
    levels,
    levelsOf: levels.grouped(antennas.length, antenna),
    antennas,
    areAllNamed,
  };
}

/** Levels in dBm, sorted once: every group of them is then had in rising order by one walk. */
export class Levels {
  /** `noRssi` where none was recorded. */
  readonly dBm: Float64Array;
  /** Places of the recorded ones, the weakest first. */
  readonly #order: Int32Array;

  constructor(dBm: Float64Array) {
    this.dBm = dBm;
    const order = risingOrder(dBm);
    let unrecorded = 0;
    while (unrecorded < order.length && dBm[order[unrecorded]!] === noRssi) unrecorded += 1;
    this.#order = order.subarray(unrecorded);
  }

  /** The recorded levels of each group, rising; `groupOf` has the number of each level's group, -1 for none. */
  grouped(groups: number, groupOf: Int32Array): (group: number) => Float64Array {
    return sortedGroups(this.dBm, { order: this.#order, groupOf, groups });
  }

  /** All recorded levels, rising. */
  sorted(): Float64Array {
    const rising = new Float64Array(this.#order.length);
    for (let i = 0; i < rising.length; i += 1) rising[i] = this.dBm[this.#order[i]!]!;
    return rising;
  }
}

/** One list of the antennas that pass logs and readers' logs name, and the number in it of each of theirs. */
function numberedAntennas({ rows, heard }: PassLog): {
  antennas: string[];
  ofRows: number[];
  ofHeard: number[];
} {
  const antennas = [...new Set([...rows.antennas, ...(heard?.antennas ?? [])])];
  const numbersOf = (names: readonly string[]) => names.map((name) => antennas.indexOf(name));
  return { antennas, ofRows: numbersOf(rows.antennas), ofHeard: numbersOf(heard?.antennas ?? []) };
}

/** Rows by their pass, in the order of the log. */
export function rowsByPass(
  passOf: Int32Array,
  rows: ArrayLike<number> & Iterable<number>,
): Map<number, number[]> {
  const passes = new Map<number, number[]>();
  for (const row of rows) {
    const own = passes.get(passOf[row]!);
    if (own === undefined) passes.set(passOf[row]!, [row]);
    else own.push(row);
  }
  return passes;
}
