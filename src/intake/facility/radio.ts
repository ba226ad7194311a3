import { z } from "zod";
import { dipoleGainDbi } from "../../model/radio/radiated-power.ts";
import { type RadioSettings, radioResult } from "../../model/radio/radio-settings.ts";
import { radioRules, regions } from "../../model/radio/rules.ts";
import type { Path, YamlReport } from "../problems/reports.ts";
import {
  radioFrequencyOutside,
  radioLimitUnstated,
  radioOverLimit,
  radioPowerUnknown,
  radioStatedTwice,
} from "../problems/yaml.ts";
import { optional, settingTexts, words } from "../yaml/shape.ts";

/* What a round says of the radio of a read point. */

const length = (most: number) => z.number().positive().max(most);
const decibels = (least: number, most: number) => z.number().min(least).max(most);

export const radioSchema = z.strictObject({
  region: optional(
    z.enum(regions),
    "The rule on radiated power: eu-lower (EN 302 208, 865 to 868 MHz), eu-upper (915 to 921 MHz), us (47 CFR 15.247), or other, with a limit and its source.",
  ),
  limit_dbm_eirp: optional(
    decibels(-30, 60),
    "A limit that holds here, in dBm EIRP; with a region, the stricter of the two counts.",
  ),
  limit_dbm_erp: optional(decibels(-30, 60), "The same in dBm e.r.p., where the rule speaks of it."),
  source: words("Where the stated limit comes from: the rule, licence or agreement."),
  frequency_mhz: optional(decibels(860, 960), "The frequency, MHz; the usual one of the region if left out."),
  cable_loss_db: optional(decibels(0, 60), "Loss of cable and connectors between reader and antenna, dB."),
  antenna_gain_dbi: optional(decibels(-40, 30), "Gain of an antenna of one plane, dBi."),
  antenna_gain_dbic: optional(
    decibels(-40, 30),
    "Gain of a circular antenna as its data sheet states it, dBic: 3 dB less in one plane.",
  ),
  antenna_size_m: optional(
    length(5),
    "The antenna's largest side, m: it says from where on the far field holds.",
  ),
  height_m: optional(decibels(0, 100), "How high the antenna hangs, m."),
  tilt_deg: optional(decibels(-180, 180), "How far the antenna is tilted down, degrees."),
  zone_m: optional(
    length(100),
    "How long the read zone is along the way of the tags, m: with the speed it gives the time to answer.",
  ),
  speed_m_s: optional(length(50), "The speed of passes whose log states none, m/s: a belt's, for instance."),
  reader_tags_per_s: optional(
    z.number().positive().max(10_000),
    "How many tags a second the reader is stated to read with these settings; 400 is usual, and taken if left out.",
  ),
  distance_m: optional(
    length(100),
    "How far from the antenna the tags of passes are whose log states no distance, m.",
  ),
  tag_gain_dbi: optional(decibels(-40, 10), "Gain of the tags' antenna, dBi; 2.15 if left out."),
  tag_threshold_dbm: optional(
    decibels(-40, 10),
    "What the tags' chip needs to answer, dBm; -18 if left out.",
  ),
});

type RawRadio = z.infer<typeof radioSchema>;

export function checkRadio(
  radio: RawRadio,
  { round, settings, path }: { round: string; settings: Record<string, unknown>; path: Path },
  report: YamlReport,
): void {
  const limits = [radio.limit_dbm_eirp, radio.limit_dbm_erp].filter((limit) => limit != null);
  const limitAt = [...path, radio.limit_dbm_eirp == null ? "limit_dbm_erp" : "limit_dbm_eirp"];
  if (limits.length === 2 && Math.abs(radio.limit_dbm_erp! + dipoleGainDbi - radio.limit_dbm_eirp!) > 0.01)
    report.value([...path, "limit_dbm_erp"], radioStatedTwice.limit({ eirp: radio.limit_dbm_eirp! }));
  if (radio.antenna_gain_dbi != null && radio.antenna_gain_dbic != null)
    report.value([...path, "antenna_gain_dbic"], radioStatedTwice.gain());
  if (limits.length === 0 && radio.region === "other")
    report.value([...path, "region"], radioLimitUnstated.limit());
  if (limits.length > 0 && radio.source == null) report.value(limitAt, radioLimitUnstated.source());
  const rule = radio.region == null ? null : radioRules[radio.region];
  if (rule !== null && radio.frequency_mhz != null) {
    const [from, to] = rule.bandMhz;
    if (radio.frequency_mhz < from || radio.frequency_mhz > to)
      report.value(
        [...path, "frequency_mhz"],
        radioFrequencyOutside.with({ region: radio.region!, from, to }),
      );
  }
  checkPower(radio, { round, settings, path }, report);
}

function checkPower(
  radio: RawRadio,
  { round, settings, path }: { round: string; settings: Record<string, unknown>; path: Path },
  report: YamlReport,
): void {
  const found = radioResult(round, normaliseRadio(radio), settingTexts(settings));
  if (found.limitDbm === null) return;
  const lacking = [
    ...(found.powerDbm === null ? [`transmit_power_dbm in the settings of round ${round}`] : []),
    ...(radio.antenna_gain_dbi == null && radio.antenna_gain_dbic == null
      ? ["antenna_gain_dbi or antenna_gain_dbic"]
      : []),
  ];
  if (lacking.length > 0) report.key(path, radioPowerUnknown.with({ lacking }));
  if (found.over) report.key(path, radioOverLimit.with({ readPoint: String(path.at(-1)), radio: found }));
}

export function normaliseRadio(radio: RawRadio): RadioSettings {
  return {
    region: radio.region ?? null,
    limitDbmEirp: radio.limit_dbm_eirp ?? null,
    limitDbmErp: radio.limit_dbm_erp ?? null,
    source: radio.source ?? null,
    frequencyMhz: radio.frequency_mhz ?? null,
    cableLossDb: radio.cable_loss_db ?? null,
    antennaGainDbi: radio.antenna_gain_dbi ?? null,
    antennaGainDbic: radio.antenna_gain_dbic ?? null,
    antennaSizeM: radio.antenna_size_m ?? null,
    heightM: radio.height_m ?? null,
    tiltDeg: radio.tilt_deg ?? null,
    zoneM: radio.zone_m ?? null,
    speedMPerS: radio.speed_m_s ?? null,
    readerTagsPerS: radio.reader_tags_per_s ?? null,
    distanceM: radio.distance_m ?? null,
    tagGainDbi: radio.tag_gain_dbi ?? null,
    tagThresholdDbm: radio.tag_threshold_dbm ?? null,
  };
}
