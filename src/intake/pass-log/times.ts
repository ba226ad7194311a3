import { Temporal } from "temporal-polyfill";

export interface LogTime {
  epochMs: number;
  /** ISO 8601 in UTC. */
  utc: string;
  /** The clock on the facility's wall, YYYY-MM-DD HH:MM:SS. */
  local: string;
}

export interface TimeFault {
  code: string;
  expected: string;
  advice: string;
}

const shape =
  /^(\d{4})-(\d{2})-(\d{2})[T ](\d{2}):(\d{2})(?::(\d{2})(?:[.,](\d{1,9}))?)?(?: ?(Z|[-+]\d{2}:?\d{2}))?$/i;
const dayMs = 86_400_000;
const mostRemembered = 200_000;

/** Reads the times of pass logs; remembers them, since a whole pass carries the same two. */
export class Times {
  readonly #zone: string | null;
  readonly #known = new Map<string, LogTime | TimeFault>();
  /** A stretch of time in which the zone keeps one offset. */
  #stretch = { from: 0, to: 0, offsetMs: 0 };

  constructor(zone: string | null) {
    this.#zone = zone;
  }

  read(text: string): LogTime | TimeFault {
    let time = this.#known.get(text);
    if (time === undefined) {
      time = this.#parse(text);
      if (this.#known.size >= mostRemembered) this.#known.clear();
      this.#known.set(text, time);
    }
    return time;
  }

  #parse(text: string): LogTime | TimeFault {
    const parts = shape.exec(text);
    if (parts === null) return notATime(text);
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
    if (Number(year) < 100 || wallText(wallMs) !== written) {
      return {
        code: "time-impossible",
        expected: "a day of the calendar and a time from 00:00:00 to 23:59:59",
        advice: "Correct the date or the time.",
      };
    }
    if (offset !== undefined) return this.#atOffset(wallMs, offset, written);
    if (this.#zone === null) {
      return {
        code: "time-without-zone",
        expected: "a time with its offset, or a facility with a time_zone",
        advice: `Write the offset, ${written.replace(" ", "T")}+01:00 say, or state time_zone in facility.yaml.`,
      };
    }
    return this.#atWall(wallMs, written, this.#zone);
  }

  #atOffset(wallMs: number, offset: string, written: string): LogTime | TimeFault {
    const offsetMs = offsetOf(offset);
    if (Number.isNaN(offsetMs)) {
      return {
        code: "time-impossible",
        expected: "an offset from -14:00 to +14:00",
        advice: "Correct the offset: it is the hours and minutes that the clock is ahead of UTC.",
      };
    }
    const epochMs = wallMs - offsetMs;
    const local = this.#zone === null ? written : wallText(epochMs + this.#offsetAt(epochMs, this.#zone));
    return { epochMs, utc: utcText(epochMs), local };
  }

  #atWall(wallMs: number, written: string, zone: string): LogTime | TimeFault {
    const guessed = wallMs - this.#offsetAt(wallMs, zone);
    const { from, to } = this.#stretch;
    // A day away from any change of the clocks there is only one way to read a clock.
    if (guessed - from > dayMs && to - guessed > dayMs)
      return { epochMs: guessed, utc: utcText(guessed), local: written };
    const wall = Temporal.PlainDateTime.from(written.replace(" ", "T"));
    const earlier = wall.toZonedDateTime(zone, { disambiguation: "earlier" });
    const later = wall.toZonedDateTime(zone, { disambiguation: "later" });
    if (earlier.epochMilliseconds === later.epochMilliseconds) {
      const epochMs = earlier.epochMilliseconds + (((wallMs % 1000) + 1000) % 1000);
      return { epochMs, utc: utcText(epochMs), local: written };
    }
    const stamp = written.replace(" ", "T");
    if (earlier.toPlainDateTime().equals(wall)) {
      return {
        code: "time-twice",
        expected: `a time that ${zone} has once`,
        advice: `The clocks were put back and this hour came twice: write ${stamp}${earlier.offset} for the first, ${stamp}${later.offset} for the second.`,
      };
    }
    return {
      code: "time-skipped",
      expected: `a time that ${zone} has`,
      advice: `The clocks were put forward and skipped this hour: correct the time, or write its offset, ${stamp}${earlier.offset} or ${stamp}${later.offset}.`,
    };
  }

  #offsetAt(epochMs: number, zone: string): number {
    if (epochMs >= this.#stretch.from && epochMs < this.#stretch.to) return this.#stretch.offsetMs;
    const there = Temporal.Instant.fromEpochMilliseconds(epochMs).toZonedDateTimeISO(zone);
    this.#stretch = {
      from: there.getTimeZoneTransition("previous")?.epochMilliseconds ?? Number.NEGATIVE_INFINITY,
      to: there.getTimeZoneTransition("next")?.epochMilliseconds ?? Number.POSITIVE_INFINITY,
      offsetMs: there.offsetNanoseconds / 1e6,
    };
    // A transition at this very instant is the start of its stretch, and "previous" names the one before.
    if (this.#offsetChangedAt(epochMs, zone)) this.#stretch.from = epochMs;
    return this.#stretch.offsetMs;
  }

  #offsetChangedAt(epochMs: number, zone: string): boolean {
    const before = Temporal.Instant.fromEpochMilliseconds(epochMs - 1).toZonedDateTimeISO(zone);
    return before.offsetNanoseconds / 1e6 !== this.#stretch.offsetMs;
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

function notATime(text: string): TimeFault {
  const slashes = /^\d{1,2}[./]\d{1,2}[./]\d{2,4}/.test(text);
  const clock = /^\d{1,2}:\d{2}/.test(text);
  return {
    code: "time-unreadable",
    expected: "YYYY-MM-DD HH:MM:SS, or with offset YYYY-MM-DDTHH:MM:SS+01:00",
    advice: slashes
      ? "Day and month can be mistaken for each other here: write the year first, 2026-05-21 10:00:00 say."
      : clock
        ? "Write the day as well, 2026-05-21 10:00:00 say."
        : "Write, for instance, 2026-05-21 10:00:00. In a spreadsheet, format the column as text first.",
  };
}
