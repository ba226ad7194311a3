import { describe, expect, test } from "vitest";
import { exposureDistanceM, exposureRules, farFieldM } from "../../src/model/radio/exposure.ts";
import { dwellS, persistences } from "../../src/model/radio/inventory.ts";
import { forwardRangeM, freeSpaceLossDb } from "../../src/model/radio/link-budget.ts";
import {
  dBmOfWatts,
  dipoleGainDbi,
  radiatedPower,
  wattsOfDbm,
} from "../../src/model/radio/radiated-power.ts";
import { conductedLimitDbm, overByDb, type Region, radioRules } from "../../src/model/radio/rules.ts";

describe("Radiated power", () => {
  test("31.5 dBm behind 1.5 dB of cable and 6 dBi just meets the 36 dBm EIRP of 47 CFR 15.247", () => {
    // Computed from the definition of EIRP.
    const radiated = radiatedPower({ powerDbm: 31.5, cableLossDb: 1.5, gain: { dbi: 6 } });
    expect(radiated.eirpDbm).toBeCloseTo(36, 10);
    expect(radiated.erpDbm).toBeCloseTo(33.85, 10);
    expect(overByDb(radiated, { limitDbm: 36, conductedDbm: conductedLimitDbm(radioRules.us, 6) })).toBe(0);
  });

  test("an antenna of 6 dBi behind 0.6 dB of cable may be fed 30.6 dBm for 36 dBm EIRP", () => {
    // The worked example of a fixed reader's user guide, under "Reader RF power". Provenance: read.
    expect(radiatedPower({ powerDbm: 30.6, cableLossDb: 0.6, gain: { dbi: 6 } }).eirpDbm).toBeCloseTo(36, 10);
  });

  test("7.74 dBm into 3.63 dBi is 11.37 dBm EIRP", () => {
    // Filing PBN-EX23DTH with the FCC, MPE calculations (2012). Provenance: read.
    expect(radiatedPower({ powerDbm: 7.74, cableLossDb: 0, gain: { dbi: 3.63 } }).eirpDbm).toBeCloseTo(
      11.37,
      10,
    );
  });

  test("a circular antenna counts 3 dB less in one plane: P = EIRP - G - 2.15 + 5.15 + cable", () => {
    // A reader's manual, section on Brazil, for 36 dBm EIRP. Provenance: read.
    const [gain, cable] = [8.5, 1.2];
    const powerDbm = 36 - gain - 2.15 + 5.15 + cable;
    const radiated = radiatedPower({ powerDbm, cableLossDb: cable, gain: { dbic: gain } });
    expect(radiated.eirpDbm).toBeCloseTo(36, 10);
    expect(radiated.totalEirpDbm).toBeCloseTo(39, 10);
  });

  test("47 CFR 15.247 takes a dB of conducted power for each dB of gain above 6 dBi", () => {
    // As quoted by another source; FCC knowledge base 192659 (2007), read, counts the highest gain in one plane.
    expect([2, 6, 9].map((gain) => conductedLimitDbm(radioRules.us, gain))).toEqual([30, 30, 27]);
    const low = radiatedPower({ powerDbm: 32, cableLossDb: 0, gain: { dbi: 2 } });
    expect(overByDb(low, { limitDbm: 36, conductedDbm: conductedLimitDbm(radioRules.us, 2) })).toBe(2);
  });

  test.each<[Region, number, number]>([
    // ETSI EN 302 208. Provenance: read; the figures in dBm are computed.
    ["eu-lower", 2, 35.16],
    ["eu-upper", 4, 38.17],
  ])("%s allows %i W e.r.p., %f dBm EIRP", (region, watts, eirp) => {
    expect(dBmOfWatts(watts) + dipoleGainDbi).toBeCloseTo(eirp, 2);
    expect(radioRules[region]!.limitDbmEirp).toBeCloseTo(eirp, 2);
  });
});

