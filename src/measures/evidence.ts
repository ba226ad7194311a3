import type { Criterion } from "../model/facility.ts";
import type { Remark } from "../model/remark.ts";
import type { Selection } from "../model/rows.ts";
import type { ClusteredCounts } from "../statistics/effective-sample.ts";
import type { Levels } from "../statistics/order-statistic.ts";

/** What was heard while nothing was presented. */
export interface IdleCounts {
  /** Tags heard, each counted once in every clock minute that heard it. */
  tags: number;
  /** How long nothing was presented, in minutes; not whole. */
  minutes: number;
  /** Tags by clock minute, the silent minutes included; the order carries no meaning. */
  byMinute: number[];
}

/** What a measure found in a selection: counts, before any interval is made of them. */
export type Evidence = { passes: number; remarks: Remark[] } & (
  | { kind: "presentations"; counts: ClusteredCounts }
  | { kind: "passes"; k: number; n: number }
  | { kind: "levels"; levels: Levels; quantile: number }
  | { kind: "minutes"; counts: IdleCounts }
);

/** A measure: what it counts and how it gathers it. One file a measure, listed in `measures/catalogue.ts`. */
export interface Measure {
  /** The unit of n, in the plural. */
  unit: "presentations" | "passes" | "bystander presentations" | "idle minutes";
  gather(selection: Selection, criterion: Pick<Criterion, "quantile" | "observed" | "expected">): Evidence;
}
