import { wattsOfDbm } from "./radiated-power.ts";
import type { Mark } from "./rules.ts";

/*
 * How near an antenna the limit for the general public is reached: a planning aid, in the main beam and the far field, with the
 * transmitter on all the time. It is no clearance.
 */

const speedOfLight = 299_792_458;

/** Metres. */
export function wavelengthM(frequencyMhz: number): number {
  return speedOfLight / (frequencyMhz * 1e6);
}

/** A limit of exposure for the general public. */
export interface ExposureRule {
  name: string;
  mark: Mark;
  /** W/m2 at a frequency in MHz. */
  limitWPerM2(frequencyMhz: number): number;
}

export const exposureRules: readonly ExposureRule[] = [
  {
    name: "47 CFR 1.1310, general population, 300 to 1500 MHz: f/1500 mW/cm\u00b2",
    mark: "read",
    limitWPerM2: (frequencyMhz) => frequencyMhz / 150,
  },
  {
    name: "ICNIRP 2020 and EU 1999/519/EC, general public, 400 to 2000 MHz: f/200 W/m\u00b2",
    mark: "memory",
    limitWPerM2: (frequencyMhz) => frequencyMhz / 200,
  },
];

/**
 * The distance in metres at which the power density of an EIRP in dBm falls to a limit in W/m2: S = EIRP / (4 pi r^2). Source: OET
 * Bulletin 65 (FCC, 1997), equation 4 (quoted in filings). Example: 36 dBm at 915 MHz, FCC general population: 0.228 m.
 */
export function exposureDistanceM(eirpDbm: number, limitWPerM2: number): number {
  return Math.sqrt(wattsOfDbm(eirpDbm) / (4 * Math.PI * limitWPerM2));
}

/** From here on the far field holds: 2 D^2 / lambda, with the antenna's largest side D in metres. Example: 0.25 m at 915 MHz: 0.38 m. */
export function farFieldM(antennaSizeM: number, frequencyMhz: number): number {
  return (2 * antennaSizeM * antennaSizeM) / wavelengthM(frequencyMhz);
}
