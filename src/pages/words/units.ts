const units =
  "%|‰|°C|°F|dBm|dBi|dB|mW|kW|W|kHz|MHz|GHz|Hz|m/s|km/h|mph|mm|cm|km|m|ft|kg|g|ms|min|s|h|V|mA|A|kB|MB|GB";
const digitAndUnit = new RegExp(`(\\d) (?=(?:${units})(?![\\p{L}\\p{N}]))`, "gu");

/**
 * Keeps a number and its unit on one line, whoever wrote them: `0.4 m` with a no-break space.
 *
 * @param isText tells of a place in the text, each further on than the one before, whether it may be changed
 */
export function unbrokenUnits(text: string, isText: (at: number) => boolean = () => true): string {
  return text.replace(digitAndUnit, (found, digit: string, at: number) =>
    isText(at) ? `${digit}\u00a0` : found,
  );
}
