import { rounded } from "../../measures/rounding.ts";
import { thinSpace } from "../../model/number-words.ts";
import type { PowerCurve } from "../../model/radio/power-curves.ts";

/** A transmit power: `28.2 dBm`. */
export function powerText(dbm: number, direction: "down" | "up" | "nearest" = "nearest"): string {
  return `${rounded(dbm, 1, direction)}${thinSpace}dBm`;
}

type WithoutCurve = Pick<PowerCurve, "noneAtDbm" | "allAtDbm"> & { why: PowerCurve["state"] };

/** Why a power log carries no curve, and what to do. */
export function noPowerCurve({ why, noneAtDbm, allAtDbm }: WithoutCurve): string {
  const sentences: Record<PowerCurve["state"], string> = {
    fitted: "",
    "too-few-powers": "The power log has a single power, and a curve takes two: measure at five or more.",
    "none-read": "No tag was read at any power, so there is no curve: measure at higher powers.",
    "all-read": "All tags were read at every power, so there is no curve: measure at lower powers.",
    falling:
      "The share read does not rise with the power, so there is no curve: check the log and the setting.",
    separated: `${step(noneAtDbm, allAtDbm)}, so the curve would be a step and has no figures: measure at powers in between.`,
  };
  return sentences[why];
}

function step(noneAtDbm: number | null, allAtDbm: number | null): string {
  if (noneAtDbm !== null && allAtDbm !== null)
    return `Reads go from none at ${powerText(noneAtDbm)} to all at ${powerText(allAtDbm)}`;
  if (allAtDbm !== null)
    return `All tags were read from ${powerText(allAtDbm)} on, and some at the power below`;
  if (noneAtDbm !== null) return `No tag was read up to ${powerText(noneAtDbm)}, and some at the power above`;
  return "Reads go from none to all at a single power";
}
