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

const months = "jan feb mar apr may jun jul aug sep oct nov dec".split(" ");

/** Dates that are not ISO 8601; where two patterns look alike, both are tried. */
const dateForms = [
  { test: /^\d{4}\/\d{1,2}\/\d{1,2}/, date: "%Y/%m/%d" },
  { test: /^\d{4}\.\d{1,2}\.\d{1,2}/, date: "%Y.%m.%d" },
  { test: /^\d{4}-\d{1,2}-\d{1,2}/, date: "%Y-%m-%d" },
  { test: /^\d{1,2}\.\d{1,2}\.\d{4}/, date: "%d.%m.%Y" },
  { test: /^\d{1,2}\/\d{1,2}\/\d{4}/, date: "%d/%m/%Y" },
  { test: /^\d{1,2}\/\d{1,2}\/\d{4}/, date: "%m/%d/%Y" },
  { test: /^\d{1,2}-\d{1,2}-\d{4}/, date: "%d-%m-%Y" },
  { test: /^\d{1,2}-\d{1,2}-\d{4}/, date: "%m-%d-%Y" },
  { test: /^\d{1,2} [A-Za-z]{3} \d{4}/, date: "%d %b %Y" },
  { test: /^[A-Za-z]{3} \d{1,2} \d{4}/, date: "%b %d %Y" },
  { test: /^\d{1,2}-[A-Za-z]{3}-\d{4}/, date: "%d-%b-%Y" },
] as const;

const clockOf = /^(\d{1,2}):(\d\d)(?::(\d\d)(?:([.,])(\d{1,9}))?)?(?:\s?(AM|PM|am|pm))?$/;

/** Units by the size of a count since 1970 that lies in this century. */
const magnitudes = [
  { unit: "s", perUs: 1e6 },
  { unit: "ms", perUs: 1e3 },
  { unit: "us", perUs: 1 },
  { unit: "ns", perUs: 1e-3 },
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
  for (const value of filled.slice(0, 10)) for (const format of formatsOf(value)) formats.add(format);
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
  if (most((value) => clockOf.test(value))) {
    return {
      kind: "unusable",
      why: "times of day without a date cannot be placed; have the log write the date too",
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
  return { us: us - offsetUs(zone), offset: zone !== undefined };
}

function offsetUs(zone: string | undefined): number {
  if (zone === undefined || /^z$/i.test(zone)) return 0;
  const digits = zone.slice(1).replace(":", "");
  const minutes = Number(digits.slice(0, 2)) * 60 + Number(digits.slice(2) || 0);
  return (zone.startsWith("-") ? -1 : 1) * minutes * 60e6;
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

/** Whether texts of a pattern name UTC in words, which ISO 8601 does not know. */
export function endsInUtc(format: string): boolean {
  return / (?:UTC|GMT)$/.test(format);
}

/** The patterns that a text could follow. */
function formatsOf(text: string): string[] {
  const utc = / (?:UTC|GMT)$/.exec(text)?.[0];
  if (utc !== undefined) return formatsOf(text.slice(0, -utc.length)).map((format) => `${format}${utc}`);
  const compact = /^(?:19|20)\d\d(?:0[1-9]|1[0-2])(?:[0-2]\d|3[01])([T ]?)[0-2]\d[0-5]\d[0-5]\d$/.exec(text);
  // 20260521080000: fourteen digits that are a date and a time.
  if (compact !== null) return [`%Y%m%d${compact[1]}%H%M%S`];
  const formats: string[] = [];
  for (const form of dateForms) {
    const date = form.test.exec(text)?.[0];
    if (date === undefined) continue;
    const between = /^(?:, |[ T,])/.exec(text.slice(date.length))?.[0];
    if (between === undefined) continue;
    const clock = clockOf.exec(text.slice(date.length + between.length));
    if (clock === null) continue;
    const [, , , second, mark, , half] = clock;
    const spaced = /\s[AaPp][Mm]$/.test(text) ? " " : "";
    const hour = half === undefined ? "%H:%M" : "%I:%M";
    const seconds = second === undefined ? "" : `:%S${mark === undefined ? "" : `${mark}%f`}`;
    formats.push(`${form.date}${between}${hour}${seconds}${half === undefined ? "" : `${spaced}%p`}`);
  }
  return formats;
}

const compiled = new Map<string, RegExp>();

const letters: Record<string, string> = {
  Y: "(?<Y>\\d{4})",
  m: "(?<m>\\d{1,2})",
  d: "(?<d>\\d{1,2})",
  b: "(?<b>[A-Za-z]{3})",
  H: "(?<H>\\d{1,2})",
  I: "(?<H>\\d{1,2})",
  M: "(?<M>\\d\\d)",
  S: "(?<S>\\d\\d)",
  f: "(?<f>\\d{1,9})",
  p: "(?<p>[AaPp][Mm])",
};

function formattedTime(text: string, format: string): ReadTime | null {
  let pattern = compiled.get(format);
  if (pattern === undefined) {
    const fixed = /%Y%m%d/.test(format);
    const source = format.replace(/%([A-Za-z])|[.\\/]/g, (mark, letter: string | undefined) =>
      letter === undefined
        ? `\\${mark}`
        : fixed
          ? letters[letter]!.replace("{1,2}", "{2}")
          : letters[letter]!,
    );
    pattern = new RegExp(`^${source}$`);
    compiled.set(format, pattern);
  }
  const part = pattern.exec(text)?.groups;
  if (part === undefined) return null;
  const month = part.b === undefined ? Number(part.m) : months.indexOf(part.b.toLowerCase()) + 1;
  let hour = Number(part.H);
  if (part.p !== undefined) {
    if (hour < 1 || hour > 12) return null;
    hour = (hour % 12) + (/^p/i.test(part.p) ? 12 : 0);
  }
  const us = civilUs(
    Number(part.Y),
    month,
    Number(part.d),
    hour,
    Number(part.M),
    Number(part.S ?? 0),
    part.f ?? "",
  );
  return us === null ? null : { us, offset: endsInUtc(format) };
}
