/** A plain observation beside a figure; the pages put it into words. */
export type Remark =
  /** A read point that no criterion covers. */
  | { code: "no-criterion" }
  /** A criterion covers the read point, but holds for each value of a condition of which no value was walked yet. */
  | { code: "no-value-walked" }
  /** Every presentation lies in one pass, or on one tag. */
  | { code: "one-cluster"; dimension: "pass" | "tag" }
  /** Tallies do not name tags, so the finding counts passes only. */
  | { code: "forms-mixed" }
  /** Passes whose log records no strays were left out. */
  | { code: "strays-not-recorded"; passes: number }
  /** Passes whose log records no RSSI were left out. */
  | { code: "rssi-not-recorded"; passes: number }
  /** The read point is judged on a round that is not the facility's. */
  | { code: "own-round"; round: string };
