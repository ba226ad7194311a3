import { z } from "zod";
import { type ExposureRule, exposureDistanceM, exposureRules, farFieldM } from "./exposure.ts";
import { type AntennaGain, dipoleGainDbi, type RadiatedPower, radiatedPower } from "./radiated-power.ts";
import {
  conductedLimitDbm,
  marks,
  overByDb,
  type RadioLimit,
  radioLimit,
  radioRules,
  regions,
} from "./rules.ts";
import { statedPowerDbm } from "./setting-names.ts";

/*
 * What a round says of the radio of a read point, and what comes of it.
 */

const number = z.number().nullable();
const text = z.string().nullable();

export const radioSettingsSchema = z
  .object({
    region: z.enum(regions).nullable().describe("By the rule that holds; null where none is stated."),
    limitDbmEirp: number.describe("The limit that facility.yaml states, in dBm EIRP."),
    limitDbmErp: number.describe("The same in dBm e.r.p."),
    source: text.describe("Where the stated limit comes from."),
    frequencyMhz: number,
    cableLossDb: number.describe("Cable and connectors; null where not stated."),
    antennaGainDbi: number.describe("Of an antenna of one plane."),
    antennaGainDbic: number.describe("Of a circular antenna."),
    antennaSizeM: number.describe("The antenna's largest side."),
    heightM: number,
    tiltDeg: number,
    zoneM: number.describe("How long the read zone is along the way of the tags."),
    speedMPerS: number.describe("The speed of passes whose log states none."),
    readerTagsPerS: number.describe("Tags a second that the reader is stated to manage."),
    distanceM: number.describe("The distance of the tags in passes whose log states none."),
    tagGainDbi: number,
    tagThresholdDbm: number.describe("What the tag's chip needs to answer."),
  })
  .describe("What facility.yaml states of the radio; null for what it does not.");
export type RadioSettings = z.infer<typeof radioSettingsSchema>;

/** What is stated, by the names that facility.yaml has for it. */
export function radioTexts(radio: RadioSettings): Record<string, string> {
  const stated = Object.entries(radio).filter(([, value]) => value !== null);
  return Object.fromEntries(stated.map(([key, value]) => [yamlKey(key), String(value)]));
}

function yamlKey(key: string): string {
  return key.replace(/[A-Z]/g, (letter) => `_${letter.toLowerCase()}`).replace("m_per_s", "m_s");
}

const exposure = z.object({
  rule: z.string(),
  mark: z.enum(marks).describe("How the limit was come by."),
  limitWPerM2: z.number(),
  distanceM: z
    .number()
    .describe("Where the main beam falls to the limit: a planning aid, never a clearance."),
});

export const radioResultSchema = z
  .object({
    round: z.string(),
    eirpDbm: number.describe("In one plane; null where the power or the gain is not stated."),
    limitDbm: number.describe(
      "In dBm EIRP: the stricter of the rule's and the stated one; null without either.",
    ),
    source: text.describe("Of the limit."),
    over: z
      .boolean()
      .describe("Whether the EIRP or the conducted power is over its limit; false where that is not known."),
    overByDb: number.describe("How far over, or, negative, below; null where that is not known."),
    mark: z.enum(marks).nullable().describe("How the limit was come by."),
    powerDbm: number.describe("At the reader's port, of the round's settings."),
    conductedDbm: number.describe("At the antenna's terminals."),
    conductedLimitDbm: number.describe("Null where the rule sets none."),
    erpDbm: number,
    totalEirpDbm: number.describe("In both planes of a circular antenna together."),
    usedFrequencyMhz: number.describe("The stated frequency, or the usual one of the region."),
    exposure: z.array(exposure).describe("By rule; empty where the EIRP or the frequency is not known."),
    farFieldM: number.describe(
      "Nearer than this the distances only indicate; null without the antenna's size.",
    ),
    stated: radioSettingsSchema,
  })
  .describe("What the radio of a read point was set to in a round, and how that stands to its limit.");
export type RadioResult = z.infer<typeof radioResultSchema>;

/** What a round radiates at a read point, of its radio and its settings. */
export function radioResult(
  round: string,
  stated: RadioSettings,
  settings: Readonly<Record<string, string>>,
): RadioResult {
  const rule = stated.region === null ? null : radioRules[stated.region];
  const limit = radioLimit(rule, statedLimit(stated));
  const powerDbm = statedPowerDbm(settings);
  const radiated = radiatedOf(stated, powerDbm);
  const conductedLimit = radiated === null ? null : conductedLimitDbm(rule, radiated.gainDbi);
  const over =
    radiated === null || limit === null
      ? null
      : overByDb(radiated, { limitDbm: limit.limitDbm, conductedDbm: conductedLimit });
  const usedFrequencyMhz = stated.frequencyMhz ?? rule?.usualMhz ?? null;
  return {
    round,
    eirpDbm: radiated?.eirpDbm ?? null,
    limitDbm: limit?.limitDbm ?? null,
    source: limit?.source ?? null,
    over: over !== null && over > 0,
    overByDb: over,
    mark: limit?.mark ?? null,
    powerDbm,
    conductedDbm: radiated?.conductedDbm ?? null,
    conductedLimitDbm: conductedLimit,
    erpDbm: radiated?.erpDbm ?? null,
    totalEirpDbm: radiated?.totalEirpDbm ?? null,
    usedFrequencyMhz,
    exposure:
      radiated === null || usedFrequencyMhz === null
        ? []
        : exposureRules.map((one) => exposureBy(one, radiated.totalEirpDbm, usedFrequencyMhz)),
    farFieldM:
      stated.antennaSizeM === null || usedFrequencyMhz === null
        ? null
        : farFieldM(stated.antennaSizeM, usedFrequencyMhz),
    stated,
  };
}

/** The gain as it is stated; null where it is not. */
function gainOf({ antennaGainDbi, antennaGainDbic }: RadioSettings): AntennaGain | null {
  if (antennaGainDbi !== null) return { dbi: antennaGainDbi };
  return antennaGainDbic === null ? null : { dbic: antennaGainDbic };
}

/** A loss that nobody states is taken as none: the EIRP is then rather stated too high than too low. */
function radiatedOf(stated: RadioSettings, powerDbm: number | null): RadiatedPower | null {
  const gain = gainOf(stated);
  if (powerDbm === null || gain === null) return null;
  return radiatedPower({ powerDbm, cableLossDb: stated.cableLossDb ?? 0, gain });
}

function statedLimit({ limitDbmEirp, limitDbmErp, source }: RadioSettings): RadioLimit | null {
  const limitDbm = limitDbmEirp ?? (limitDbmErp === null ? null : limitDbmErp + dipoleGainDbi);
  return limitDbm === null ? null : { limitDbm, source: source ?? "facility.yaml", mark: "stated" };
}

function exposureBy(
  { name, mark, limitWPerM2 }: ExposureRule,
  eirpDbm: number,
  frequencyMhz: number,
): RadioResult["exposure"][number] {
  const limit = limitWPerM2(frequencyMhz);
  return { rule: name, mark, limitWPerM2: limit, distanceM: exposureDistanceM(eirpDbm, limit) };
}
