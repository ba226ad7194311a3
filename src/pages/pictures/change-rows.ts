import type { Change } from "../../model/comparison.ts";
import type { PointFigures } from "../words/points.ts";
import type { IntervalLine } from "./interval-rows.ts";

/** One row of the picture of before and after: the rates of both rounds, and how far they lie apart. */
export interface ChangeRow {
  label: string;
  change: Change;
  /** The earlier round's rate, then the later one's; one empty line where they cannot be compared. */
  lines: IntervalLine[];
  /** Null where they cannot be compared. */
  difference: { value: number; lower: number; upper: number; figures: PointFigures } | null;
}

export interface ChangePicture {
  /** Prefix of the ids inside, unique on the page. */
  id: string;
  title: string;
  description: string;
  /** The titles of the two rounds. */
  before: string;
  after: string;
  /** A fraction; differences within plus and minus this do not matter. */
  smallestChangeThatMatters: number;
  /** Worst first. */
  rows: ChangeRow[];
}
