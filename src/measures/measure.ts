import type { z } from "zod";
import type { Sense } from "../model/facility.ts";
import type { RoundResult } from "../model/result.ts";
import type { Selection } from "../model/rows.ts";
import type { Evidence } from "./evidence/evidence.ts";
import type { Figures, Scale } from "./scales.ts";

/**
 * A measure: everything that the tool knows of one way to count. A file a measure, listed in `index.ts`; whoever needs
 * something of a measure asks its card, and no other file names it.
 */
export interface Measure {
  readonly id: string;
  /** Its name in headings and tables. */
  readonly title: string;
  /** The unit of n, for one and for several. */
  readonly unit: { readonly one: string; readonly many: string };
  readonly scale: Scale;
  /** The side that is good where no criterion says which. */
  readonly usualSense: Sense;
  /** Whether it counts what happens between the passes: then it has no conditions, and void passes do not alter it. */
  readonly betweenPasses?: boolean;
  readonly criterion?: CriterionNeeds;
  readonly log: LogNeeds;
  /** Counts what a selection of the log holds. */
  collect(selection: Selection, criterion: Parameters): Evidence;
  readonly words: MeasureWords;
  /** How every round is summed up by it, asked for or not; left out where rounds are not. */
  readonly everyRound?: RoundRate;
  /** How a walk is sized for it; null where what it counts are no trials that succeed or fail. */
  readonly plan: PlannedTrials | null;
  /** Its line on the method page: what it counts, and of what. */
  readonly method: { readonly counts: string; readonly of: string };
}

/** What a criterion says beyond its limit, by key; a measure looks at its own keys. */
export type Parameters = Readonly<Record<string, unknown>>;

/** What a criterion has to say for its measure beyond a limit. */
export interface CriterionNeeds {
  /** Its own keys in facility.yaml. */
  parameters?: Readonly<Record<string, Parameter>>;
  /** What is wrong with the values of its own keys, their types aside. */
  faults?(written: Parameters): CriterionFault[];
  /** The sense that its limit cannot have, and why. */
  excluded?: { sense: Sense; advice: string };
}

export interface Parameter {
  schema: z.ZodType;
  /** Whether its value is the name of a column of the log. */
  namesColumn?: boolean;
}

/** Something wrong with a criterion, for whoever knows the file to report. */
export interface CriterionFault {
  /** The key whose value is wrong; null where the criterion lacks something. */
  key: string | null;
  /** Of the catalogue of problems, where it has one for this fault. */
  code?: string;
  /** What the criterion lacks. */
  lacks?: string;
  expected: string;
  advice: string;
}

/** What a measure needs of a log. */
export interface LogNeeds {
  /** The roles of the rows that it looks at (`Role`): where a criterion has conditions these rows must state them. */
  readonly roles: readonly number[];
  /** Whether a pass enters; every one does where left out. */
  enters?(pass: LoggedPass, criterion: Parameters): boolean;
  /** Whether each tag that was read must have its signal strength, in logs that record any. */
  readonly rssi?: boolean;
  /** Columns that a log must have, most important first: the first that it lacks is reported. */
  columns?(criterion: Parameters): NeededColumn[];
}

export interface LoggedPass {
  straysRecorded: boolean;
  /** Whether any of its rows has the column filled in. */
  isFilled(column: string): boolean;
}

export interface NeededColumn {
  column: string;
  /** Without it the passes of the log do not enter (a warning), or nothing can be judged (an error). */
  severity: "warning" | "error";
  /** Of the problem, where it has one of its own. */
  code?: string;
  /** What it is needed for. */
  purpose: string;
  advice: string;
}

/** How the figures of a measure read. */
export interface MeasureWords {
  /** `598 of 600 tags read`. */
  count(k: number, n: number): string;
  /** In a column of figures; `598 of 600` where left out. */
  shortCount?(k: number, n: number): string;
  /** What a presentation, a pass or a minute must be free of to count in favour: `a miss`. */
  readonly fault: string;
  /** What stands for a rate of which nothing was counted, as a sentence. */
  readonly nothing: string;
  /** The same for a finding of which so many passes count, without its full stop; in general words where left out. */
  nothingCounted?(passes: number): string;
  /** What the three figures say, where the value with its unit does not say it. */
  figure?(figures: Figures, criterion: Parameters): string;
  /** What a reader of its picture must know besides. */
  readonly howToRead?: string;
}

/** A rate that is worked out for every round at every read point. */
export interface RoundRate {
  /** Where the result has it. */
  readonly key: RateKey;
  /** Of its picture on the page of rounds. */
  readonly id: string;
  readonly title: string;
  /** What the last rounds of all read points showed where nothing was amiss. */
  readonly faultless: string;
  /** What stands where a round that was walked has no such rate. */
  readonly nothing: string;
  /** What is said where no round has it. */
  readonly never: string;
  /** Whether a read point is listed even where none of its rounds has it. */
  readonly isAlwaysListed?: boolean;
}

type RateKey = "tagReadRate" | "completePassRate" | "strayPassRate" | "bystanderReadRate";
export type RoundRates = Pick<RoundResult, RateKey>;

/** What a measure counts of a planned walk. */
export interface PlannedTrials {
  /** Each tag of a pass is a trial, or each pass is one. */
  readonly trials: "tags" | "passes";
  /** Whether only the tags that a criterion takes of a pass's load count. */
  readonly countsPresented: boolean;
  /** The rate expected at a read point that reads a share `readRate` of `tags` tags a pass; 0..1. */
  expected(load: { readRate: number; tags: number; missCorrelation: number }): number;
  /** `99.8 % of the tags are read`. */
  phrase(rate: string): string;
}
