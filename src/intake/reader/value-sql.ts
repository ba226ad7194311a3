import type { ReaderLogSpec } from "./reader-log.ts";
import { literal } from "./sql-text.ts";
import { wallToUtc } from "./zone-sql.ts";

/** The span that times can be in; another one shows a wrong unit. */
const earliestUs = Date.UTC(1990, 0, 1) * 1000;
const latestUs = Date.UTC(2100, 0, 1) * 1000;

/** Strongest and weakest level that a reader's receiver can report, in dBm. */
const strongestDbm = 0;
const weakestDbm = -200;

/** Column types that hold an asked value without loss; text where the value takes more than a cast. */
export function columnType(role: string, spec: ReaderLogSpec): string {
  if (role === "rssi") return "DECIMAL(9,2)";
  if (role === "count") return "INTEGER";
  if (role !== "time" || spec.time.format !== null) return "VARCHAR";
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

/** How a time is read: the value as the log means it, and the moment it stands for. */
interface TimeSql {
  /** Null where the text is no time. */
  value: string;
  /** Microseconds since 1970 in UTC, the clock's offset added; null too where the hour was skipped or came twice. */
  us: string;
}

interface SoundTimeSql extends TimeSql {
  /** The same, null too where it is out of range. */
  soundUs: string;
}

/** @param value an expression of the type that `columnType` gives */
export function timeSql(value: string, spec: ReaderLogSpec, facilityZone: string | null): SoundTimeSql {
  const { unit, format, zone } = spec.time;
  const isText = unit === "iso" || format !== null;
  const wallZone = zone ?? (isText ? facilityZone : null) ?? "UTC";
  const read =
    format !== null
      ? formatted(value, format, wallZone)
      : isText
        ? iso(value, wallZone)
        : counted(value, unit, wallZone);
  const offsetUs = Math.round(spec.clockOffsetS * 1e6);
  const shifted = offsetUs === 0 ? read.us : `(${read.us}) + ${offsetUs}`;
  return {
    value: read.value,
    us: shifted,
    soundUs: `CASE WHEN ${isTime(`(${read.us})`, 0)} THEN ${shifted} END`,
  };
}

function formatted(text: string, format: string, zone: string): TimeSql {
  const value = `epoch_us(try_strptime(${text}, ${literal(format)}))`;
  return { value, us: /%[zZ]/.test(format) ? value : wallToUtc(value, zone) };
}

const isoShape =
  "[0-9]{4}-[0-9]{2}-[0-9]{2}[Tt ][0-9]{2}:[0-9]{2}(?::[0-9]{2}(?:[.,][0-9]{1,9})? ?(?:[Zz]|[-+][0-9]{2}(?::?[0-9]{2})?)?)?";

function iso(text: string, zone: string): TimeSql {
  // The database knows no decimal comma, no lower-case z and no blank before the offset.
  const plain = `regexp_replace(upper(replace(${text}, ',', '.')), ' ([-+Z][0-9:]*)$', '\\1')`;
  const hasOffset = `regexp_matches(${text}, ':[0-9]{2}[^:]*(?:[Zz]|[-+][0-9]{2}(?::?[0-9]{2})?)$')`;
  const isIso = `regexp_full_match(${text}, '${isoShape}')`;
  const wall = `epoch_us(TRY_CAST(${plain} AS TIMESTAMP))`;
  return {
    value: `CASE WHEN ${isIso} THEN ${wall} END`,
    us: `CASE WHEN NOT ${isIso} THEN NULL WHEN ${hasOffset} THEN epoch_us(TRY_CAST(${plain} AS TIMESTAMPTZ)) ELSE ${wallToUtc(wall, zone)} END`,
  };
}

function counted(value: string, unit: string, zone: string): TimeSql {
  if (unit === "us") return { value, us: wallToUtc(value, zone) };
  if (unit === "ns") return { value, us: wallToUtc(`(${value} // 1000)`, zone) };
  // Whole and fraction apart: their product in one would not fit.
  const factor = unit === "s" ? 1_000_000 : 1000;
  const whole = `CAST(floor(${value}) AS BIGINT)`;
  const us = `(${whole} * ${factor} + CAST((${value} - floor(${value})) * ${factor} AS BIGINT))`;
  return { value, us: wallToUtc(us, zone) };
}

/** The level in dBm. */
export function rssiDbm(value: string, spec: ReaderLogSpec): string {
  return spec.rssiUnit === "dBm" ? value : `CAST(${value} * 0.01 AS DECIMAL(9,2))`;
}

/** @param offsetS what was added to the reader's clock */
export function isTime(us: string, offsetS: number): string {
  const offsetUs = Math.round(offsetS * 1e6);
  return `${us} BETWEEN ${earliestUs + offsetUs} AND ${latestUs + offsetUs}`;
}
export const isLevel = (dbm: string) => `${dbm} BETWEEN ${weakestDbm} AND ${strongestDbm}`;
export const isCount = (count: string) => `${count} >= 1`;
