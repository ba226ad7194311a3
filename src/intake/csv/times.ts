import { Temporal } from "temporal-polyfill";
import { instantText, secondText, ZoneClock } from "../../model/instants.ts";
import type { ProblemText } from "../problems/card/problem.ts";
import {
  timeImpossible,
  timeSkipped,
  timeTwice,
  timeUnreadable,
  timeWithoutZone,
} from "../problems/pass-log.ts";
import { yearFirst } from "./date-order.ts";

/** An instant as people wrote it down. */
export interface Instant {
  /** Microseconds since 1970. */
  epochUs: number;
  /** ISO 8601 in UTC, with as many decimals of the second as it takes: none, 3 or 6. */
  utc: string;
  /** The clock on the facility's wall, YYYY-MM-DD HH:MM:SS. */
  local: string;
}

/** What a clock shows: whole seconds as if they were UTC and as text, and the microseconds on top of them. */
interface WallTime {
  wallMs: number;
  micros: number;
  /** YYYY-MM-DD HH:MM:SS. */
  written: string;
}

const shape =
  /^(\d{4})-(\d{2})-(\d{2})[T ](\d{2}):(\d{2})(?::(\d{2})(?:[.,](\d{1,9}))?)?(?: ?(Z|[-+]\d{2}:?\d{2}))?$/i;
const dayMs = 86_400_000;
const mostRemembered = 200_000;

/**
 * Reads times as people write them: RFC 3339 with offset, or a date and a clock of the facility's zone. Remembers them,
 * since a whole pass carries the same two.
 */
export class Times {
  readonly #clock: ZoneClock | null;
  readonly #known = new Map<string, Instant | ProblemText>();

  constructor(zone: string | null) {
    this.#clock = zone === null ? null : new ZoneClock(zone);
  }

  read(text: string): Instant | ProblemText {
    let time = this.#known.get(text);
    if (time === undefined) {
      time = this.#parse(text);
      if (this.#known.size >= mostRemembered) this.#known.clear();
      this.#known.set(text, time);
    }
    return time;
  }

  #parse(text: string): Instant | ProblemText {
    const parts = shape.exec(text);
    if (parts === null) return timeUnreadable.with({ text, yearFirst: yearFirst(text) });
    const [, year, month, day, hour, minute, second = "00", fraction = "", offset] = parts;
    const wallMs = Date.UTC(
      Number(year),
      Number(month) - 1,
      Number(day),
      Number(hour),
      Number(minute),
      Number(second),
    );
    const written = `${year}-${month}-${day} ${hour}:${minute}:${second}`;
    // The calendar has rolled over a day, hour or minute that does not exist.
    if (Number(year) < 100 || wallText(wallMs) !== written) return timeImpossible.with();
    const micros = Number(fraction.padEnd(6, "0").slice(0, 6));
    if (offset !== undefined) return this.#atOffset({ wallMs, micros, offset, written });
    if (this.#clock === null) return timeWithoutZone.with({ stamp: written.replace(" ", "T") });
    return atWall({ wallMs, micros, written }, this.#clock);
  }

  #atOffset({ wallMs, micros, offset, written }: WallTime & { offset: string }): Instant | ProblemText {
    const offsetMs = offsetOf(offset);
    if (Number.isNaN(offsetMs)) return timeImpossible.offset();
    const epochMs = wallMs - offsetMs;
    const local = this.#clock === null ? written : this.#clock.textAt(epochMs * 1000);
    return { ...instantOf(epochMs, micros), local };
  }
}

function atWall({ wallMs, micros, written }: WallTime, clock: ZoneClock): Instant | ProblemText {
  const { from, to, offsetMs } = clock.stretchAt(wallMs);
  const guessed = wallMs - offsetMs;
  // A day away from any change of the clocks there is only one way to read a clock.
  if (guessed - from > dayMs && to - guessed > dayMs)
    return { ...instantOf(guessed, micros), local: written };
  const { zone } = clock;
  const stamp = written.replace(" ", "T");
  const wall = Temporal.PlainDateTime.from(stamp);
  const earlier = wall.toZonedDateTime(zone, { disambiguation: "earlier" });
  const later = wall.toZonedDateTime(zone, { disambiguation: "later" });
  if (earlier.epochMilliseconds === later.epochMilliseconds)
    return { ...instantOf(earlier.epochMilliseconds, micros), local: written };
  const change = { zone, before: `${stamp}${earlier.offset}`, after: `${stamp}${later.offset}` };
  return earlier.toPlainDateTime().equals(wall) ? timeTwice.with(change) : timeSkipped.with(change);
}

function offsetOf(offset: string): number {
  if (/^z$/i.test(offset)) return 0;
  const hours = Number(offset.slice(1, 3));
  const minutes = Number(offset.slice(-2));
  if (hours > 14 || minutes > 59) return Number.NaN;
  return (offset.startsWith("-") ? -1 : 1) * (hours * 60 + minutes) * 60_000;
}

/** @param secondMs the start of a second; @param micros what comes on top of it */
function instantOf(secondMs: number, micros: number): Omit<Instant, "local"> {
  const epochUs = secondMs * 1000 + micros;
  return { epochUs, utc: instantText(epochUs) };
}

/** Blank where there is no such time. */
function wallText(wallMs: number): string {
  return Number.isNaN(wallMs) ? "" : secondText(wallMs, " ");
}

/** An instant that is written in UTC, as systems write it: a million of them take no reading of clocks. Null for any other text. */
export function utcTime(text: string): { epochUs: number } | null {
  const { length } = text;
  if ((length !== 20 && length !== 24 && length !== 27) || !hasUtcMarks(text)) return null;
  const year = numberIn(text, 0, 4);
  const month = numberIn(text, 5, 7);
  const day = numberIn(text, 8, 10);
  const hour = numberIn(text, 11, 13);
  const minute = numberIn(text, 14, 16);
  const second = numberIn(text, 17, 19);
  const decimals = length === 20 ? 0 : numberIn(text, 20, length - 1);
  // What the calendar does not have, such as 30 February, is left to those who say why; so are hours beyond the day's.
  const isPlain =
    year >= 100 &&
    month >= 1 &&
    month <= 12 &&
    day >= 1 &&
    day <= 28 &&
    hour <= 23 &&
    minute <= 59 &&
    second <= 59;
  if (!isPlain || Number.isNaN(decimals)) return null;
  const micros = length === 24 ? decimals * 1000 : decimals;
  return { epochUs: Date.UTC(year, month - 1, day, hour, minute, second) * 1000 + micros };
}

const [hyphen, colon, point, letterT, letterZ] = [..."-:.TZ"].map((mark) => mark.charCodeAt(0));

function hasUtcMarks(text: string): boolean {
  return (
    text.charCodeAt(4) === hyphen &&
    text.charCodeAt(7) === hyphen &&
    text.charCodeAt(10) === letterT &&
    text.charCodeAt(13) === colon &&
    text.charCodeAt(16) === colon &&
    (text.length === 20 || text.charCodeAt(19) === point) &&
    text.charCodeAt(text.length - 1) === letterZ
  );
}

/** The digits of a text from one place up to, and without, another; NaN where any is none. */
function numberIn(text: string, from: number, to: number): number {
  let number = 0;
  for (let at = from; at < to; at += 1) {
    const digit = text.charCodeAt(at) - 48;
    if (digit < 0 || digit > 9) return Number.NaN;
    number = 10 * number + digit;
  }
  return number;
}
