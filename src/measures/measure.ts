import type { z } from "zod";
import type { Basis, Limit } from "../intervals/interval.ts";
import type { Sense } from "../model/facility.ts";
import type { JourneySelection } from "../model/journey/outcomes.ts";
import type { RoundResult } from "../model/result/round.ts";
import type { Selection } from "../model/rows.ts";
import type { Evidence } from "./evidence/evidence.ts";
import type { Figures, Scale } from "./scales.ts";

/** What people make so that there is something to count: a pass at a read point, a run of a journey. */
export interface WalkedUnit {
  readonly one: string;
  readonly many: string;
}

export const passUnit: WalkedUnit = { one: "pass", many: "passes" };
export const runUnit: WalkedUnit = { one: "run", many: "runs" };

/** What the tool knows of any way to count, at a read point or over a journey. */
export interface MeasureCard {
  readonly id: string;
  /** Its name in headings and tables. */
  readonly title: string;
  /** The unit of n, for one and for several. */
  readonly unit: { readonly one: string; readonly many: string };
  /** What is made again for more of it; passes where left out. */
  readonly walked?: WalkedUnit;
  readonly scale: Scale;
  /** The good side where no criterion states one. */
  readonly usualSense: Sense;
  readonly criterion?: CriterionNeeds;
  readonly words: MeasureWords;
  /** Its line on the method page: what it counts, and of what. */
  readonly method: { readonly counts: string; readonly of: string };
}

/**
 * A measure: everything that the tool knows about one way to count at a read point. Each measure is one file, listed in `index.ts`; other
 * code asks the card and never names a measure.
 */
export interface Measure extends MeasureCard {
  /** What it counts besides passes; left out where it counts passes. Then it has no conditions, and void passes do not change it. */
  readonly besidePasses?: BesidePasses;
  readonly log: LogNeeds;
  /** Counts what a selection of the log holds. */
  collect(selection: Selection, criterion: Parameters): Evidence;
  /** How it summarises every round, with or without a criterion; left out where it does not. */
  readonly everyRound?: RoundRate;
  /** How a walk is sized for it; null where it does not count trials that succeed or fail. */
  readonly plan: PlannedTrials | null;
  /** What a new facility is given as a requirement to agree on; left out where it is given none. */
  readonly proposal?: { readonly title: string; readonly limit: number; readonly minimumPasses: number };
}

/** A measure whose rate is told of any round, with or without a limit. */
export interface RoundMeasure extends Measure {
  readonly words: MeasureWords & {
    /** The sentence for a rate with nothing counted. */
    readonly nothing: string;
  };
}

/** One item that was to be seen, or one carrier that was to be heard. */
export interface Presentation {
  /** Row of the runs. */
  row: number;
  succeeded: boolean;
}

/** The same over a journey, whose passes are runs; listed in `journey/index.ts`. */
export interface JourneyMeasure extends MeasureCard {
  /** Whether a criterion always holds for each leg on its own, may do so (`for_each: [leg]`), or counts journeys as wholes. */
  readonly byLeg: "always" | "possible" | "never";
  /** Its key in the result of every round, and in that of every leg there, with or without a criterion; left out where it has none. */
  readonly everyRound?: "completeRate" | "orderRate" | "carrierRate";
  readonly everyLeg?: "sightingRate" | "carrier";
  /** Whether it counts only the legs that ask for the carrier. */
  readonly asksCarrier?: boolean;
  collect(selection: JourneySelection, criterion: Parameters): Evidence;
  /** What it counts, one by one, so that rounds can be compared by it; left out where it does not count trials that succeed or fail. */
  presentations?(selection: JourneySelection): Presentation[];
  /** How runs are sized for it. */
  readonly plan: PlannedItems | PlannedSightings;
}

/** A share of items is sized as a share of tags is at a door. */
interface PlannedItems {
  readonly trials: "items";
  /** The share that is expected; null where the plan does not tell it. */
  expected(planned: PlannedShares): number | null;
  /** The sentence for that. */
  readonly withoutExpected?: string;
}

/** A quantile of sightings is sized by how many of them may lie beyond the limit. */
interface PlannedSightings {
  readonly trials: "sightings";
  /** The fewest sightings for met if so many of them lie beyond the limit; null past ten million. */
  fewest(faults: number, criterion: Limit & Parameters, basis: Basis): number | null;
  /** The sentence that says why no chance is told. */
  readonly withoutExpected: string;
}

/** What a plan expects of a journey, as shares. */
interface PlannedShares {
  /** Of the items that a leg sees. */
  legRate: number;
  /** How many legs are not optional. */
  legs: number;
  /** Of the items that are seen in order; null where the plan does not state it. */
  orderRate: number | null;
}

