/*
 * How fast tags answer, and how long they then keep silent.
 */

/** Tags a second that a fixed reader with four ports usually manages at best: common practice, no source. */
export const usualTagsPerS = 400;

/** How long a tag in the zone can answer, in seconds. */
export function dwellS(zoneM: number, speedMPerS: number): number {
  return zoneM / speedMPerS;
}

/** How long a tag that has answered stays silent without power, in seconds. */
export interface Persistence {
  fromS: number;
  /** Null where there is no upper end. */
  toS: number | null;
}

/**
 * By session: S1 0.5 to 5 s, powered or not; S2 and S3 over 2 s; in S0 a tag forgets at once. Source: EPC Gen2 air interface (ISO/IEC
 * 18000-63), table 6.14 (read).
 */
export const persistences: Readonly<Record<string, Persistence | null>> = {
  "0": null,
  "1": { fromS: 0.5, toS: 5 },
  "2": { fromS: 2, toS: null },
  "3": { fromS: 2, toS: null },
};

/** A pause of so many seconds and longer is past what the session is sure or allowed to hold. */
export function pauseNeededS({ fromS, toS }: Persistence): number {
  return toS ?? fromS;
}
