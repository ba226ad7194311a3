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

/** The lags of a selection. */
export interface CountedLags {
  /** Rising. */
  seconds: Float64Array;
  /** The rows and the tags that they are of. */
  rows: ReadonlySet<number>;
  tags: ReadonlySet<number>;
}

const lagsSorted = new WeakMap<Lags, Map<string, CountedLags>>();

/** The lags that count, sorted once for all figures of a selection: of a million sightings that takes a tenth of a second. */
export function countedLags(selection: JourneySelection): CountedLags {
  const { outcomes, round, leg, withVoids } = selection;
  const known = lagsSorted.get(outcomes.lags) ?? new Map<string, CountedLags>();
  lagsSorted.set(outcomes.lags, known);
  const key = `${round} ${leg} ${withVoids}`;
  const counted = known.get(key) ?? sortedLags(selection);
  known.set(key, counted);
  return counted;
}

function sortedLags(selection: JourneySelection): CountedLags {
  const { outcomes, leg } = selection;
  const { lags } = outcomes;
  const isCounted = new Uint8Array(outcomes.rows.length);
  for (const row of countedItems(selection)) isCounted[row] = 1;
  const seconds = new Float64Array(lags.length);
  const rows = new Set<number>();
  const tags = new Set<number>();
  let count = 0;
  // Lags come by tag, and those of one row often follow each other.
  let last = { row: -1, tag: -1 };
  for (let i = 0; i < lags.length; i += 1) {
    const row = lags.row[i]!;
    if (isCounted[row] === 0 || (leg !== null && lags.leg[i] !== leg)) continue;
    seconds[count] = lags.seconds[i]!;
    count += 1;
    const tag = lags.tag[i]!;
    if (row === last.row && tag === last.tag) continue;
    last = { row, tag };
    rows.add(row);
    tags.add(tag);
  }
  // Numbers alone sort several times as fast as a list does.
  return { seconds: seconds.subarray(0, count).sort(), rows, tags };
}
