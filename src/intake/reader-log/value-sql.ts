import type { ReaderLogSpec } from "../../model/facility.ts";
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

/**
 * How a time is read, in steps for selects one inside the other: the step from a zone's wall clock to UTC is long, and an
 * expression that stands in it a hundred times takes the database longer to plan than most logs take to read.
 */
interface TimeSql {
  /** The value as the log means it; null where the text is no time. */
  value: string;
  /** From a column of that value: microseconds since 1970 in UTC; null too where the hour was skipped or came twice. */
  us(value: string): string;
}

interface ShiftedTimeSql extends TimeSql {
  /** From a column of those: the moment it stands for, the clock's offset added; null too where it is out of range. */
  sound(us: string): string;
  /** From a column of the value: the same, whatever the range. */
  shifted(value: string): string;
}

/** @param value an expression of the type that `columnType` gives */
export function timeSql(value: string, spec: ReaderLogSpec, facilityZone: string | null): ShiftedTimeSql {
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
  const shift = (us: string) => (offsetUs === 0 ? us : `(${us}) + ${offsetUs}`);
  return {
    ...read,
    sound: (us) => `CASE WHEN ${isTime(us, 0)} THEN ${shift(us)} END`,
    shifted: (said) => shift(read.us(said)),
  };
}

function formatted(text: string, format: string, zone: string): TimeSql {
  return {
    value: `epoch_us(try_strptime(${text}, ${literal(format)}))`,
    us: (value) => (/%[zZ]/.test(format) ? value : wallToUtc(value, zone)),
  };
}

const isoShape =
  "[0-9]{4}-[0-9]{2}-[0-9]{2}[Tt ][0-9]{2}:[0-9]{2}(?::[0-9]{2}(?:[.,][0-9]{1,9})? ?(?:[Zz]|[-+][0-9]{2}(?::?[0-9]{2})?)?)?";

function iso(text: string, zone: string): TimeSql {
  // The database knows no decimal comma, no lower-case z and no blank before the offset.
  const plain = `regexp_replace(upper(replace(${text}, ',', '.')), ' ([-+Z][0-9:]*)$', '\\1')`;
  const hasOffset = `regexp_matches(${text}, ':[0-9]{2}[^:]*(?:[Zz]|[-+][0-9]{2}(?::?[0-9]{2})?)$')`;
  const isIso = `regexp_full_match(${text}, '${isoShape}')`;
  return {
    value: `CASE WHEN ${isIso} THEN epoch_us(TRY_CAST(${plain} AS TIMESTAMP)) END`,
    us: (value) =>
      `CASE WHEN ${value} IS NULL THEN NULL WHEN ${hasOffset} THEN epoch_us(TRY_CAST(${plain} AS TIMESTAMPTZ)) ELSE ${wallToUtc(value, zone)} END`,
  };
}

function counted(value: string, unit: string, zone: string): TimeSql {
  if (unit === "us") return { value, us: (said) => wallToUtc(said, zone) };
  if (unit === "ns") return { value, us: (said) => wallToUtc(`(${said} // 1000)`, zone) };
  const factor = unit === "s" ? 1_000_000 : 1000;
  // Whole and fraction apart: their product in one would not fit.
  return {
    value,
    us: (said) =>
      wallToUtc(
        `(CAST(floor(${said}) AS BIGINT) * ${factor} + CAST((${said} - floor(${said})) * ${factor} AS BIGINT))`,
        zone,
      ),
  };
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
