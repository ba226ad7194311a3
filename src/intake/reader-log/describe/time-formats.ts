/** The parts of a date and time in words, as its text gave them. */
interface WrittenTime {
  year: number;
  month: number;
  day: number;
  hour: number;
  minute: number;
  second: number;
  /** Digits behind the second's mark. */
  fraction: string;
  /** Microseconds ahead of UTC; null where the text says nothing. */
  offsetUs: number | null;
}

/** Dates that are not ISO 8601; where two patterns look alike, both are tried. */
const dateForms = [
  { test: /^\d{4}\/\d{1,2}\/\d{1,2}(?!\d)/, date: "%Y/%m/%d" },
  { test: /^\d{4}\.\d{1,2}\.\d{1,2}(?!\d)/, date: "%Y.%m.%d" },
  { test: /^\d{4}-\d{1,2}-\d{1,2}(?!\d)/, date: "%Y-%m-%d" },
  { test: /^\d{1,2}\.\d{1,2}\.\d{4}/, date: "%d.%m.%Y" },
  { test: /^\d{1,2}\/\d{1,2}\/\d{4}/, date: "%d/%m/%Y" },
  { test: /^\d{1,2}\/\d{1,2}\/\d{4}/, date: "%m/%d/%Y" },
  { test: /^\d{1,2}-\d{1,2}-\d{4}/, date: "%d-%m-%Y" },
  { test: /^\d{1,2}-\d{1,2}-\d{4}/, date: "%m-%d-%Y" },
  { test: /^\d{1,2}\.\d{1,2}\.\d\d(?!\d)/, date: "%d.%m.%y" },
  { test: /^\d{1,2}\/\d{1,2}\/\d\d(?!\d)/, date: "%d/%m/%y" },
  { test: /^\d{1,2}\/\d{1,2}\/\d\d(?!\d)/, date: "%m/%d/%y" },
  { test: /^\d\d\/\d\d\/\d\d(?!\d)/, date: "%y/%m/%d" },
  { test: /^\d\d-\d\d-\d\d(?!\d)/, date: "%y-%m-%d" },
  { test: /^\d\d-\d\d-\d\d(?!\d)/, date: "%d-%m-%y" },
  { test: /^\d{1,2} [A-Za-z]{3} \d{4}/, date: "%d %b %Y" },
  { test: /^\d{1,2} [A-Za-z]{4,} \d{4}/, date: "%d %B %Y" },
  { test: /^[A-Za-z]{3} +\d{1,2} \d{4}/, date: "%b %d %Y" },
  { test: /^[A-Za-z]{3} +\d{1,2}, \d{4}/, date: "%b %d, %Y" },
  { test: /^[A-Za-z]{4,} +\d{1,2}, \d{4}/, date: "%B %d, %Y" },
  { test: /^\d{1,2}-[A-Za-z]{3}-\d{4}/, date: "%d-%b-%Y" },
  { test: /^\d{1,2}-[A-Za-z]{3}-\d\d(?!\d)/, date: "%d-%b-%y" },
] as const;

const clockOf =
  /^\d{1,2}(?<part>[:.-])\d\d(?:\k<part>\d\d(?:(?<mark>[.,:])(?<digits>\d{1,9}))?(?<seconds>)|(?<short>))(?<half> ?[AaPp][Mm])?$/;

/** The patterns, in strftime's letters, that a text could follow. */
export function timeFormatsOf(text: string): string[] {
  const tail = /(?<=\d| [AaPp][Mm])(?: (?:UTC|GMT)|Z| ?[+-]\d\d:?\d\d)$/.exec(text)?.[0];
  if (tail !== undefined && text.includes(":")) {
    const zone = tail.replace(/[+-]\d\d:?\d\d$/, "%z");
    const inner = timeFormatsOf(text.slice(0, -tail.length)).map((format) => format + zone);
    if (inner.length > 0) return inner;
  } else if (tail === "Z") return timeFormatsOf(text.slice(0, -1)).map((format) => `${format}Z`);
  const weekday = /^[A-Za-z]{3}(,?) +/.exec(text);
  if (weekday !== null && /^[A-Za-z\d]/.test(text.slice(weekday[0].length))) {
    const inner = formatsOf(text.slice(weekday[0].length)).map((format) => `%a${weekday[1]} ${format}`);
    if (inner.length > 0) return inner;
  }
  return formatsOf(text);
}

