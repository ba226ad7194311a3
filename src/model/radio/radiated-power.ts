import pow from "@stdlib/math-base-special-pow";
/*
 * What an antenna radiates: numbers in, numbers out, in decibels.
 */

/** e.r.p. is stated against a half-wave dipole, whose gain is 2.15 dBi (computed from the dipole's pattern). */
export const dipoleGainDbi = 2.15;

/**
 * What a gain in dBic is above the gain in one plane: a circular antenna puts half of its power into either plane. From memory;
 * FCC knowledge base 192659 (2007, read) counts the highest gain in one plane, and installers' formulas for EN 302 208 take 3 dB off (quoted).
 */
const circularDb = 3;

/** A level in dBm of a power in watts: 2 W is 33.01 dBm. */
export function dBmOfWatts(watts: number): number {
  return 10 * Math.log10(watts) + 30;
}

/** The power in watts of a level in dBm: 36 dBm is 3.98 W. */
export function wattsOfDbm(dBm: number): number {
  return pow(10, (dBm - 30) / 10);
}

/** What a reader, its cable and its antenna are set to. */
export interface Feed {
  /** At the reader's port. */
  powerDbm: number;
  /** Cable and connectors. */
  cableLossDb: number;
  gain: AntennaGain;
}

/** In dBi for an antenna of one plane, in dBic for a circular one. */
export type AntennaGain = { dbi: number } | { dbic: number };

/** What leaves the antenna in its main beam. */
export interface RadiatedPower {
  /** At the antenna's terminals. */
  conductedDbm: number;
  /** The gain in one plane. */
  gainDbi: number;
  /** In one plane: what a rule counts, and what a tag of one plane can take. */
  eirpDbm: number;
  /** The same against a half-wave dipole. */
  erpDbm: number;
  /** In both planes together: what a person is exposed to. */
  totalEirpDbm: number;
}

/**
 * EIRP = conducted power - cable and connector loss + antenna gain; e.r.p. is 2.15 dB less. A circular antenna counts 3 dB less in
 * one plane than in both.
 *
 * Example: 31.5 dBm, 1.5 dB of cable, 6 dBi: 30 dBm at the antenna and 36 dBm EIRP.
 */
export function radiatedPower({ powerDbm, cableLossDb, gain }: Feed): RadiatedPower {
  const conductedDbm = powerDbm - cableLossDb;
  const wholeGain = "dbi" in gain ? gain.dbi : gain.dbic;
  const gainDbi = "dbi" in gain ? gain.dbi : gain.dbic - circularDb;
  const eirpDbm = conductedDbm + gainDbi;
  return {
    conductedDbm,
    gainDbi,
    eirpDbm,
    erpDbm: eirpDbm - dipoleGainDbi,
    totalEirpDbm: conductedDbm + wholeGain,
  };
}
