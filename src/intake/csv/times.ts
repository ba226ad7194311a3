import { Temporal } from "temporal-polyfill";
import {
  timeImpossible,
  timeSkipped,
  timeTwice,
  timeUnreadable,
  timeWithoutZone,
} from "../problems/pass-log.ts";
import type { ProblemText } from "../problems/problem.ts";

/** An instant as people wrote it down. */
export interface WrittenTime {
  epochMs: number;
  /** ISO 8601 in UTC. */
  utc: string;
  /** The clock on the facility's wall, YYYY-MM-DD HH:MM:SS. */
  local: string;
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
  readonly #zone: string | null;
  readonly #known = new Map<string, WrittenTime | ProblemText>();
  /** A stretch of time in which the zone keeps one offset. */
  #stretch = { from: 0, to: 0, offsetMs: 0 };

  constructor(zone: string | null) {
    this.#zone = zone;
  }

  read(text: string): WrittenTime | ProblemText {
    let time = this.#known.get(text);
    if (time === undefined) {
      time = this.#parse(text);
      if (this.#known.size >= mostRemembered) this.#known.clear();
      this.#known.set(text, time);
    }
    return time;
  }

  #parse(text: string): WrittenTime | ProblemText {
    const parts = shape.exec(text);
    if (parts === null) return timeUnreadable.with({ text });
    const [, year, month, day, hour, minute, second = "00", fraction = "", offset] = parts;
    const wallMs = Date.UTC(
      Number(year),
      Number(month) - 1,
      Number(day),
      Number(hour),
      Number(minute),
      Number(second),
      Math.floor(Number(`0.${fraction || "0"}`) * 1000),
    );
    const written = `${year}-${month}-${day} ${hour}:${minute}:${second}`;
    // The calendar has rolled over a day, hour or minute that does not exist.
    if (Number(year) < 100 || wallText(wallMs) !== written) return timeImpossible.with();
    if (offset !== undefined) return this.#atOffset(wallMs, offset, written);
    if (this.#zone === null) return timeWithoutZone.with({ stamp: written.replace(" ", "T") });
    return this.#atWall(wallMs, written, this.#zone);
  }

  #atOffset(wallMs: number, offset: string, written: string): WrittenTime | ProblemText {
    const offsetMs = offsetOf(offset);
    if (Number.isNaN(offsetMs)) return timeImpossible.offset();
    const epochMs = wallMs - offsetMs;
    const local = this.#zone === null ? written : wallText(epochMs + this.#offsetAt(epochMs, this.#zone));
    return { epochMs, utc: utcText(epochMs), local };
  }

  #atWall(wallMs: number, written: string, zone: string): WrittenTime | ProblemText {
    const guessed = wallMs - this.#offsetAt(wallMs, zone);
    const { from, to } = this.#stretch;
    // A day away from any change of the clocks there is only one way to read a clock.
    if (guessed - from > dayMs && to - guessed > dayMs)
      return { epochMs: guessed, utc: utcText(guessed), local: written };
    const stamp = written.replace(" ", "T");
    const wall = Temporal.PlainDateTime.from(stamp);
    const earlier = wall.toZonedDateTime(zone, { disambiguation: "earlier" });
    const later = wall.toZonedDateTime(zone, { disambiguation: "later" });
    if (earlier.epochMilliseconds === later.epochMilliseconds) {
      const epochMs = earlier.epochMilliseconds + (((wallMs % 1000) + 1000) % 1000);
      return { epochMs, utc: utcText(epochMs), local: written };
    }
    const change = { zone, before: `${stamp}${earlier.offset}`, after: `${stamp}${later.offset}` };
    return earlier.toPlainDateTime().equals(wall) ? timeTwice.with(change) : timeSkipped.with(change);
  }

  #offsetAt(epochMs: number, zone: string): number {
    if (epochMs >= this.#stretch.from && epochMs < this.#stretch.to) return this.#stretch.offsetMs;
    const zoned = (ms: number) => Temporal.Instant.fromEpochMilliseconds(ms).toZonedDateTimeISO(zone);
    const there = zoned(epochMs);
    this.#stretch = {
      // The transition before the next millisecond may be this very instant.
      from:
        zoned(epochMs + 1).getTimeZoneTransition("previous")?.epochMilliseconds ?? Number.NEGATIVE_INFINITY,
      to: there.getTimeZoneTransition("next")?.epochMilliseconds ?? Number.POSITIVE_INFINITY,
      offsetMs: there.offsetNanoseconds / 1e6,
    };
    return this.#stretch.offsetMs;
  }
}

function offsetOf(offset: string): number {
  if (/^z$/i.test(offset)) return 0;
  const hours = Number(offset.slice(1, 3));
  const minutes = Number(offset.slice(-2));
  if (hours > 14 || minutes > 59) return Number.NaN;
  return (offset.startsWith("-") ? -1 : 1) * (hours * 60 + minutes) * 60_000;
}

function utcText(epochMs: number): string {
  return new Date(epochMs).toISOString().replace(".000Z", "Z");
}

function wallText(wallMs: number): string {
  const date = new Date(wallMs);
  return Number.isNaN(date.getTime()) ? "" : date.toISOString().slice(0, 19).replace("T", " ");
}
