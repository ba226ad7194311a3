import type { ReaderLogSpec } from "../../model/facility.ts";
import { rssiRangeDbm } from "../../model/radio/rssi.ts";
import { literal } from "./database/database.ts";
import { wallToUtc, type Years } from "./source/zone.ts";

/*
 * What the fields of a row mean, as SQL. A time becomes microseconds since 1970 in UTC, a level hundredths of a dBm, a count a
 * whole number, each of them once and for every kind of log.
 */

/** Times outside these years show a wrong unit, or a clock that was never set. */
export const allYears: Years = { first: 1990, last: 2099 };
const earliestUs = Date.UTC(allYears.first, 0, 1) * 1000;
const latestUs = Date.UTC(allYears.last + 1, 0, 1) * 1000;

/** The years in which times are expected: those of windows and journeys, and one more at either end. */
export function yearsOf(windows: readonly { fromUs: number; toUs: number }[]): Years {
  if (windows.length === 0) return allYears;
  const yearOf = (us: number) => new Date(us / 1000).getUTCFullYear();
  return {
    first: windows.reduce((least, { fromUs }) => Math.min(least, yearOf(fromUs) - 1), allYears.last),
    last: windows.reduce((most, { toUs }) => Math.max(most, yearOf(toUs) + 1), allYears.first),
  };
}

/** Why a row is refused; in the order in which it is asked. */
const refusalReasons = [
  "encoding",
  "quotes",
  "json",
  "few-columns",
  "many-columns",
  "code-missing",
  "code-number",
  "code",
  "time-missing",
  "time",
  "time-span",
  "last-time",
  "last-before-first",
  "rssi",
  "rssi-range",
  "count",
] as const;
export type RefusalReason = (typeof refusalReasons)[number];

/** Stands for a reason in rows that are other events than reads: they are counted and not refused. */
export const otherEvent = "other-event";

export type ValueRole = "time" | "rssi" | "count";

/** The type that holds a value as it is written without loss; text where reading it takes more than a cast. */
export function columnType(role: ValueRole, spec: Pick<ReaderLogSpec, "time">): string {
  if (role === "rssi") return "DECIMAL(9,2)";
  // A whole type would round what is no whole number, and say nothing.
  if (role === "count") return "DOUBLE";
  if (spec.time.format !== null) return "VARCHAR";
  return { iso: "VARCHAR", s: "DECIMAL(18,6)", ms: "DECIMAL(18,3)", us: "BIGINT", ns: "BIGINT" }[
    spec.time.unit
  ];
}

/** Turns a text into a value of that type; null where it is none. */
export function cast(text: string, type: string, decimal: "." | ","): string {
  if (type === "VARCHAR") return text;
  const plain = decimal === "," ? `replace(${text}, ',', '.')` : text;
  return `TRY_CAST(${plain} AS ${type})`;
}

/** A text without the blanks and tabs around it. */
export const trimmed = (text: string): string => `trim(${text}, e' \\t')`;

/** The level that a text holds, or the strongest of a list of levels; null where it holds anything else. */
export function levelOf(text: string, decimal: "." | ","): string {
  const marks = decimal === "," ? '[]\\[;|"\\s]' : '[]\\[;|",\\s]';
  const parts = `list_filter(regexp_split_to_array(${text}, '${marks}+'), lambda each: each NOT IN ('', 'null'))`;
  const levels = `list_transform(${parts}, lambda each: ${cast("each", "DECIMAL(9,2)", decimal)})`;
  // Nearly all texts are one level, which is found without a look for marks.
  return `coalesce(${cast(text, "DECIMAL(9,2)", decimal)}, CASE WHEN regexp_matches(${text}, '${marks}')
      AND NOT list_contains(list_transform(${levels}, lambda each: each IS NULL), true) THEN list_max(${levels}) END)`;
}

/** What times that state no offset go by. */
export interface Clock {
  facilityZone: string | null;
  /** Times on a wall clock in other years are out of bounds. */
  years: Years;
}

/**
 * Adds to rows with `time_value`, `rssi_value` and `count_value` what they mean: `time_read` (microseconds as the log states them; null where
 * the text is not a time), `t` (microseconds since 1970 in UTC, the clock's offset added; null where the clocks skipped that time or showed
 * it twice), `rssi` (hundredths of a dBm) and `reads`; from `last_value`, where the log has it, `last_t` in the same way.
 *
 * Each step has its own select: an expression that stood a hundred times in the step from a wall clock to UTC would take longer to plan than
 * most logs take to read.
 */
export function measuredRows(
  rows: string,
  spec: Pick<ReaderLogSpec, "time" | "rssiUnit" | "clockOffsetS"> & Partial<Pick<ReaderLogSpec, "columns">>,
  clock: Clock,
): string {
  const time = timeSql(spec, clock, "time");
  const offsetUs = Math.round(spec.clockOffsetS * 1e6);
  const rssi = spec.rssiUnit === "dBm" ? "rssi_value * 100" : "rssi_value";
  const offset = offsetUs === 0 ? "" : ` + ${offsetUs}`;
  const plain = `SELECT * EXCLUDE (time_value, rssi_value, count_value), ${time.utc}${offset} AS t,
      CAST(${rssi} AS INTEGER) AS rssi,
      CASE WHEN count_value = floor(count_value) THEN TRY_CAST(count_value AS INTEGER) END AS reads
    FROM (SELECT *, ${time.read} AS time_read FROM (${rows}))`;
  if ((spec.columns?.lastTime ?? null) === null) return plain;
  const last = timeSql(spec, clock, "last");
  return `SELECT * EXCLUDE (last_value, last_read), ${last.utc}${offset} AS last_t
    FROM (SELECT *, ${last.read} AS last_read FROM (${plain}))`;
}

