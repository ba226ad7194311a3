import { counted } from "../../../model/number-words.ts";
import type { RssiFacts } from "./log-description.ts";

type Scale = Pick<RssiFacts, "scale">["scale"];

/**
 * The unit of an RSSI column by the size of its values. What a reader hears from a passive UHF tag lies between about -90 and
 * -20 dBm (common practice, no source).
 */
export function rssiScale(min: number, median: number, max: number, whole: boolean): Scale {
  if (median < 0 && median >= -110) return max <= 30 && min >= -130 ? "dBm" : "unclear";
  if (median <= -1500 && median >= -11_000 && whole) return "cdBm";
  if (median <= -150 && median >= -1100 && whole) return "tenths of a dBm";
  if (median >= 128 && max <= 255 && whole) return "unsigned byte";
  if (median >= 0) return "positive";
  return "unclear";
}

/** Whether the entry can name the column: in a unit that facility.yaml knows, with no value that it refuses. */
export function isUsableRssi(facts: Pick<RssiFacts, "scale" | "positive">): boolean {
  return (facts.scale === "dBm" || facts.scale === "cdBm") && facts.positive === 0;
}

/** What the scale means for the entry; null where there is nothing to say. */
export function scaleRemark(facts: RssiFacts): string | null {
  switch (facts.scale) {
    case "dBm":
    case "cdBm":
      if (facts.positive > 0) {
        return `${counted(facts.positive, "row has", "rows have")} an RSSI above 0, which no reader can mean in dBm and \`check\` refuses. Left out of the entry: have the log leave such values blank.`;
      }
      return facts.zero > 0
        ? `${counted(facts.zero, "row has", "rows have")} an RSSI of 0, which no tag gives: a placeholder, or a fault of the reader. It is taken for the strongest read.`
        : null;
    case "tenths of a dBm":
      return "RSSI looks like tenths of a dBm, which facility.yaml cannot say: left out of the entry. Have the log write dBm or hundredths.";
    case "unsigned byte":
      return `RSSI looks like a signed byte written without its sign (${facts.median} would be ${facts.median - 256} dBm): left out of the entry. Have the log write it signed.`;
    case "positive":
      return "RSSI is not negative: not dBm, but the reader's own scale of strength, or dBm without its minus. Left out of the entry: have the log write dBm.";
    default:
      return "The unit of RSSI cannot be told by its size. Left out of the entry.";
  }
}
