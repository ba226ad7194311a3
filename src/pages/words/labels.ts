import type { Condition } from "../../model/facility.ts";
import { sentenceStart } from "../../model/number-words.ts";

/** A condition's value with its unit: `1 to 2 m/s`, `edge-on`. */
export function valueText(value: string, condition: Condition | undefined): string {
  return condition?.unit ? `${value}\u00a0${condition.unit}` : value;
}

/** A condition's label; the column's own name where nothing declares it. */
export function columnLabel(column: string, conditions: Condition[]): string {
  return conditions.find((condition) => condition.column === column)?.label ?? column;
}

/** `Tag orientation: edge-on; Speed: 1 to 2 m/s`; empty without a group. */
export function groupText(group: Record<string, string> | null, conditions: Condition[]): string {
  return Object.entries(group ?? {})
    .map(([column, value]) => {
      const condition = conditions.find((entry) => entry.column === column);
      return `${columnLabel(column, conditions)}: ${valueText(value, condition)}`;
    })
    .join("; ");
}

/** Units as they end the name of a setting or column, and as they are written. */
const units: Record<string, string> = {
  dbm: "dBm",
  dbi: "dBi",
  db: "dB",
  mhz: "MHz",
  khz: "kHz",
  w: "W",
  mw: "mW",
  mm: "mm",
  cm: "cm",
  m: "m",
  ms: "ms",
  s: "s",
  deg: "degrees",
  m_s: "m/s",
};

/** The name of a setting as a client reads it: `transmit_power_dbm` becomes `Transmit power, dBm`. */
export function settingLabel(key: string): string {
  const { name, unit } = settingParts(key);
  return unit === "" ? name : `${name}, ${unit}`;
}

/** The same in two: `Transmit power` and `dBm`. */
export function settingParts(key: string): { name: string; unit: string } {
  const parts = key.split("_").filter((part) => part !== "");
  for (const taken of [2, 1]) {
    const unit = units[parts.slice(-taken).join("_").toLowerCase()];
    if (unit !== undefined && parts.length > taken) {
      return { name: sentenceStart(parts.slice(0, -taken).join(" ")), unit };
    }
  }
  return { name: parts.length === 0 ? key : sentenceStart(parts.join(" ")), unit: "" };
}

/** Codes of readers have 64 bits and more: a short label of hexadecimal letters is a label. */
const shortestCode = 16;

/** What a code is called besides its digits: the pure identity, or the raw URI; empty for a label. */
export function codeName(tag: string, uri: string | null): string {
  if (uri === null) return "";
  return uri.startsWith("urn:epc:raw:") && tag.length < shortestCode ? "" : uri;
}
