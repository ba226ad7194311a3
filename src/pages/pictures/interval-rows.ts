import type { Figures, Scale } from "../../measures/scales.ts";
import type { Sense } from "../../model/facility.ts";
import type { Estimate, State } from "../../model/result.ts";
import type { Conceded } from "./state-box.ts";

/** One line of a row: an estimate with its bounds. */
export interface IntervalLine {
  /** What tells this line from the others of its row: a round's title; null where the row has one line. */
  label: string | null;
  estimate: Estimate;
  /** `171 of 200`. */
  count: string;
  figures: Figures;
  /** An earlier line is drawn thin and open, the later one full. */
  earlier: boolean;
  /** What stands in the track where there is no estimate: `no pass walked`. */
  emptyWord: string;
}

/** One row of the interval picture. */
export interface IntervalRow {
  label: string;
  /** A second, quieter line under the label: the group, the criterion. */
  detail: string;
  /** Null where the row is not judged: no box, no word. */
  state: State | null;
  conceded: Conceded;
  scale: Scale;
  sense: Sense;
  /** Null where no limit applies. */
  limit: number | null;
  lines: IntervalLine[];
}

export interface IntervalPicture {
  /** Prefix of the ids inside, unique on the page. */
  id: string;
  title: string;
  description: string;
  /** Worst first. All of one unit and one sense. */
  rows: IntervalRow[];
  /** `stretched` draws the scale out towards the end that is asked for; RSSI is always even. */
  scale: "even" | "stretched";
}
