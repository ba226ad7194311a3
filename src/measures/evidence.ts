import type { Remark } from "../model/result.ts";
import type { ClusteredSample } from "../statistics/effective-sample.ts";
import type { CensoredSample } from "../statistics/order-statistic.ts";

/** What a measure found in a selection: counts, before any interval is made of them. */
export type Evidence = { passes: number; remarks: Remark[] } & (
  | { kind: "presentations"; counts: ClusteredSample }
  | { kind: "passes"; k: number; n: number }
  | { kind: "levels"; levels: CensoredSample; quantile: number }
  | { kind: "minutes"; counts: IdleCounts }
);

/** What was read while nothing was presented. */
export interface IdleCounts {
  /** Tags read, each counted once in every clock minute that read it. */
  tags: number;
  /** How long nothing was presented, in minutes; not whole. */
  minutes: number;
  /** Tags by clock minute, the silent minutes included; the order carries no meaning. */
  byMinute: number[];
}
