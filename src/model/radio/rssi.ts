/**
 * What an RSSI can be, in dBm: in pass logs, in readers' own logs and as the limit of a criterion. Readers decode tags
 * down to about -90 dBm and never at the milliwatt of 0 dBm. The range is wider than that, because a refused row costs a
 * read: it takes what some readers write for "no level" (-128), and refuses other scales (-615, -6150). Common practice, not
 * a rule of a standard.
 */
export const rssiRangeDbm = { lowest: -200, highest: 0 } as const;

/** Whether a level, in dBm, lies in the range; NaN does not. */
export function isRssi(dbm: number): boolean {
  return dbm >= rssiRangeDbm.lowest && dbm <= rssiRangeDbm.highest;
}

/** `-200 to 0 dBm` */
export const rssiRangeText = `${rssiRangeDbm.lowest} to ${rssiRangeDbm.highest} dBm`;
