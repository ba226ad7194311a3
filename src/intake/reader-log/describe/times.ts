import type { LogDatabase } from "../database/database.ts";
import { textLines } from "../database/lines.ts";
import { timesRead } from "../statements.ts";
import { allYears, cast, columnType, measuredRows } from "../values.ts";

/** How a log writes its times, as `reader_logs` says it. */
interface TimeStyle {
  unit: "iso" | "s" | "ms" | "us" | "ns";
  /** strptime pattern where text is not ISO 8601; null otherwise. */
  format: string | null;
}

/** Whether times state their offset from UTC: all, none or some of the first of them. */
type Offsets = "all" | "none" | "some" | "count since 1970";

export type TimeGuess =
  | { kind: "style"; style: TimeStyle; also: TimeStyle | null; offsets: Offsets }
  | { kind: "unusable"; why: string }
  | { kind: "none" };

/** Of the values of a column, how many must be times: short logs may have several broken rows. */
const mostShare = 0.7;

/** Guesses how the times of a column are written: of the styles that its texts suggest, the one by which the database reads most of them. */
export async function guessTimes(
  database: LogDatabase,
  values: readonly string[],
  decimal: "." | ",",
): Promise<TimeGuess> {
  const filled = values.filter((value) => value !== "");
  if (filled.length === 0) return { kind: "none" };
  for (const styles of suggestedStyles(filled)) {
    const fits: { style: TimeStyle; rows: number }[] = [];
    for (const style of styles) {
      const { measured, text } = asTimes(filled, style, decimal);
      const [fit] = await database.rows<{ rows: number }>(timesRead(measured, style.unit !== "iso"), {
        text,
      });
      fits.push({ style, rows: fit!.rows });
    }
    const [best, second] = fits
      .filter(({ rows }) => rows >= mostShare * filled.length)
      .sort((a, b) => b.rows - a.rows);
    if (best === undefined) continue;
    const also = second?.rows === best.rows ? second.style : null;
    return { kind: "style", style: best.style, also, offsets: offsetsOf(best.style, filled) };
  }
  return unusable(filled);
}

function offsetsOf({ unit, format }: TimeStyle, values: readonly string[]): Offsets {
  if (unit !== "iso") return "count since 1970";
  if (format !== null) return /%z/.test(format) || endsInUtc(format) ? "all" : "none";
  const stated = values.filter((value) => /:\d\d[^:]*(?:z|[-+]\d\d(?::?\d\d)?)$/i.test(value)).length;
  return stated === values.length ? "all" : stated === 0 ? "none" : "some";
}

/** A time in ISO 8601: with a Z where the instant is known, without where it is the log's own clock; a question mark where there is none. */
export function shownTime(us: number | null, guess: TimeGuess): string {
  if (us === null) return "?";
  const isInstant = guess.kind === "style" && ["all", "count since 1970"].includes(guess.offsets);
  return new Date(Math.floor(us / 1000)).toISOString().slice(0, isInstant ? 24 : 23);
}

/** Texts of a sample as the times that a style makes of them: measured rows for a statement, and the file `text` that they are of. Times without an offset are taken as UTC. */
export function asTimes(
  values: readonly string[],
  { unit, format }: TimeStyle,
  decimal: "." | ",",
): { measured: string; text: string } {
  const spec = { time: { unit, format, zone: null }, rssiUnit: "dBm" as const, clockOffsetS: 0 };
  const time = cast("line", columnType("time", spec), decimal);
  const rows = `SELECT ${time} AS time_value, 0::DECIMAL(9,2) AS rssi_value, 1 AS count_value FROM (${textLines})`;
  return {
    measured: measuredRows(rows, spec, { facilityZone: null, years: allYears }),
    text: values.map((value) => value.replaceAll("\n", " ")).join("\n"),
  };
}

const perSecond = { s: 1, ms: 1e3, us: 1e6, ns: 1e9 };

/** Whether a count of seconds may lie where `timesRead` counts it: a unit that is out by far need not be tried. */
function isOfThisCentury(seconds: number): boolean {
  return seconds > Date.UTC(1999, 0, 1) / 1000 && seconds < Date.UTC(2101, 0, 1) / 1000;
}

/** The first few texts may be broken ones. */
const textsLookedAt = 10;

/** Counts, ISO 8601 and other patterns: what comes first is taken where it fits. */
function suggestedStyles(values: readonly string[]): TimeStyle[][] {
  const numbers = values
    .filter((value) => /^\d+(?:[.,]\d+)?$/.test(value))
    .map((value) => Number(value.replace(",", ".")));
  const enough = mostShare * values.length;
  const counts = (["s", "ms", "us", "ns"] as const)
    .filter((unit) => numbers.filter((number) => isOfThisCentury(number / perSecond[unit])).length >= enough)
    .map((unit) => ({ unit, format: null }));
  const formats = new Set(values.slice(0, textsLookedAt).flatMap(formatsOf));
  return [
    counts,
    values.some((value) => /\d-\d\d[T ]\d/i.test(value)) ? [{ unit: "iso", format: null }] : [],
    [...formats].map((format) => ({ unit: "iso", format })),
  ];
}

