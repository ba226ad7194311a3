import type { PassForm } from "../../model/pass-log.ts";
import type { LogTime } from "./times.ts";

/** A pass while its rows are still being read. */
export interface OpenPass {
  index: number;
  /** Indices into the facility's rounds and read points. */
  round: number;
  readPoint: number;
  id: string;
  form: PassForm;
  /** Index of its log. */
  file: number;
  /** Where it was met first, and where its times stand. */
  record: number;
  startRecord: number;
  endRecord: number;
  startedAt: LogTime | null;
  endedAt: LogTime | null;
  voidReasons: Set<string> | null;
  walkedBy: Set<string> | null;
  notes: Set<string> | null;
  extras: Map<string, Set<string>> | null;
  straysRecorded: boolean;
  tallyStrays: number | null;
  rssiRecorded: boolean;
  manifest: string | null;
}

/** All passes met so far, known by round, read point and id together. */
export class PassBook {
  readonly passes: OpenPass[] = [];
  readonly #byRoundAndPoint: Map<string, OpenPass>[] = [];
  readonly #readPoints: number;

  constructor(readPoints: number) {
    this.#readPoints = readPoints;
  }

  find(round: number, readPoint: number, id: string): OpenPass | undefined {
    return this.#byRoundAndPoint[round * this.#readPoints + readPoint]?.get(id);
  }

  open(round: number, readPoint: number, id: string, form: PassForm, file: number, record: number): OpenPass {
    const pass = blankPass(this.passes.length, round, readPoint, id, form, file, record);
    this.passes.push(pass);
    const slot = round * this.#readPoints + readPoint;
    let ids = this.#byRoundAndPoint[slot];
    if (ids === undefined) {
      ids = new Map();
      this.#byRoundAndPoint[slot] = ids;
    }
    ids.set(id, pass);
    return pass;
  }
}

function blankPass(
  index: number,
  round: number,
  readPoint: number,
  id: string,
  form: PassForm,
  file: number,
  record: number,
): OpenPass {
  return {
    index,
    round,
    readPoint,
    id,
    form,
    file,
    record,
    startRecord: record,
    endRecord: record,
    startedAt: null,
    endedAt: null,
    voidReasons: null,
    walkedBy: null,
    notes: null,
    extras: null,
    straysRecorded: false,
    tallyStrays: null,
    rssiRecorded: false,
    manifest: null,
  };
}

/** Stands in for the pass of a row that names none, so that the rest of the row is still looked at. */
export function lostPass(form: PassForm, file: number, record: number): OpenPass {
  return blankPass(-1, -1, -1, "", form, file, record);
}
