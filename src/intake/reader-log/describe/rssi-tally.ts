import type { RssiFacts } from "./log-description.ts";
import { rssiScale } from "./rssi-scale.ts";
import { plainNumber } from "./time-texts.ts";

/** Values finer than a thousand steps do not change what is said of them. */
const mostValues = 20_000;

/** Sums up the values of an RSSI column. */
export class RssiTally {
  readonly #rows = new Map<number, number>();
  #unreadable = 0;
  #blank = 0;
  #whole = true;

  /** False where the value is no number. */
  add(value: string, decimal: "." | ","): boolean {
    if (value === "") {
      this.#blank += 1;
      return true;
    }
    const number = plainNumber(value, decimal);
    if (Number.isNaN(number)) {
      this.#unreadable += 1;
      return false;
    }
    if (!Number.isInteger(number)) this.#whole = false;
    const step = this.#rows.size < mostValues ? number : Math.round(number);
    this.#rows.set(step, (this.#rows.get(step) ?? 0) + 1);
    return true;
  }

  /** Null where no value was a number. */
  facts(column: string | number): RssiFacts | null {
    if (this.#rows.size === 0) return null;
    const values = [...this.#rows].sort(([a], [b]) => a - b);
    const median = middleOf(values);
    const min = values[0]![0];
    const max = values[values.length - 1]![0];
    return {
      column,
      min,
      median,
      max,
      scale: rssiScale(min, median, max, this.#whole),
      positive: values.reduce((sum, [value, rows]) => sum + (value > 0 ? rows : 0), 0),
      zero: this.#rows.get(0) ?? 0,
      blank: this.#blank,
      unreadable: this.#unreadable,
    };
  }
}

/** The first value that half of all rows do not exceed. */
function middleOf(values: readonly (readonly [number, number])[]): number {
  const total = values.reduce((sum, [, rows]) => sum + rows, 0);
  let before = 0;
  for (const [value, rows] of values) {
    before += rows;
    if (before * 2 >= total) return value;
  }
  return Number.NaN;
}
