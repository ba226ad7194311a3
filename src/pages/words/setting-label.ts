import { sentenceStart } from "../../model/number-words.ts";

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
