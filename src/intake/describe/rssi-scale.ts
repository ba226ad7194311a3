import { counted } from "../../pages/words/numbers.ts";
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

/** What the scale means for the entry; null where there is nothing to say. */
export function scaleRemark(facts: RssiFacts): string | null {
  switch (facts.scale) {
    case "dBm":
      return facts.positive + facts.zero > 0
        ? `${counted(facts.positive + facts.zero, "row has", "rows have")} an RSSI of 0 or above, which no tag gives: a placeholder, or a fault of the reader.`
        : null;
    case "cdBm":
      return null;
    case "tenths of a dBm":
      return "RSSI looks like tenths of a dBm, which facility.yaml cannot say: left out of the entry. Have the log write dBm or hundredths.";
    case "unsigned byte":
      return `RSSI looks like a signed byte written without its sign (${facts.median} would be ${facts.median - 256} dBm): left out of the entry. Have the log write it signed.`;
    case "positive":
      return "RSSI is not negative: not dBm, rather the reader's own scale of strength. Left out of the entry.";
    default:
      return "The unit of RSSI cannot be told by its size. Left out of the entry.";
  }
}
