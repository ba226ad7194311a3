import type { Comparison } from "./comparison.ts";
import type { Estimate, State } from "./estimate.ts";
import type {
  Concession,
  Condition,
  Criterion,
  FloorPlan,
  OpenPoint,
  Party,
  Report,
  Round,
  Sense,
} from "./facility.ts";
import type { HeardSummary } from "./heard.ts";
import type { InputFile, PassForm } from "./pass-log.ts";
import type { PlanResult } from "./plan.ts";
import type { Problem } from "./problem.ts";
import type { Remark } from "./remark.ts";

export type { Estimate, State } from "./estimate.ts";

/** The archived object: complete and versioned; every page is a function of it. */
export interface Result {
  schemaVersion: 1;
  tool: { name: "proofwalk"; version: string };
  facility: {
    id: string;
    name: string;
    client: string | null;
    address: string | null;
    timeZone: string | null;
    floorPlan: FloorPlan | null;
  };
  report: Report | null;
  preparedBy: Party | null;
  witnessedBy: Party[];
  /** The settings every interval was made with. */
  basis: {
    confidence: number;
    /** The id of the interval's card. */
    interval: string;
    missCorrelation: number;
    /** Divides, between rounds, no change that matters from no change shown. */
    smallestChangeThatMatters: number;
  };
  /** The facility's sign-off round. */
  signOffRound: string;
  state: State;
  rounds: Round[];
  conditions: Condition[];
  criteria: Criterion[];
  /** In the order of facility.yaml. */
  readPoints: ReadPointResult[];
  /** By criterion, then read point, in the order of facility.yaml, then group. */
  findings: Finding[];
  /** By read point and pair of rounds: the whole, then each value of each condition. */
  comparisons: Comparison[];
  /** How much is to be walked, and what was walked of it; null where facility.yaml plans nothing. */
  plan: PlanResult | null;
  concessions: ConcessionResult[];
  openPoints: OpenPoint[];
  problems: Problem[];
  inputs: InputFile[];
}

export interface ReadPointResult {
  id: string;
  name: string;
  kind: string | null;
  at: { x: number; y: number } | null;
  equipment: Record<string, string>;
  state: State;
  signOffRound: string;
  remarks: Remark[];
  /** Every declared round, walked or not. */
  rounds: RoundResult[];
}

/** What one round showed at one read point. */
export interface RoundResult {
  id: string;
  /** Valid passes. */
  passes: number;
  voidPasses: number;
  tagsPresented: number;
  tagsRead: number;
  tagReadRate: Estimate;
  completePassRate: Estimate;
  strayPassRate: Estimate;
  bystanderReadRate: Estimate;
  /** The read rate with the void passes counted in; equal to tagReadRate where there are none. */
  withVoids: { tagsPresented: number; tagsRead: number; tagReadRate: Estimate };
  /** One entry a declared condition, in the order of facility.yaml. */
  byCondition: ConditionBreakdown[];
  /** One entry a pair of declared conditions. */
  grids: ConditionGrid[];
  /** Strongest RSSI of the tags read; null where none was recorded. */
  rssi: RssiSummary | null;
  /** Tags read by the antenna that the log names, in natural order; empty where none is named. */
  antennas: { antenna: string; tagsRead: number; medianRssiDbm: number | null }[];
  /** What the readers' own logs show, over valid timed passes; null where none was walked. */
  heard: HeardSummary | null;
  /** Tags missed at least once in a valid pass, most often missed first, then fewest presented, then by code point. */
  missedTags: MissedTag[];
  /** In the order walked: by start, then by pass id in natural order. */
  passList: PassResult[];
}

export interface ConditionBreakdown {
  column: string;
  /** In the order of the condition's values; a value that was walked nowhere in this round has n = 0. */
  groups: { value: string; passes: number; tagReadRate: Estimate }[];
}

export interface ConditionGrid {
  rowColumn: string;
  columnColumn: string;
  rowValues: string[];
  columnValues: string[];
  /** Row by row; passes = 0 is a gap: nobody walked it. */
  cells: { row: string; column: string; passes: number; tagReadRate: Estimate }[];
}

export interface RssiSummary {
  /** How many reads carry an RSSI. */
  n: number;
  minDbm: number;
  q05Dbm: number;
  medianDbm: number;
  q95Dbm: number;
  maxDbm: number;
  /** Counts in steps of `binWidthDb`, each from `fromDbm` (inclusive), without gaps. */
  binWidthDb: number;
  bins: { fromDbm: number; count: number }[];
}

export interface MissedTag {
  tag: string;
  /** Its pure identity, or its raw URI; null for a label that is no code. */
  uri: string | null;
  presented: number;
  missed: number;
  /** Ids of the valid passes that missed it, in the order walked. */
  passes: string[];
}

export interface PassResult {
  id: string;
  form: PassForm;
  startedAt: string | null;
  endedAt: string | null;
  startedAtLocal: string | null;
  endedAtLocal: string | null;
  voidReason: string | null;
  walkedBy: string[];
  notes: string[];
  /** By condition column: the values its presented tags were walked under (band names where it has bands). */
  conditions: Record<string, string[]>;
  extras: { column: string; values: string[] }[];
  tagsPresented: number;
  tagsRead: number;
  /** Codes missed, by code point; null in a tally, which knows only how many. */
  missedTags: string[] | null;
  /** Codes heard uninvited, by code point; null where the log names none (not recorded, or a tally). */
  strayTags: string[] | null;
  /** How many strays; null where strays were not recorded. */
  strays: number | null;
  bystandersPresented: number;
  manifest: string | null;
  file: string;
}

/** One criterion at one read point, and in one group where the criterion holds for each value on its own. */
export interface Finding {
  criterion: string;
  readPoint: string;
  round: string;
  /** Column and value; null without `for_each`. */
  group: Record<string, string> | null;
  state: State;
  measure: string;
  limit: number;
  sense: Sense;
  /** Passes counted. */
  passes: number;
  /** Void passes that would have been counted. */
  voidPasses: number;
  estimate: Estimate;
  /** The same figure with the void passes counted in; null where there are none. */
  withVoids: Estimate | null;
  toSettle: ToSettle | null;
  concession: ConcessionResult | null;
  remarks: Remark[];
  /** What other assumed correlations would have given; empty for measures that do not use it. */
  sensitivity: {
    missCorrelation: number;
    lower: number | null;
    upper: number | null;
    effectiveN: number | null;
    state: State;
  }[];
}

/** What would move a finding on; null in a finding that is met or not met. */
export type ToSettle =
  | {
      /** Of n, in the plural. */
      unit: string;
      /** How many further ones without a fault reach the limit, holding the design effect; null where none will. */
      furtherWithoutMiss: number | null;
      /** The value is on the wrong side of the limit, or on it: walking on cannot settle it in favour. */
      retune: boolean;
    }
  | { furtherPasses: number };

export interface ConcessionResult extends Concession {
  /** Whether `until` lies before the report's issue date. */
  expired: boolean;
}
