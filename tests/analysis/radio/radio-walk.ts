import type { Round } from "../../../src/model/facility.ts";
import type { RadioSettings } from "../../../src/model/radio/radio-settings.ts";

/** 31.5 dBm behind 1.5 dB of cable and 6 dBi in the US: just within the limit, but for what a test says of it. */
function radio(said: Partial<RadioSettings> = {}): RadioSettings {
  return {
    region: "us",
    limitDbmEirp: null,
    limitDbmErp: null,
    source: null,
    frequencyMhz: null,
    cableLossDb: 1.5,
    antennaGainDbi: 6,
    antennaGainDbic: null,
    antennaSizeM: null,
    heightM: null,
    tiltDeg: null,
    zoneM: null,
    speedMPerS: null,
    readerTagsPerS: null,
    distanceM: null,
    tagGainDbi: null,
    tagThresholdDbm: null,
    ...said,
  };
}

/** A round of dock-1. */
export function radioRound(id: string, said: Partial<RadioSettings> = {}, powerDbm = "31.5"): Round {
  return {
    id,
    title: id,
    date: null,
    changes: null,
    settings: { "dock-1": { transmit_power_dbm: powerDbm } },
    radio: { "dock-1": radio(said) },
  };
}
