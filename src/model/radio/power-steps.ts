/** What a power log says of one read point in one round: how many tags were read at each transmit power. */
export interface PowerSteps {
  readPoint: string;
  round: string;
  /** The transmit power that the settings of the round state; null where they state none. */
  inUseDbm: number | null;
  /** Rows of one power put together, the lowest power first; each presented tags. */
  steps: PowerStep[];
  /** Tags that were presented alike; null where the log counts its tags and does not name them. */
  cohorts: PowerCohort[] | null;
}

/** So many tags, each presented `trials[i]` times at the step `groups[i]`, which is numbered from 0. */
export interface PowerCohort {
  subjects: number;
  groups: number[];
  trials: number[];
}

export interface PowerStep {
  powerDbm: number;
  presented: number;
  read: number;
}

/** The powers that a reader could transmit at, conducted: common practice, no source. */
export const transmitPowerDbm = { lowest: -30, highest: 40 } as const;
