import type { MeasureId } from "../../model/facility.ts";
import { counted, countText, decimalText, statedNumber, thinSpace } from "../../model/number-words.ts";

/** What a measure is called in headings and tables. */
export function measureTitle(measure: MeasureId): string {
  switch (measure) {
    case "tag-read-rate":
      return "Tag read rate";
    case "complete-pass-rate":
      return "Complete passes";
    case "stray-pass-rate":
      return "Passes with a stray";
    case "bystander-read-rate":
      return "Bystanders read";
    case "agreement-rate":
      return "Passes in agreement";
    case "rssi-quantile":
      return "Signal strength";
    case "idle-read-rate":
      return "Heard with nothing presented";
  }
}

/** `598 of 600 tags read`, `6 of 24 passes heard a stray`. */
export function countPhrase(measure: MeasureId, k: number, n: number): string {
  const of = (one: string, many: string) => `${counted(k, "", "").trim()} of ${counted(n, one, many)}`;
  switch (measure) {
    case "tag-read-rate":
      return `${of("tag", "tags")} read`;
    case "complete-pass-rate":
      return `${of("pass", "passes")} complete`;
    case "stray-pass-rate":
      return `${of("pass", "passes")} heard a stray`;
    case "bystander-read-rate":
      return `${of("bystander", "bystanders")} read`;
    case "agreement-rate":
      return `${of("pass", "passes")} in agreement`;
    case "rssi-quantile":
      return `${of("tag", "tags")} read`;
    case "idle-read-rate":
      return `${counted(k, "tag", "tags")} heard in ${minutesText(n)} with nothing presented`;
  }
}

/** `31.7 minutes`: time is measured and not counted, so it is rarely whole. */
function minutesText(minutes: number): string {
  return `${decimalText(minutes, 1)} minutes`;
}

/** `171 of 200`; tags heard over time have no such n: `3 in 31.7 min`. */
export function shortCount(measure: MeasureId, k: number, n: number): string {
  return measure === "idle-read-rate"
    ? `${countText(k)} in ${decimalText(n, 1)}${thinSpace}min`
    : `${countText(k)} of ${countText(n)}`;
}

/** What a pass or a tag must be free of to count in favour. */
export function faultWord(measure: MeasureId): string {
  switch (measure) {
    case "stray-pass-rate":
      return "a stray";
    case "bystander-read-rate":
    case "idle-read-rate":
      return "a read";
    case "agreement-rate":
      return "a disagreement";
    case "tag-read-rate":
    case "complete-pass-rate":
    case "rssi-quantile":
      return "a miss";
  }
}

/** The quantile of an RSSI criterion in words: `the weakest 5 %`. */
export function quantilePhrase(quantile: number | null): string {
  return quantile === null
    ? "the quantile asked"
    : `the weakest ${statedNumber(quantile * 100)}${thinSpace}% of presentations`;
}
