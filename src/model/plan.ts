import type { Sense } from "./facility.ts";

/** One combination of conditions that is walked: column and value as the plan writes it. */
export type PlanCell = Record<string, string>;

/** A facility's plan with its passes laid out, and what was walked of it. */
export interface PlanResult extends FacilityPlan {
  /** What every pass carries, where the plan names a manifest: its presented tags by code point, and the conditions it states of them. */
  load: { manifest: string; tags: string[]; columns: string[] } | null;
  /** By planned read point, in the order of facility.yaml. */
  walks: PlannedRoute[];
}

/** How many passes a facility's plan comes to. */
export interface FacilityPlan {
  facility: { id: string; name: string };
  basis: { confidence: number; interval: string; missCorrelation: number };
  seed: number;
  tagsPerPass: number;
  sameTags: boolean;
  expectedRate: number;
  /** By criterion, then read point, in the order of facility.yaml, then group. */
  findings: PlannedFinding[];
  /** Criteria whose measure this plan cannot size, and why. */
  unplanned: { criterion: string; measure: string }[];
  readPoints: PlannedReadPoint[];
}

export interface PlannedFinding {
  criterion: string;
  readPoint: string;
  group: Record<string, string> | null;
  measure: string;
  sense: Sense;
  limit: number;
  unit: "presentations" | "passes";
  /** How many tags of one pass count, in the group that gets the fewest. */
  tagsCounted: number;
  /** What the read point is expected to do, in what the criterion counts; 0..1. */
  expected: number;
  /** Not on the good side of the limit: however many passes, met is not to be expected. */
  impossible: boolean;
  /** Combinations of the plan whose passes count; with none the finding would be left untested. */
  cells: number;
  /** With no fault at all, and with one, two and three; null where out of reach. */
  fewest: { faults: number; passes: number | null }[];
  /** The same without a fault if the same tags went through in every pass. */
  fewestSameTags: number | null;
  forChance: PassesForChance[];
  /** Of a walk with the largest of the numbers above; null where there is none. */
  risk: RiskCurve | null;
}

/** Nobody walks more; past this a plan is called out of reach. */
export const mostPasses = 10_000;

/** A number of passes, and how likely it is to end in met; null where no number up to the most is likely enough. */
export interface PassesForChance {
  chance: number;
  passes: number | null;
  /** What the chance of met is with just that many passes. */
  reached: number | null;
  layouts: StateChances["layouts"] | null;
}

/** How a walk may end; the three sum to 1. */
export interface StateChances {
  met: number;
  undecided: number;
  notMet: number;
  /** Whether every layout whose verdict hangs on its pairs was counted, or the pairs of some were taken to be spread smoothly. */
  layouts: "exact" | "approximate";
}

/** How a walk may end at one true rate. */
export interface RiskPoint extends StateChances {
  /** The true rate, 0..1: of what the criterion counts. */
  rate: number;
}

export interface RiskCurve {
  passes: number;
  /** By rising rate. */
  points: RiskPoint[];
  /** The chance of met where the true rate only just misses what is asked: no worse rate is signed off more often. */
  wrongSignOff: { rate: number; chance: number };
  /** The chance of not met where the true rate only just keeps what is asked. */
  wrongRefusal: { rate: number; chance: number };
}

export interface PlannedReadPoint {
  readPoint: string;
  /** The passes of each combination, so that every finding has its number; null where one of them has none. */
  cells: { conditions: PlanCell; passes: number | null }[];
  passes: number | null;
  /** Findings for which nothing that is planned counts. */
  untested: number;
}

/** The passes that one read point is to get, and how far they have come. */
export interface PlannedRoute {
  readPoint: string;
  /** The round the passes are logged under: the read point's sign-off round. */
  round: string;
  /**
   * Every planned pass in the random order in which it is to be walked; empty where no number of passes will do. A
   * function of the plan and the criteria only, never of what was walked.
   */
  passes: { pass: string; conditions: PlanCell }[];
  /** Planned against done, by combination of conditions, in the order of the plan. */
  cells: CellOfPlan[];
}

/** What was walked of one combination of conditions. */
export interface CellWalked {
  /** Valid passes. */
  done: number;
  /** Tags that they presented under these conditions. */
  tagsDone: number;
}

export interface CellOfPlan extends CellWalked {
  conditions: PlanCell;
  /** Passes; null where no number of passes will do. */
  planned: number | null;
  state: CellState;
}

/**
 * How far one combination has come. `done`: as many valid passes as planned, carrying as many tags; `short`: some, but
 * not enough of either; `missing`: none; `not-asked`: no criterion counts it; `out-of-reach`: no number of passes will do.
 */
export type CellState = "done" | "short" | "missing" | "not-asked" | "out-of-reach";
