import { type Heard, noRssi, type PassLog } from "../../model/pass-log.ts";

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
  /** `noRssi` where none was recorded. */
  rssiDbm: Float64Array;
  antennas: string[];
  /** Whether every antenna that heard a row is known. */
  areAllNamed: boolean;
}

const startsOf = new WeakMap<Heard, Int32Array>();

/** The entries of one pass in what the readers heard: from, and to below. */
export function entriesOfPass(heard: Heard, pass: number, passes: number): [number, number] {
  let starts = startsOf.get(heard);
  if (starts === undefined) {
    starts = new Int32Array(passes + 1);
    for (let entry = 0; entry < heard.length; entry += 1) starts[heard.pass[entry]! + 1]! += 1;
    for (let i = 1; i <= passes; i += 1) starts[i]! += starts[i - 1]!;
    startsOf.set(heard, starts);
  }
  return [starts[pass]!, starts[pass + 1]!];
}

/** Hearings of presented rows, which are grouped by pass. */
export function hearingsOf(log: PassLog, presented: Int32Array): Hearings {
  const { rows, heard } = log;
  const antennas: string[] = [];
  const numbers = new Map<string, number>();
  const numberOf = (name: string) => {
    let number = numbers.get(name);
    if (number === undefined) {
      number = antennas.push(name) - 1;
      numbers.set(name, number);
    }
    return number;
  };
  const found = { row: [] as number[], antenna: [] as number[], reads: [] as number[], rssi: [] as number[] };
  const keep = (row: number, name: string, reads: number, rssi: number) => {
    found.row.push(row);
    found.antenna.push(numberOf(name));
    found.reads.push(reads);
    found.rssi.push(rssi);
  };
  let areAllNamed = heard !== null;
  const rowOfTag = new Int32Array(log.tags.length).fill(-1);
  for (const [pass, own] of rowsByPass(rows.pass, presented)) {
    if (heard === null || log.passes[pass]!.readsFrom !== "reader-log") {
      for (const row of own) {
        if (rows.antenna[row] === -1 || rows.tag[row] === -1 || rows.tagsRead[row] === 0) continue;
        areAllNamed = false;
        keep(row, rows.antennas[rows.antenna[row]!]!, rows.readCounts[row]!, rows.rssiDbm[row]!);
      }
      continue;
    }
    for (const row of own) if (rows.tag[row] !== -1) rowOfTag[rows.tag[row]!] = row;
    const [from, to] = entriesOfPass(heard, pass, log.passes.length);
    for (let entry = from; entry < to; entry += 1) {
      const row = rowOfTag[heard.tag[entry]!]!;
      const antenna = heard.antenna[entry]!;
      if (row !== -1 && antenna !== -1)
        keep(row, heard.antennas[antenna]!, heard.reads[entry]!, heard.rssiDbm[entry]!);
    }
    for (const row of own) if (rows.tag[row] !== -1) rowOfTag[rows.tag[row]!] = -1;
  }
  return {
    length: found.row.length,
    row: Int32Array.from(found.row),
    antenna: Int32Array.from(found.antenna),
    reads: Float64Array.from(found.reads),
    rssiDbm: Float64Array.from(found.rssi),
    antennas,
    areAllNamed,
  };
}

/** Rows by their pass, in the order of the log. */
export function rowsByPass(passOf: Int32Array, rows: Int32Array): Map<number, number[]> {
  const passes = new Map<number, number[]>();
  for (const row of rows) {
    const own = passes.get(passOf[row]!);
    if (own === undefined) passes.set(passOf[row]!, [row]);
    else own.push(row);
  }
  return passes;
}

/** Levels that were recorded, in rising order. */
export function recorded(levels: Iterable<number>): number[] {
  return [...levels].filter((level) => level !== noRssi).sort((a, b) => a - b);
}
