import { byCodePoint, byNaturalOrder } from "../../../model/order.ts";
import { codeShapes } from "./code-shapes.ts";
import type { ColumnChoice } from "./column-roles.ts";
import type { CountFacts, ReaderFacts, RssiFacts, TagFacts, TimeFacts } from "./log-description.ts";
import { OddLineList } from "./odd-lines.ts";
import { RssiTally } from "./rssi-tally.ts";
import { plainNumber, type TimeStyle, timeOf } from "./time-texts.ts";

/** The reason for lines with an RSSI that is no number. */
export const noNumberRssi = "an RSSI that is no number";

/** The span that times can be in, 1990 to 2100, as where logs are read. */
const earliestUs = Date.UTC(1990, 0, 1) * 1000;
const latestUs = Date.UTC(2100, 0, 1) * 1000;
/** Names of readers more than these are no column worth offering. */
const mostCandidateNames = 20;

interface ReaderTally {
  rows: number;
  firstUs: number;
  lastUs: number;
}

/** Names of readers beyond this are no names of readers. */
const mostNames = 500;

/** Sums up every row of a log, column by column, without keeping any. */
export class LogTally {
  rows = 0;
  /** Lines of data that could not be parted into columns. */
  unparted = 0;
  readonly odd = new OddLineList();
  readonly #choice: ColumnChoice;
  readonly #style: TimeStyle | null;
  readonly #decimal: "." | ",";
  readonly #codes = new Set<string>();
  readonly #readers = new Map<string, ReaderTally>();
  readonly #antennas = new Map<string, number>();
  readonly #rssi = new RssiTally();
  readonly #count = { sum: 0, max: 0, above1: 0, unreadable: 0 };
  readonly #time = { firstUs: Infinity, lastUs: -Infinity, beforeUs: -Infinity, steps: 0, longestUs: 0 };
  #timeUnreadable = 0;
  #timeOutside = 0;
  #wholeSeconds = true;
  readonly #candidates: Map<number, Map<string, number>>;
  #offsets = 0;
  #times = 0;

  constructor(choice: ColumnChoice, style: TimeStyle | null, decimal: "." | ",") {
    this.#choice = choice;
    this.#style = style;
    this.#decimal = decimal;
    this.#candidates = new Map(choice.readerCandidates.map((index) => [index, new Map()]));
  }

