/** What a power log says of one read point in one round: how many tags were read at each transmit power. */
export interface PowerSteps {
  readPoint: string;
  round: string;
  /** The transmit power that the settings of the round state; null where they state none. */
  inUseDbm: number | null;
  /** Rows of one power put together, the lowest power first; each presented tags. */
  steps: PowerStep[];
}

export interface PowerStep {
  powerDbm: number;
  presented: number;
  read: number;
}

/** The powers that a reader could transmit at, conducted: common practice, no source. */
export const transmitPowerDbm = { lowest: -30, highest: 40 } as const;

const names = ["transmitpowerdbm", "transmitpower", "txpowerdbm", "txpower", "powerdbm", "power"];

/**
 * The transmit power that a round's settings state for a read point, in dBm; null where they state none, or not as a number.
 * The contract's name is `transmit_power_dbm`; other names of it, and the unit behind the number, are taken too.
 */
export function powerInUse(
  rounds: readonly { id: string; settings: Record<string, Record<string, string>> }[],
  { readPoint, round }: { readPoint: string; round: string },
): number | null {
  const settings = rounds.find(({ id }) => id === round)?.settings[readPoint] ?? {};
  const bare = (name: string) => name.toLowerCase().replace(/[^a-z]/g, "");
  const [stated] = Object.entries(settings)
    .filter(([name]) => names.includes(bare(name)))
    .sort(([one], [other]) => names.indexOf(bare(one)) - names.indexOf(bare(other)));
  const number = /^\s*([-+]?\d+(?:[.,]\d+)?)\s*(?:dbm)?\s*$/i.exec(stated?.[1] ?? "");
  return number === null ? null : Number(number[1]!.replace(",", "."));
}
