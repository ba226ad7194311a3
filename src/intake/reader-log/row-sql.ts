import type { LogLayout, LogSource } from "./log-source.ts";
import { cast, columnType, isCount, isLevel, isTime, rssiDbm, timeSql } from "./value-sql.ts";

/** Why a row is refused; in the order in which it is asked. */
export type RefusalReason =
  | "encoding"
  | "quotes"
  | "json"
  | "few-columns"
  | "many-columns"
  | "code-missing"
  | "code-number"
  | "code"
  | "time-missing"
  | "time"
  | "time-span"
  | "rssi"
  | "rssi-range"
  | "count";

/**
 * Rows judged: `reason` is null for a row that counts.
 *
 * @param rows what every kind of log is brought to first: the line's `text`, a `fault` of its structure, its fields as
 *   text (`time_text` and so on, blanks trimmed) and as typed values (`time_value`, `rssi_value`, `count_value`)
 */
export function judgedRows(rows: string, source: LogSource, facilityZone: string | null): string {
  const { spec } = source;
  const time = timeSql("time_value", spec, facilityZone);
  const level = rssiDbm("rssi_value", spec);
  return `SELECT *, CASE
      WHEN fault IS NOT NULL THEN fault
      WHEN epc = '' THEN 'code-missing'
      WHEN time_text = '' THEN 'time-missing'
      WHEN time_said IS NULL THEN 'time'
      WHEN t IS NULL THEN 'time-span'
      WHEN rssi IS NULL AND rssi_text <> '' THEN 'rssi'
      WHEN NOT (${isLevel("rssi")}) THEN 'rssi-range'
      WHEN reads IS NULL OR NOT (${isCount("reads")}) THEN 'count'
    END AS reason
    FROM (SELECT *, ${time.sound("time_us")} AS t, ${level} AS rssi,
      CASE WHEN count_text = '' THEN 1 ELSE count_value END AS reads
      FROM (SELECT *, ${time.us("time_said")} AS time_us FROM (SELECT *, ${time.value} AS time_said FROM (${rows}))))`;
}

/** The same for columns that are typed already, not judged: `unsoundReads` tells afterwards whether a row wants a closer look. */
export function typedRows(
  layout: LogLayout,
  source: LogSource,
  facilityZone: string | null,
  from: string,
): string {
  const { spec } = source;
  const { columns, rest } = layout;
  const text = (index: number | string | null) => (index === null ? "''" : `c${index}`);
  const time = timeSql(`c${columns.time}`, spec, facilityZone);
  const us = time.shifted("time_said");
  // A line end inside a field is a quote that was never closed.
  const isWhole = rest.map((index) => `NOT contains(c${index}, chr(10))`).join(" AND ");
  const level = columns.rssi === null ? "NULL::DECIMAL(9,2)" : rssiDbm(`c${columns.rssi}`, spec);
  return `SELECT ${text(columns.reader)} AS reader, ${text(columns.epc)} AS epc, ${text(columns.antenna)} AS antenna,
      ${isWhole === "" ? us : `CASE WHEN ${isWhole} THEN ${us} END`} AS t, ${level} AS rssi,
      ${columns.count === null ? "1" : `coalesce(c${columns.count}, 1)`} AS reads,
      ${restHash(rest.map((index) => `c${index}`))} AS rest, NULL AS reason
      FROM (SELECT *, ${time.value} AS time_said FROM ${from})`;
}

/** The reads that `typedRows` could not be sure of: found by the bounds of whole blocks of rows, which costs next to nothing. */
export function unsoundReads(source: LogSource): string {
  return `(t IS NULL OR NOT (${isTime("t", source.spec.clockOffsetS)}) OR NOT (${isLevel("rssi")}) OR NOT (${isCount("reads")}))`;
}

/** Columns that nothing is asked of still tell two rows apart. */
export function restHash(columns: readonly string[]): string {
  return columns.length === 0
    ? "NULL::UBIGINT"
    : `hash(${columns.map((each) => `coalesce(${each}, '')`).join(" || chr(31) || ")})`;
}

/** The typed values of fields that are text. */
export function valuesOfText(source: LogSource): string {
  const { spec } = source;
  const value = (role: "time" | "rssi" | "count") =>
    cast(`${role}_text`, columnType(role, spec), spec.decimal);
  return `${value("time")} AS time_value, ${value("rssi")} AS rssi_value, ${value("count")} AS count_value`;
}