  add(fields: readonly string[], line: number, text: string): void {
    const { time, code, antenna, RSSI, count, reader } = this.#choice.chosen;
    this.rows += 1;
    const us = time === null ? null : this.#addTime(fields[time] ?? "", line, text);
    if (code !== null) this.#addCode(fields[code] ?? "", line, text);
    if (antenna !== null) tallied(this.#antennas, fields[antenna] ?? "");
    if (RSSI !== null) this.#addRssi(fields[RSSI] ?? "", line, text);
    if (count !== null) this.#addCount(fields[count] ?? "", line, text);
    if (reader !== null) this.#addReader(fields[reader] ?? "", us);
    for (const [index, names] of this.#candidates)
      if (names.size <= mostCandidateNames) tallied(names, fields[index] ?? "");
  }

  addUnparted(reason: string, line: number, text: string): void {
    this.unparted += 1;
    this.odd.add(reason, line, text);
  }

  #addTime(value: string, line: number, text: string): number | null {
    if (this.#style === null) return null;
    const time = timeOf(value, this.#style, this.#decimal);
    if (time === null) {
      this.#timeUnreadable += 1;
      this.odd.add(value === "" ? "no time" : "a time that cannot be read", line, text);
      return null;
    }
    if (time.us < earliestUs || time.us > latestUs) {
      this.#timeOutside += 1;
      this.odd.add("a time outside 1990 to 2100, as clocks give that were not set", line, text);
      return null;
    }
    const span = this.#time;
    this.#times += 1;
    if (time.offset) this.#offsets += 1;
    if (time.us % 1e6 !== 0) this.#wholeSeconds = false;
    if (time.us < span.firstUs) span.firstUs = time.us;
    if (time.us > span.lastUs) span.lastUs = time.us;
    if (time.us < span.beforeUs) {
      span.steps += 1;
      span.longestUs = Math.max(span.longestUs, span.beforeUs - time.us);
    }
    span.beforeUs = time.us;
    return time.us;
  }

  #addCode(value: string, line: number, text: string): void {
    if (value === "") this.odd.add("no code", line, text);
    // A piece of a line would keep the whole of the file in memory.
    else if (!this.#codes.has(value)) this.#codes.add(Buffer.from(value).toString());
  }

  #addRssi(value: string, line: number, text: string): void {
    if (!this.#rssi.add(value, this.#decimal)) this.odd.add(noNumberRssi, line, text);
  }

  #addCount(value: string, line: number, text: string): void {
    // A blank stands for one read.
    const number = value === "" ? 1 : plainNumber(value, this.#decimal);
    if (!Number.isInteger(number) || number < 1) {
      this.#count.unreadable += 1;
      this.odd.add("a count that is no whole number from 1", line, text);
      return;
    }
    this.#count.sum += number;
    if (number > 1) this.#count.above1 += 1;
    if (number > this.#count.max) this.#count.max = number;
  }

  #addReader(value: string, us: number | null): void {
    let tally = this.#readers.get(value);
    if (tally === undefined) {
      if (this.#readers.size >= mostNames) return;
      tally = { rows: 0, firstUs: Infinity, lastUs: -Infinity };
      this.#readers.set(Buffer.from(value).toString(), tally);
    }
    tally.rows += 1;
    if (us === null) return;
    if (us < tally.firstUs) tally.firstUs = us;
    if (us > tally.lastUs) tally.lastUs = us;
  }

  time(): TimeFacts | null {
    const column = this.#nameOf("time");
    if (column === null || this.#style === null) return null;
    const number = this.#style.unit !== "iso";
    const all = this.#offsets === this.#times && this.#times > 0;
    const offsets = number ? "count since 1970" : all ? "all" : this.#offsets === 0 ? "none" : "some";
    return {
      column,
      unit: this.#style.unit,
      format: this.#style.format,
      offsets,
      first: this.#shownTime(this.#time.firstUs),
      last: this.#shownTime(this.#time.lastUs),
      stepsBack: this.#time.steps,
      longestStepBackS: this.#time.longestUs / 1e6,
      unreadable: this.#timeUnreadable,
      outside: this.#timeOutside,
      wholeSeconds: this.#wholeSeconds,
    };
  }

  /** With a Z only where the log says what instant it is. */
  #shownTime(us: number): string | null {
    if (!Number.isFinite(us) || Math.abs(us) > 8e18) return null;
    const text = new Date(Math.floor(us / 1000)).toISOString();
    return this.#offsets > 0 && this.#offsets === this.#times ? text : text.slice(0, -1);
  }

  tags(): { facts: TagFacts; formDoubt: string | null; remarks: string[] } | null {
    const column = this.#nameOf("code");
    if (column === null) return null;
    const { formDoubt, remarks, ...shapes } = codeShapes(this.#codes);
    return { facts: { column, ...shapes }, formDoubt, remarks };
  }

  rssi(): RssiFacts | null {
    const column = this.#nameOf("RSSI");
    return column === null ? null : this.#rssi.facts(column);
  }

  count(): CountFacts | null {
    const column = this.#nameOf("count");
    return column === null ? null : { column, ...this.#count };
  }

  readers(): ReaderFacts[] {
    return [...this.#readers]
      .map(([name, { rows, firstUs, lastUs }]) => ({
        name,
        rows,
        first: this.#shownTime(firstUs),
        last: this.#shownTime(lastUs),
      }))
      .sort((a, b) => byCodePoint(a.name, b.name));
  }

  readerCandidates(): { column: string | number; names: string[] }[] {
    return [...this.#candidates].flatMap(([index, names]) => {
      const filled = [...names.keys()].filter((name) => name !== "").sort(byNaturalOrder);
      if (filled.length < 2 || names.size > mostCandidateNames || this.rows < 3 * filled.length) return [];
      return [{ column: this.#choice.columns[index]!.name, names: filled }];
    });
  }

  antennas(): { name: string; rows: number }[] {
    return [...this.#antennas]
      .map(([name, rows]) => ({ name, rows }))
      .sort((a, b) => byNaturalOrder(a.name, b.name));
  }

  #nameOf(role: keyof ColumnChoice["chosen"]): string | number | null {
    const index = this.#choice.chosen[role];
    return index === null ? null : this.#choice.columns[index]!.name;
  }
}

function tallied(names: Map<string, number>, value: string): void {
  const before = names.get(value);
  if (before !== undefined) names.set(value, before + 1);
  else if (names.size < mostNames) names.set(Buffer.from(value).toString(), 1);
}