describe("Exposure", () => {
  test.each([
    // Filings with the FCC that work out S = P G / (4 pi r^2). Provenance: read. mW, gain, cm, mW/cm2 and its last digit.
    [500, 2.818, 20, 0.2803, 1e-4],
    [794.33, 1, 25, 0.101, 1e-3],
    [39.811, 1, 20, 0.00792, 1e-5],
    [108.8930093, 1.584893192, 20, 0.034334, 1e-6],
    [5.94, 2.31, 20, 0.0027, 1e-4],
  ])("%f mW with gain %f gives %f cm away what the filing states", (mW, gain, cm, density, digit) => {
    // 1 mW/cm2 is 10 W/m2.
    const distanceCm = (each: number) => 100 * exposureDistanceM(dBmOfWatts((mW / 1000) * gain), 10 * each);
    expect(cm).toBeGreaterThan(distanceCm(density + digit / 2));
    expect(cm).toBeLessThan(distanceCm(density - digit / 2));
  });

  test.each([
    // Computed from the limits of 47 CFR 1.1310 (read) and ICNIRP 2020 (memory), in cm.
    [36, 915, 22.8, 26.3],
    [dBmOfWatts(2) + dipoleGainDbi, 866, 21.3, 24.6],
    [dBmOfWatts(4) + dipoleGainDbi, 916.3, 29.2, 33.8],
  ])("%f dBm EIRP at %f MHz meets the limits for the public at %f and %f cm", (eirp, mhz, fcc, icnirp) => {
    const distances = exposureRules.map((rule) => 100 * exposureDistanceM(eirp, rule.limitWPerM2(mhz)));
    expect(distances[0]).toBeCloseTo(fcc, 1);
    expect(distances[1]).toBeCloseTo(icnirp, 1);
  });

  test("the far field of a 25 cm panel begins at about 0.4 m", () => {
    // Computed from 2 D^2 / lambda.
    expect(farFieldM(0.25, 915)).toBeCloseTo(0.38, 2);
    expect(wattsOfDbm(36)).toBeCloseTo(3.981, 3);
  });
});

describe("Link budget", () => {
  test.each([
    // Computed from Friis's equation, whose form was read.
    [1, 915, 31.68],
    [3, 915, 41.22],
    [10, 915, 51.68],
    [1, 866.5, 31.2],
  ])("free space loses over %f m at %f MHz %f dB", (distance, mhz, loss) => {
    expect(freeSpaceLossDb(distance, mhz)).toBeCloseTo(loss, 2);
  });

  const tag = { tagGainDbi: 2.15, tagThresholdDbm: -18 };
  test.each([
    // Computed likewise; the second has 3 dB of polarisation loss.
    [{ ...tag, eirpDbm: 36, frequencyMhz: 915 }, 16.74],
    [{ ...tag, eirpDbm: 33, tagGainDbi: 2, frequencyMhz: 915 }, 11.65],
    [{ ...tag, eirpDbm: dBmOfWatts(2) + dipoleGainDbi, frequencyMhz: 866.5 }, 16.05],
  ])("the range of a link is as reckoned by hand", (link, range) => {
    expect(forwardRangeM(link)).toBeCloseTo(range, 2);
  });

  test("a good fixed reader at 31.5 dBm should reach beyond 30 ft", () => {
    // Common practice, no source: a check value.
    const { eirpDbm } = radiatedPower({ powerDbm: 31.5, cableLossDb: 1.5, gain: { dbi: 6 } });
    expect(forwardRangeM({ ...tag, eirpDbm, frequencyMhz: 915 })).toBeGreaterThan(30 * 0.3048);
  });
});

test("tags keep silent 0.5 to 5 s in session 1, over 2 s in sessions 2 and 3, and not at all in session 0", () => {
  // EPC Gen2 air interface, table 6.14. Provenance: read.
  expect(persistences).toEqual({
    "0": null,
    "1": { fromS: 0.5, toS: 5 },
    "2": { fromS: 2, toS: null },
    "3": { fromS: 2, toS: null },
  });
});

test("a zone of 3 m at 1.5 m/s leaves 2 s, so that 60 tags need 30 a second", () => {
  // Computed from the definitions: dwell is length over speed, the needed rate tags over dwell.
  expect(dwellS(3, 1.5)).toBe(2);
  expect(60 / dwellS(3, 1.5)).toBe(30);
});