/** What a value must not be, as conditions over `t`, `rssi` and `reads`. A missing level breaks nothing. */
function brokenLimits(spec: ReaderLogSpec): { t: string; rssi: string; reads: string } {
  const offsetUs = Math.round(spec.clockOffsetS * 1e6);
  return {
    t: `t IS NULL OR NOT (t BETWEEN ${earliestUs + offsetUs} AND ${latestUs + offsetUs})`,
    rssi: `NOT (rssi BETWEEN ${rssiRangeDbm.lowest * 100} AND ${rssiRangeDbm.highest * 100})`,
    reads: "reads IS NULL OR NOT (reads >= 1)",
  };
}

/**
 * Adds to measured rows the `reason` why a row is refused, null for a valid one: the one definition of a valid row. The rows still carry the
 * `fault` of their structure and their fields as text (`time_text`, `rssi_text`).
 */
export function judgedRows(measured: string, spec: ReaderLogSpec): string {
  const broken = brokenLimits(spec);
  const last =
    spec.columns.lastTime === null
      ? ""
      : "WHEN last_text <> '' AND last_t IS NULL THEN 'last-time' WHEN last_t < t THEN 'last-before-first' ";
  return `SELECT *, CASE
      ${spec.only.length === 0 ? "" : `WHEN other THEN '${otherEvent}'`}
      WHEN fault IS NOT NULL THEN fault
      WHEN epc = '' THEN 'code-missing'
      WHEN time_text = '' THEN 'time-missing'
      WHEN time_read IS NULL THEN 'time'
      WHEN ${broken.t} THEN 'time-span'
      ${last}WHEN rssi IS NULL AND rssi_text <> '' THEN 'rssi'
      WHEN ${broken.rssi} THEN 'rssi-range'
      WHEN ${broken.reads} THEN 'count'
    END AS reason FROM (${measured})`;
}

/** Whether a read that came in without a look at its text breaks a limit. The database answers from the bounds of whole blocks of rows. */
export function breaksLimits(spec: ReaderLogSpec): string {
  const last = spec.columns.lastTime === null ? [] : ["last_t < t"];
  return [...Object.values(brokenLimits(spec)), ...last].join(" OR ");
}

/** The first part of the names of the columns that hold a time: of the only or first read of a row, or of its last one. */
type TimeName = "time" | "last";

interface TimeSql {
  /** From `time_value`: microseconds as the log states them; null where the text is not a time. */
  read: string;
  /** From `time_read` and `time_value`: microseconds since 1970 in UTC. */
  utc: string;
}

/** Whether times depend on the years in which the clocks of a zone changed. */
export function isOnWallClock({ time }: Pick<ReaderLogSpec, "time">, facilityZone: string | null): boolean {
  const isText = time.unit === "iso" || time.format !== null;
  const zone = time.zone ?? (isText ? facilityZone : null);
  return zone !== null && zone !== "UTC";
}

function timeSql(
  { time }: Pick<ReaderLogSpec, "time">,
  { facilityZone, years }: Clock,
  name: TimeName,
): TimeSql {
  const { unit, format, zone } = time;
  if (format !== null) {
    const wallZone = zone ?? facilityZone ?? "UTC";
    return {
      read: `epoch_us(try_strptime(${name}_value, ${literal(format)}))`,
      utc: /%[zZ]/.test(format) ? `${name}_read` : wallToUtc(`${name}_read`, wallZone, years),
    };
  }
  if (unit === "iso") return isoTime(zone ?? facilityZone ?? "UTC", years, name);
  return { read: countedTime(unit, name), utc: wallToUtc(`${name}_read`, zone ?? "UTC", years) };
}

const isoShape =
  "[0-9]{4}-[0-9]{2}-[0-9]{2}[Tt ][0-9]{2}:[0-9]{2}(?::[0-9]{2}(?:[.,][0-9]{1,9})? ?(?:[Zz]|[-+][0-9]{2}(?::?[0-9]{2})?)?)?";

function isoTime(zone: string, years: Years, name: TimeName): TimeSql {
  // The database knows no decimal comma, no lower-case z and no blank before the offset.
  const plain = `regexp_replace(upper(replace(${name}_value, ',', '.')), ' ([-+Z][0-9:]*)$', '\\1')`;
  const hasOffset = `regexp_matches(${name}_value, ':[0-9]{2}[^:]*(?:[Zz]|[-+][0-9]{2}(?::?[0-9]{2})?)$')`;
  return {
    read: `CASE WHEN regexp_full_match(${name}_value, '${isoShape}') THEN epoch_us(TRY_CAST(${plain} AS TIMESTAMP)) END`,
    utc: `CASE WHEN ${name}_read IS NULL THEN NULL
      WHEN ${hasOffset} THEN epoch_us(TRY_CAST(${plain} AS TIMESTAMPTZ)) ELSE ${wallToUtc(`${name}_read`, zone, years)} END`,
  };
}

function countedTime(unit: "s" | "ms" | "us" | "ns", name: TimeName): string {
  if (unit === "us") return `${name}_value`;
  if (unit === "ns") return `(${name}_value // 1000)`;
  const perUnit = unit === "s" ? 1_000_000 : 1000;
  // Whole and fraction apart: their product in one would not fit.
  return `(CAST(floor(${name}_value) AS BIGINT) * ${perUnit} + CAST((${name}_value - floor(${name}_value)) * ${perUnit} AS BIGINT))`;
}
