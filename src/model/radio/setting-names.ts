/*
 * The settings of a reader go by many names, and their values by several ways of writing.
 */

/** Words that a name may have beside the setting itself. */
const besides = new Set(
  "transmit transmitted tx rf output conducted reader radio level estimate tag inventory gen2 dbm cdbm".split(
    " ",
  ),
);

/** The settings that are known by more than one name, each by its word. */
export const knownSettings: ReadonlySet<string> = new Set(["power", "session", "population", "q"]);

/** The same for names of one setting: `transmit_power_dbm`, `Tx power`. */
export function settingKey(name: string): string {
  const words = wordsOf(name);
  const own = words.filter((word) => !besides.has(word));
  return own.length === 1 && knownSettings.has(own[0]!) ? own[0]! : words.join(" ");
}

function wordsOf(name: string): string[] {
  return name
    .replace(/([a-z])([A-Z])/g, "$1 $2")
    .toLowerCase()
    .split(/[^a-z0-9]+/)
    .filter((word) => word !== "");
}

/** The same for equal values: 30, `30.0 dBm`, `30,0 dBm` and `3000 cdBm`; 1 and `S1`; other texts without regard to case. */
export function comparableValue(name: string, value: string): string {
  const text = value.trim().toLowerCase();
  const numeral = /^s?(-?\d+(?:[.,]\d+)?)\s*(dbm|cdbm|db)?$/.exec(text);
  if (numeral === null) return text;
  const isHundredths = numeral[2] === "cdbm" || (numeral[2] === undefined && wordsOf(name).includes("cdbm"));
  return String(Number(numeral[1]!.replace(",", ".")) / (isHundredths ? 100 : 1));
}

/** The value that settings state of one of the known ones, as it is compared; null where they do not. */
function statedSetting(settings: Readonly<Record<string, string>>, key: string): string | null {
  const found = Object.entries(settings).find(([name]) => settingKey(name) === key);
  return found === undefined ? null : comparableValue(...found);
}

/** The power at the reader's port, dBm; null where the settings state no number. */
export function statedPowerDbm(settings: Readonly<Record<string, string>>): number | null {
  const text = statedSetting(settings, "power");
  return text === null || !/^-?\d+(\.\d+)?$/.test(text) ? null : Number(text);
}

/** The session of the air interface, `0` to `3`; null where the settings state none. */
export function statedSession(settings: Readonly<Record<string, string>>): string | null {
  const text = statedSetting(settings, "session");
  return text !== null && /^[0-3]$/.test(text) ? text : null;
}
