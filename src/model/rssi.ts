/**
 * What an RSSI can be, in dBm: in pass logs, in readers' own logs and as the limit of a criterion. UHF readers decode
 * tags down to about -90 dBm, thermal noise in a channel of 250 kHz is -120 dBm already, and a tag never returns the
 * milliwatt of 0 dBm: a number beyond is on another scale. Common practice, not a rule of a standard.
 */
export const rssiRangeDbm = { lowest: -120, highest: 0 } as const;
