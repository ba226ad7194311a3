import pow from "@stdlib/math-base-special-pow";
import { wavelengthM } from "./exposure.ts";

/*
 * How far a reader should reach in free space. Fading of 8 dB and more is usual where goods, floors and people are: plausibility only.
 */

/** A tag as it is sold for goods: a half-wave dipole, and what its chip needs. From memory. */
export const usualTag = { gainDbi: 2.15, thresholdDbm: -18 };

/**
 * Loss between isotropic antennas in free space, dB: 20 log10(4 pi d / lambda). Source: H. T. Friis (1946), Proc. IRE 34, 254-256
 * (form read elsewhere). Example: 31.68 dB over 1 m at 915 MHz.
 */
export function freeSpaceLossDb(distanceM: number, frequencyMhz: number): number {
  return 20 * Math.log10((4 * Math.PI * distanceM) / wavelengthM(frequencyMhz));
}

/** One way from the reader to the tag. */
export interface ForwardLink {
  /** In one plane. */
  eirpDbm: number;
  frequencyMhz: number;
  tagGainDbi: number;
  /** What the tag's chip needs to answer. */
  tagThresholdDbm: number;
}

/** What is left above the tag's threshold at a distance, dB; negative beyond the range. */
export function spareDb(link: ForwardLink, distanceM: number): number {
  const atChip = link.eirpDbm - freeSpaceLossDb(distanceM, link.frequencyMhz) + link.tagGainDbi;
  return atChip - link.tagThresholdDbm;
}

/**
 * The distance in metres at which nothing is left: (lambda / 4 pi) sqrt(EIRP x tag gain / threshold). Example: 36 dBm at 915 MHz, tag of
 * 2.15 dBi and -18 dBm: 16.74 m.
 */
export function forwardRangeM(link: ForwardLink): number {
  return pow(10, spareDb(link, 1) / 20);
}
