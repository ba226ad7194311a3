import type { RunRow } from "./journey.ts";

/** How an item fared on a leg. */
export const LegState = {
  notSeen: 0,
  /** Seen, but only after the leg's time was over: that is not seen. */
  late: 1,
  seen: 2,
  /** Seen in time, but before an earlier leg. */
  outOfOrder: 3,
} as const;

/** Whether the carrier was heard with an item on a leg. */
export const CarrierState = { notAsked: 0, notHeard: 1, heard: 2 } as const;

/** Whether an item was seen in the order of the legs. */
export const OrderState = {
  /** Seen on fewer than two legs. */
  unknown: 0,
  broken: 1,
  kept: 2,
} as const;

/** What became of every item on every leg, in columns: `row * legs + leg` is the place of an item's leg. */
export interface Outcomes {
  rows: readonly RunRow[];
  legs: number;
  /** By row: the number of its run; runs of different rounds are different. */
  run: Int32Array;
  /** When each run began, ISO 8601 in UTC, by its number. */
  runStarts: readonly string[];
  /** One of `LegState`. */
  state: Uint8Array;
  /** First sighting while the run was under way, microseconds since 1970; NaN where there is none. */
  atUs: Float64Array;
  /** From when the leg's time counts: the latest earlier leg seen, or the start. */
  sinceUs: Float64Array;
  /** One of `CarrierState`. */
  carrier: Uint8Array;
  /** The carrier's sighting nearest in time; NaN where there is none. */
  carrierUs: Float64Array;
  /** By row: 1 where the item was seen on every leg that is not optional. */
  whole: Uint8Array;
  /** By row: one of `OrderState`. */
  order: Uint8Array;
  lags: Lags;
}

/** How long it took until a site knew of each sighting that tells it; a sighting of several rows belongs to the first that counts. */
export interface Lags {
  length: number;
  row: Int32Array;
  /** The first leg at its read point; -1 in a wrong place. */
  leg: Int32Array;
  /** The sighted tag. */
  tag: Int32Array;
  seconds: Float64Array;
}

/** The rows that a figure of a journey looks at. */
export interface JourneySelection {
  outcomes: Outcomes;
  /** Index of the round. */
  round: number;
  /** Index of the leg; null for the journey as a whole. */
  leg: number | null;
  /** Whether void rows are counted in. */
  withVoids: boolean;
}

/** The rows of a selection's round that count. */
export function countedItems({ outcomes, round, withVoids }: JourneySelection): number[] {
  const counted: number[] = [];
  for (const [index, row] of outcomes.rows.entries())
    if (row.round === round && (withVoids || row.voidReason === null)) counted.push(index);
  return counted;
}