function formatsOf(text: string): string[] {
  const compact =
    /^(?:19|20)\d\d(?:0[1-9]|1[0-2])(?:[0-2]\d|3[01])([T _-]?)[0-2]\d[0-5]\d[0-5]\d(?:([.,])(\d{1,9})|(\d{3}|\d{6}))?$/.exec(
      text,
    );
  // 20260521080000: fourteen digits that are a date and a time.
  if (compact !== null) {
    const [, between, mark, digits, bare] = compact;
    const fraction = mark === undefined ? (bare === undefined ? "" : "%f") : `${mark}${fractionOf(digits!)}`;
    return [`%Y%m%d${between}%H%M%S${fraction}`];
  }
  // May 21 08:00:00 2026: the year behind the clock.
  if (/^[A-Za-z]{3} +\d{1,2} \d\d:\d\d:\d\d \d{4}$/.test(text)) return ["%b %d %H:%M:%S %Y"];
  const formats: string[] = [];
  for (const { test, date } of dateForms) {
    const length = test.exec(text)?.[0].length;
    if (length === undefined) continue;
    const between = /^(?:, | +|[T,_-])/.exec(text.slice(length))?.[0];
    if (between === undefined) continue;
    const clock = clockOf.exec(text.slice(length + between.length))?.groups;
    if (clock === undefined) continue;
    const { part, mark, digits, half, short } = clock;
    const hour = half === undefined ? "%H" : "%I";
    const seconds =
      short !== undefined ? "" : `${part}%S${mark === undefined ? "" : mark + fractionOf(digits!)}`;
    const halves = half === undefined ? "" : half.startsWith(" ") ? " %p" : "%p";
    formats.push(`${date}${between.replace(/ +/, " ")}${hour}${part}%M${seconds}${halves}`);
  }
  return formats;
}

/** %f holds up to six digits, %n up to nine. */
function fractionOf(digits: string): string {
  return digits.length > 6 ? "%n" : "%f";
}

/** Whether texts of a pattern name UTC, in letters that ISO 8601 does not know or in no form of it. */
export function endsInUtc(format: string): boolean {
  return /(?: UTC| GMT|[^%]Z)$/.test(format);
}

/** Whether a text is a time of day and nothing else. */
export function isClock(text: string): boolean {
  return text.includes(":") && clockOf.test(text);
}

/** Whether a text is a date and nothing else. */
export function isDate(text: string): boolean {
  return (
    dateForms.some(({ test }) => test.exec(text)?.[0].length === text.length) ||
    /^20\d\d(?:0[1-9]|1[0-2])(?:0[1-9]|[12]\d|3[01])$/.test(text)
  );
}

const months = "jan feb mar apr may jun jul aug sep oct nov dec".split(" ");
const longMonths =
  "january february march april may june july august september october november december".split(" ");

const letters: Record<string, string> = {
  Y: "(?<Y>\\d{4})",
  y: "(?<y>\\d\\d)",
  m: "(?<m>\\d{1,2})",
  d: "(?<d>\\d{1,2})",
  b: "(?<b>[A-Za-z]{3})",
  B: "(?<B>[A-Za-z]{3,})",
  a: "[A-Za-z]{3}",
  H: "(?<H>\\d{1,2})",
  I: "(?<H>\\d{1,2})",
  M: "(?<M>\\d\\d)",
  S: "(?<S>\\d\\d)",
  f: "(?<f>\\d{1,6})",
  n: "(?<f>\\d{1,9})",
  p: "(?<p>[AaPp][Mm])",
  z: "(?<z>[+-]\\d\\d:?\\d\\d)",
};

const compiled = new Map<string, RegExp>();

function patternOf(format: string): RegExp {
  let pattern = compiled.get(format);
  if (pattern === undefined) {
    const fixed = format.startsWith("%Y%m%d");
    const source = format.replace(/%([A-Za-z])|[.\\/+]| /g, (mark, letter: string | undefined) => {
      if (mark === " ") return " +";
      if (letter === undefined) return `\\${mark}`;
      return fixed ? letters[letter]!.replace("{1,2}", "{2}") : letters[letter]!;
    });
    pattern = new RegExp(`^${source}$`);
    compiled.set(format, pattern);
  }
  return pattern;
}

/** The parts that a text of a pattern states; null where it does not follow the pattern. */
export function writtenTime(text: string, format: string): WrittenTime | null {
  const part = patternOf(format).exec(text)?.groups;
  if (part === undefined) return null;
  const month =
    part.b !== undefined
      ? months.indexOf(part.b.toLowerCase()) + 1
      : part.B !== undefined
        ? longMonths.indexOf(part.B.toLowerCase()) + 1
        : Number(part.m);
  let hour = Number(part.H);
  if (part.p !== undefined) {
    if (hour < 1 || hour > 12) return null;
    hour = (hour % 12) + (/^p/i.test(part.p) ? 12 : 0);
  }
  return {
    // Two digits of a year as strptime takes them: 69 to 99 are of the last century.
    year: part.Y !== undefined ? Number(part.Y) : Number(part.y) + (Number(part.y) < 69 ? 2000 : 1900),
    month,
    day: Number(part.d),
    hour,
    minute: Number(part.M),
    second: Number(part.S ?? 0),
    fraction: part.f ?? "",
    offsetUs: part.z !== undefined ? zoneUs(part.z) : endsInUtc(format) ? 0 : null,
  };
}

/** `+01:00`, `-0500` or `+02` in microseconds. */
export function zoneUs(zone: string): number {
  const digits = zone.slice(1).replace(":", "");
  const minutes = Number(digits.slice(0, 2)) * 60 + Number(digits.slice(2) || 0);
  return (zone.startsWith("-") ? -1 : 1) * minutes * 60e6;
}
