import { dBmOfWatts, dipoleGainDbi, type RadiatedPower } from "./radiated-power.ts";

/** How a figure of a rule was come by. */
export const marks = ["read", "quoted", "memory", "stated"] as const;
export type Mark = (typeof marks)[number];

/** A rule on what a reader may radiate. */
interface RadioRule {
  /** The rule and what it allows, with the band. */
  name: string;
  mark: Mark;
  bandMhz: [from: number, to: number];
  /** Where no frequency is stated. */
  usualMhz: number;
  limitDbmEirp: number;
  /** At the antenna's terminals: so much up to a gain, above it a dB less for each dB more. */
  conducted: { limitDbm: number; upToGainDbi: number } | null;
}

export const regions = ["eu-lower", "eu-upper", "us", "other"] as const;
export type Region = (typeof regions)[number];

/** Names of our own, by the rule that holds; in any other region the limit and its source are stated. */
export const radioRules: Record<Region, RadioRule | null> = {
  "eu-lower": {
    name: "EN 302 208, 865 to 868 MHz: 2 W e.r.p.",
    mark: "read",
    bandMhz: [865, 868],
    usualMhz: 866,
    limitDbmEirp: dBmOfWatts(2) + dipoleGainDbi,
    conducted: null,
  },
  "eu-upper": {
    name: "EN 302 208, 915 to 921 MHz: 4 W e.r.p.",
    mark: "read",
    bandMhz: [915, 921],
    usualMhz: 916.3,
    limitDbmEirp: dBmOfWatts(4) + dipoleGainDbi,
    conducted: null,
  },
  us: {
    name: "47 CFR 15.247, 902 to 928 MHz, 50 or more hop channels: 1 W conducted, antenna gain up to 6 dBi",
    mark: "quoted",
    bandMhz: [902, 928],
    usualMhz: 915,
    limitDbmEirp: 36,
    conducted: { limitDbm: 30, upToGainDbi: 6 },
  },
  other: null,
};

/** What a setting is held against. */
export interface RadioLimit {
  limitDbm: number;
  source: string;
  mark: Mark;
}

/** The stricter of the rule's limit and the stated one; null where there is neither. All in dBm EIRP. */
export function radioLimit(rule: RadioRule | null, stated: RadioLimit | null): RadioLimit | null {
  if (rule === null) return stated;
  return stated !== null && stated.limitDbm < rule.limitDbmEirp
    ? stated
    : { limitDbm: rule.limitDbmEirp, source: rule.name, mark: rule.mark };
}

/** What may be fed to an antenna; null where the rule sets no such limit. Example: 1 W up to 6 dBi, and 27 dBm at 9 dBi. */
export function conductedLimitDbm(rule: RadioRule | null, gainDbi: number): number | null {
  if (rule === null || rule.conducted === null) return null;
  const { limitDbm, upToGainDbi } = rule.conducted;
  return limitDbm - Math.max(0, gainDbi - upToGainDbi);
}

/** Sums of decibels carry the dust of binary arithmetic: a setting that just meets its limit is not over it. */
const dustDb = 1e-9;

/** By how many dB a setting is over; 0 or less where it is within both limits. */
export function overByDb(
  { eirpDbm, conductedDbm }: RadiatedPower,
  { limitDbm, conductedDbm: conductedLimit }: { limitDbm: number; conductedDbm: number | null },
): number {
  const over = Math.max(
    eirpDbm - limitDbm,
    conductedLimit === null ? Number.NEGATIVE_INFINITY : conductedDbm - conductedLimit,
  );
  return Math.abs(over) < dustDb ? 0 : over;
}