/** What a criterion states besides its limit, by key; a measure looks at its own keys. */
export type Parameters = Readonly<Record<string, unknown>>;

/** What a criterion must state for its measure besides a limit. */
export interface CriterionNeeds {
  /** Its own keys in facility.yaml. */
  parameters?: Readonly<Record<string, Parameter>>;
  /** Faults in the values of its own keys; their types were checked before. */
  faults?(written: Parameters): CriterionFault[];
  /** The sense that its limit cannot have, and why. */
  excluded?: { sense: Sense; advice: string };
}

interface Parameter {
  schema: z.ZodType;
  /** Whether its value is the name of a column of the log. */
  namesColumn?: boolean;
}

/** Something wrong with a criterion, for whoever knows the file to report. */
export interface CriterionFault {
  /** The key whose value is wrong; null where the criterion lacks something. */
  key: string | null;
  /** The code in the catalogue of problems, if there is one for this fault. */
  code?: string;
  /** What the criterion lacks. */
  lacks?: string;
  expected: string;
  advice: string;
}

/** What a measure needs of a log. */
interface LogNeeds {
  /** Roles (`Role`) of the rows that it counts: if a criterion has conditions, these rows must state them. */
  readonly roles: readonly number[];
  /** Whether a pass counts; every pass does where this is left out. */
  enters?(pass: LoggedPass, criterion: Parameters): boolean;
  /** Whether each tag read needs a signal strength, in logs that record any. */
  readonly rssi?: boolean;
  /** Columns that a log must have, most important first: the first missing one is reported. */
  columns?(criterion: Parameters): NeededColumn[];
}

interface LoggedPass {
  straysRecorded: boolean;
  /** Whether any of its rows has the column filled in. */
  isFilled(column: string): boolean;
}

interface NeededColumn {
  column: string;
  /** Without the column, the passes of the log do not count (a warning), or nothing can be judged (an error). */
  severity: "warning" | "error";
  /** Of the problem, where it has one of its own. */
  code?: string;
  /** What it is needed for. */
  purpose: string;
  advice: string;
}

/** How the figures of a measure read. */
interface MeasureWords {
  /** `598 of 600 tags read`. */
  count(k: number, n: number): string;
  /** In a column of figures; `598 of 600` where left out. */
  shortCount?(k: number, n: number): string;
  /** What counts against a presentation, a pass or a minute: `a miss`. */
  readonly fault: string;
  /** For a finding with nothing counted in so many passes, without a full stop; a general sentence where left out. */
  nothingCounted?(passes: number): string;
  /** What a pass or run must have for it to count: `with an item seen on two legs`; left out where each counts. */
  readonly countsIf?: string;
  /** The figures in words, where the value with its unit is not enough. */
  figure?(figures: Figures, criterion: Parameters): string;
  /** What else the reader of its picture must know. */
  readonly howToRead?: string;
}

/** What is counted besides passes. */
interface BesidePasses {
  /** For the message that it has no conditions: `what happens between the passes`. */
  readonly what: string;
  /** What the passes of its evidence are. */
  readonly passes: { readonly one: string; readonly many: string };
  /** Instead of a row of the picture where there are none. */
  readonly none: string;
  /** What would settle an undecided figure: so many further ones, or no number. Without a capital and a full stop; and short. */
  settling(further: number | null): { sentence: string; note: string };
  /** The unit of what would settle it, in tables for download. */
  readonly settlingUnit: string;
}

/** A rate that is computed for every round at every read point. */
export interface RoundRate {
  /** Its key in the result of a round. */
  readonly key: RateKey;
  /** The id of its picture on the page of rounds. */
  readonly id: string;
  readonly title: string;
  /** The sentence for last rounds without a fault at any read point. */
  readonly faultless: string;
  /** The words for a round that was walked but has no such rate. */
  readonly nothing: string;
  /** The sentence where no round has it. */
  readonly never: string;
  /** Whether a read point is listed even if none of its rounds has it. */
  readonly isAlwaysListed?: boolean;
}

type RateKey = "tagReadRate" | "completePassRate" | "strayPassRate" | "bystanderReadRate";
export type RoundRates = Pick<RoundResult, RateKey>;

/** What a measure counts of a planned walk. */
interface PlannedTrials {
  /** Each tag of a pass is a trial, or each pass is one. */
  readonly trials: "tags" | "passes";
  /** Whether only the tags that a criterion takes of a pass's load count. */
  readonly countsPresented: boolean;
  /** The rate expected at a read point that reads a share `readRate` of `tags` tags a pass; 0..1. */
  expected(load: { readRate: number; tags: number; missCorrelation: number }): number;
  /** `99.8 % of the tags are read`. */
  phrase(rate: string): string;
}