/** What is known of times that facility.yaml cannot say. */
function unusable(values: readonly string[]): TimeGuess {
  const most = (test: (value: string) => boolean) => values.filter(test).length >= mostShare * values.length;
  const why = (why: string): TimeGuess => ({ kind: "unusable", why });
  if (most(isClock))
    return why("times of day without a date cannot be placed; have the log write the date too");
  // Times of this century.
  const year = most((value) => /^6[3-6]\d{16}$/.test(value))
    ? 1
    : most((value) => /^1[2-5]\d{16}$/.test(value))
      ? 1601
      : null;
  if (year !== null) {
    return why(
      `counts of 100 ns since the year ${year}, which facility.yaml cannot say; have the log write ISO 8601, or a count since 1970`,
    );
  }
  return most((value) => /^[345]\d{4}[.,]\d{3,}$/.test(value))
    ? why("a spreadsheet's day numbers; export date and time as text")
    : { kind: "none" };
}

/** Orders of year, month and day by the mark between them; with dots the day comes first. */
const orders = {
  "-": ["Ymd", "dmY", "mdY", "ymd", "dmy"],
  "/": ["Ymd", "dmY", "mdY", "dmy", "mdy", "ymd"],
  ".": ["Ymd", "dmY", "dmy"],
  " ": ["dmY", "mdY"],
};

const clock =
  /\d{1,2}(?<mark>[:.-])\d\d(?:\k<mark>(?<second>\d\d)(?:(?<point>[.,:])(?<digits>\d{1,9}))?)?(?<half> ?[AaPp][Mm])?$/;
const compact =
  /^(?:19|20)\d\d(?:0[1-9]|1[0-2])(?:[0-2]\d|3[01])(?<between>[T _-]?)[0-2]\d[0-5]\d[0-5]\d(?:(?<point>[.,])(?<digits>\d{1,9})|(?<bare>\d{3}|\d{6}))?$/;
const zone = /(?<=\d| [AaPp][Mm])(?: (?:UTC|GMT)|Z| ?[+-]\d\d:?\d\d)$/;

/** The strptime patterns that a text could follow. */
function formatsOf(text: string): string[] {
  const tail = zone.exec(text)?.[0] ?? "";
  const zoneFormat = tail.replace(/[+-]\d\d:?\d\d$/, "%z");
  const weekday = /^[A-Za-z]{3},? +(?=[A-Za-z\d])/.exec(text)?.[0] ?? "";
  const rest = text.slice(0, text.length - tail.length);
  const withWeekday =
    weekday === ""
      ? []
      : plainFormats(rest.slice(weekday.length)).map((format) => `%a${weekday.trimEnd().slice(3)} ${format}`);
  return [...plainFormats(rest), ...withWeekday].map((format) => format + zoneFormat);
}

function plainFormats(text: string): string[] {
  const digits = compact.exec(text)?.groups;
  if (digits !== undefined) {
    const bare = digits.bare === undefined ? "" : "%f";
    return [`%Y%m%d${digits.between}%H%M%S${fraction(digits.point, digits.digits) || bare}`];
  }
  if (/^[A-Za-z]{3} +\d{1,2} \d\d:\d\d:\d\d \d{4}$/.test(text)) return ["%b %d %H:%M:%S %Y"];
  const found = clock.exec(text);
  const parts = found?.groups;
  if (found === null || parts === undefined) return [];
  const { mark, second, point, digits: fractionDigits, half } = parts;
  const between = /(?:, | +|[T,_-])$/.exec(text.slice(0, found.index))?.[0];
  if (between === undefined) return [];
  const hour = half === undefined ? "%H" : "%I";
  const seconds = second === undefined ? "" : `${mark}%S${fraction(point, fractionDigits)}`;
  const halfDay = half === undefined ? "" : half.replace(/[AaPp][Mm]/, "%p");
  const time = `${hour}${mark}%M${seconds}${halfDay}`;
  return dateFormats(text.slice(0, found.index - between.length)).map(
    (date) => `${date}${between.replace(/ +/, " ")}${time}`,
  );
}

/** %f holds up to six digits, %n up to nine. */
function fraction(point: string | undefined, digits: string | undefined): string {
  return point === undefined || digits === undefined ? "" : `${point}${digits.length > 6 ? "%n" : "%f"}`;
}

function dateFormats(text: string): string[] {
  const parts = /^(\d{1,4}|[A-Za-z]{3,})([-/. ]) *(\d{1,2}|[A-Za-z]{3,})(, |[-/. ])(\d{1,4})$/.exec(text);
  if (parts === null) return [];
  const [, first, mark, second, secondMark, third] = parts as unknown as [
    string,
    string,
    keyof typeof orders,
    string,
    string,
    string,
  ];
  const tokens = [first, second, third];
  return orders[mark].flatMap((order) => {
    const letters = tokens.map((token, index) => letterOf(token, order[index]!));
    return letters.includes(null) ? [] : [`${letters[0]}${mark}${letters[1]}${secondMark}${letters[2]}`];
  });
}

function letterOf(token: string, part: string): string | null {
  if (/^[A-Za-z]/.test(token)) return part === "m" ? (token.length === 3 ? "%b" : "%B") : null;
  const lengths = { Y: [4], y: [2], m: [1, 2], d: [1, 2] }[part]!;
  return lengths.includes(token.length) ? `%${part}` : null;
}

/** Whether texts of a pattern name UTC, in letters that ISO 8601 does not know or not in its form. */
export function endsInUtc(format: string): boolean {
  return /(?: UTC| GMT|[^%]Z)$/.test(format);
}

/** Whether a text is a time of day and nothing else. */
export function isClock(text: string): boolean {
  return text.includes(":") && clock.exec(text)?.index === 0;
}

/** Whether a text is a date and nothing else. */
export function isDate(text: string): boolean {
  return dateFormats(text).length > 0 || /^20\d\d(?:0[1-9]|1[0-2])(?:0[1-9]|[12]\d|3[01])$/.test(text);
}
