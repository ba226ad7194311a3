import { decimalOf } from "../../model/decimal.ts";
import { noRssi } from "../../model/pass-log.ts";
import { trimmed, withPoint } from "./cells.ts";
import type { LogFile } from "./log-context.ts";

const mostRemembered = 50_000;
const weakestDbm = -120;
const strongestDbm = 0;

/** RSSI in dBm, as it was written. */
export class RssiCells {
  readonly none = noRssi;
  readonly #file: LogFile;
  readonly #known = new Map<string, number>([["", noRssi]]);

  constructor(file: LogFile) {
    this.#file = file;
  }

  dbmOf(cell: string, ordinal: number, field: number): number {
    const known = this.#known.get(cell);
    if (known !== undefined) return known;
    const text = trimmed(cell);
    const dbm = decimalOf(this.#file.decimalComma ? withPoint(text) : text);
    if (text !== "" && !(dbm >= weakestDbm && dbm <= strongestDbm)) {
      this.#refuse(text, dbm, ordinal, field);
      return noRssi;
    }
    const level = text === "" ? noRssi : dbm || 0;
    if (this.#known.size >= mostRemembered) this.#known.clear();
    this.#known.set(cell, level);
    return level;
  }

  #refuse(text: string, dbm: number, ordinal: number, field: number): void {
    let advice = "Write the strongest reading in dBm, -61.5 say, or leave it blank.";
    if (dbm < weakestDbm) advice = `Is this in hundredths of a dB? Then write ${dbm / 100}.`;
    else if (dbm > strongestDbm) {
      advice = `Received power is negative in dBm: is ${-dbm} meant? A reader's own scale of signal strength is no RSSI in dBm.`;
    } else if (/,/.test(text)) advice = "Write a decimal point.";
    this.#file.report.cell(
      ordinal,
      field,
      "rssi-out-of-range",
      text,
      "a number from -120 to 0, in dBm",
      advice,
    );
  }
}
