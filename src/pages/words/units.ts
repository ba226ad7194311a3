const units =
  "%|‰|°C|°F|dBm|dBi|dB|mW|kW|W|kHz|MHz|GHz|Hz|m/s|km/h|mph|mm|cm|km|m|ft|kg|g|ms|min|s|h|V|mA|A|kB|MB|GB";
const digitAndUnit = new RegExp(`(\\d) (?=(?:${units})(?![\\p{L}\\p{N}]))`, "gu");

/** Keeps a number and its unit on one line, whoever wrote them: `0.4 m` with a no-break space. */
export function unbrokenUnits(text: string): string {
  return text.replace(digitAndUnit, "$1\u00a0");
}
