import { isClock, timeFormatsOf, writtenTime, zoneUs } from "./time-formats.ts";

/** How a log writes its times. */
export interface TimeStyle {
  unit: "iso" | "s" | "ms" | "us" | "ns";
  /** strftime pattern where text is not ISO 8601; null otherwise. */
  format: string | null;
}

/** A time in microseconds since 1970, and whether the text said where on earth. */
export interface ReadTime {
  us: number;
  offset: boolean;
}

const iso =
  /^(\d{4})-(\d\d)-(\d\d)[T t](\d\d):(\d\d)(?::(\d\d)(?:[.,](\d{1,9}))?)?\s?(Z|z|[+-]\d\d(?::?\d\d)?)?$/;

/** Units by the size of a count since 1970 that lies in this century. */
const magnitudes = [
  { unit: "s", perUs: 1e6 },
  { unit: "ms", perUs: 1e3 },
  { unit: "us", perUs: 1 },
  { unit: "ns", perUs: 1e-3 },
] as const;

/** Counts of 100 ns since another year than 1970, for times in this century. */
const spansSince = [
  { year: 1, from: 630_822_816e9, to: 662_380_416e9 },
  { year: 1601, from: 125_911_584e9, to: 157_469_184e9 },
] as const;

/** 2000 and 2100, in microseconds since 1970. */
const centuryUs = [946_684_800e6, 4_102_444_800e6] as const;

export type TimeGuess =
  | { kind: "style"; style: TimeStyle; also: TimeStyle | null }
  | { kind: "unusable"; why: string }
  | { kind: "none" };

/** Of the values, how many must fit: short logs may have several broken rows. */
const mostly = 0.7;

/** How the times of a column are written, judged by a handful of them; `decimal` is the log's mark. */
export function timeStyleOf(values: readonly string[], decimal: "." | ","): TimeGuess {
  const filled = values.filter((value) => value !== "");
  if (filled.length === 0) return { kind: "none" };
  const most = (test: (value: string) => boolean) => filled.filter(test).length >= mostly * filled.length;
  for (const { unit } of magnitudes) {
    const style: TimeStyle = { unit, format: null };
    if (most((value) => inCentury(timeOf(value, style, decimal))))
      return { kind: "style", style, also: null };
  }
  const words: TimeStyle = { unit: "iso", format: null };
  if (most((value) => timeOf(value, words, decimal) !== null))
    return { kind: "style", style: words, also: null };
  const formats = new Set<string>();
  // The first may be a broken one.
  for (const value of filled.slice(0, 10)) for (const format of timeFormatsOf(value)) formats.add(format);
  const fitting = [...formats]
    .map((format): TimeStyle => ({ unit: "iso", format }))
    .map((style) => ({
      style,
      fits: filled.filter((value) => timeOf(value, style, decimal) !== null).length,
    }))
    .filter(({ fits }) => fits >= mostly * filled.length)
    .sort((one, other) => other.fits - one.fits);
  const [best, second] = fitting;
  if (best !== undefined) {
    return { kind: "style", style: best.style, also: second?.fits === best.fits ? second.style : null };
  }
  if (most(isClock)) {
    return {
      kind: "unusable",
      why: "times of day without a date cannot be placed; have the log write the date too",
    };
  }
  const since = spansSince.find(({ from, to }) =>
    most((value) => /^\d{18}$/.test(value) && Number(value) >= from && Number(value) < to),
  );
  if (since !== undefined) {
    return {
      kind: "unusable",
      why: `counts of 100 ns since the year ${since.year}, which facility.yaml cannot say; have the log write ISO 8601, or a count since 1970`,
    };
  }
  if (most((value) => /^(3|4|5)\d{4}[.,]\d{3,}$/.test(value))) {
    return { kind: "unusable", why: "a spreadsheet's day numbers; export date and time as text" };
  }
  return { kind: "none" };
}

/** The time a text states, or null where it states none in this style. */
export function timeOf(text: string, style: TimeStyle, decimal: "." | ","): ReadTime | null {
  if (style.unit !== "iso") {
    const number = plainNumber(text, decimal);
    return Number.isNaN(number)
      ? null
      : { us: number * magnitudes.find(({ unit }) => unit === style.unit)!.perUs, offset: true };
  }
  return style.format === null ? isoTime(text) : formattedTime(text, style.format);
}

/** A number without an exponent; NaN for anything else. */
export function plainNumber(text: string, decimal: "." | ","): number {
  const whole = wholeNumber(text);
  if (whole !== null) return whole;
  if (!/^[-+]?(?:\d+(?:[.,]\d*)?|[.,]\d+)$/.test(text)) return Number.NaN;
  const other = decimal === "," ? "." : ",";
  if (text.includes(other)) return Number.NaN;
  return Number(decimal === "," ? text.replace(",", ".") : text);
}

/** The quick way for what nearly all numbers of a log are: digits, perhaps behind a minus. */
function wholeNumber(text: string): number | null {
  const start = text.charCodeAt(0) === 0x2d ? 1 : 0;
  if (text.length === start || text.length > 16 + start) return null;
  let number = 0;
  for (let i = start; i < text.length; i += 1) {
    const digit = text.charCodeAt(i) - 0x30;
    if (digit < 0 || digit > 9) return null;
    number = number * 10 + digit;
  }
  if (number > Number.MAX_SAFE_INTEGER) return null;
  return start === 1 ? 0 - number : number;
}

function inCentury(time: ReadTime | null): boolean {
  return time !== null && time.us >= centuryUs[0] && time.us < centuryUs[1];
}

function isoTime(text: string): ReadTime | null {
  const match = iso.exec(text);
  if (match === null) return null;
  const [, year, month, day, hour, minute, second, fraction, zone] = match;
  const us = civilUs(
    Number(year),
    Number(month),
    Number(day),
    Number(hour),
    Number(minute),
    Number(second ?? 0),
    fraction ?? "",
  );
  if (us === null) return null;
  return {
    us: us - (zone === undefined || /^z$/i.test(zone) ? 0 : zoneUs(zone)),
    offset: zone !== undefined,
  };
}

function civilUs(
  year: number,
  month: number,
  day: number,
  hour: number,
  minute: number,
  second: number,
  fraction: string,
): number | null {
  if (month < 1 || month > 12 || day < 1 || hour > 23 || minute > 59 || second > 60) return null;
  const ms = Date.UTC(year, month - 1, day, hour, minute, second);
  // The 31st of a month of 30 days would pass for the first of the next.
  if (second < 60 && new Date(ms).getUTCDate() !== day) return null;
  return ms * 1000 + Number(fraction.slice(0, 6).padEnd(6, "0"));
}

function formattedTime(text: string, format: string): ReadTime | null {
  const time = writtenTime(text, format);
  if (time === null) return null;
  const { year, month, day, hour, minute, second, fraction, offsetUs } = time;
  const us = civilUs(year, month, day, hour, minute, second, fraction);
  return us === null ? null : { us: us - (offsetUs ?? 0), offset: offsetUs !== null };
}
