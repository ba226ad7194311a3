import type { Sense } from "../model/facility.ts";
import type { State } from "../model/state.ts";
import { clopperPearsonTails } from "../statistics/clopper-pearson.ts";
import type { ClusteredSample } from "../statistics/effective-sample.ts";
import type { Bounds } from "../statistics/wilson.ts";

/** What an interval is made with. */
export interface Settings {
  /** Two-sided, above 0.5 and below 1. */
  confidence: number;
  /** How alike misses of one pass, or of one tag, are taken to be at the least; 0 to below 1. */
  missCorrelation: number;
}

/** What every interval of a facility is made with, and the interval itself, by its id. */
export interface Basis extends Settings {
  interval: string;
}

/** What is asked of a rate (strictly between 0 and 1). */
export interface Limit {
  sense: Sense;
  limit: number;
}

/** What counts that were made show of a limit. */
export type Decision = Exclude<State, "untested">;

/** The ends of an interval, and how many independent trials the sample is worth to it. */
export interface IntervalBounds extends Bounds {
  effectiveN: number;
}

/**
 * An interval for a rate: everything that the tool knows of one way to make it. A file an interval, listed in `index.ts`;
 * whoever needs something of an interval asks its card.
 *
 * The trials of a sample are presentations, whose clusterings are passes and tags, or passes, which stand for themselves
 * and have no clustering. Both functions take samples with n > 0 and compare unrounded.
 */
export interface Interval {
  readonly id: string;
  /** All trials a success: upper exactly 1. None: lower exactly 0. */
  bounds(sample: ClusteredSample, settings: Settings): IntervalBounds;
  /** Met, not met or undecided: each card states when, in both senses. Agrees with its bounds. */
  decide(sample: ClusteredSample, limit: Limit, settings: Settings): Decision;
  /** Whether it is the one to sign off by: at most one card says so. */
  readonly isForSignOff?: true;
  /** Whether it is as strict as the one to sign off by, whose verdicts are shown beside those of a looser one. */
  readonly isStrict: boolean;
  readonly words: IntervalWords;
}

/** What the pages say of an interval. */
interface IntervalWords {
  /** Among the settings of a report. */
  readonly name: string;
  /** In tables and on the sign-off sheet. */
  readonly short: string;
  /** For the help on facility.yaml: `exact is Clopper-Pearson`; null for the one that is made where none is named. */
  readonly help: string | null;
  /** That a report uses it, and what that means: a sentence. */
  readonly used: string;
  /** Why a new facility is given it, in sentences; left out where it is not. */
  readonly atStart?: string;
  /** What it assumes of the walk, and what happens where that is not so: a sentence. */
  readonly assumes: string;
  /** How its effective sample comes about where it is not simply the smallest of the three numbers; null where it is. */
  readonly effectiveSample: string | null;
  /** When to use it, in paragraphs under a heading of its own; null where the page says all about it elsewhere. */
  readonly chapter: {
    readonly id: string;
    readonly title: string;
    paragraphs(isUsed: boolean): string[];
  } | null;
  /** Its bounds as formulas: `*x*` is a variable, `_{i}` stands below the line and `^{2}` above it. */
  readonly formulas: readonly { readonly lead: string; readonly formula: string }[];
  /** What the letters of the formulas stand for, in the same notation. */
  readonly where: string;
  readonly sources: readonly Source[];
}

/** A source: what it is used for, and how the implementation was verified. */
export interface Source {
  readonly citation: string;
  readonly usedFor: string;
  readonly verified: string;
}

/** Whether an interval lies on the good side of a limit, or touches it. */
export function keeps({ lower, upper }: Bounds, { sense, limit }: Limit): boolean {
  return sense === "at-least" ? lower >= limit : upper <= limit;
}

/** Whether an interval lies wholly on the wrong side of a limit. */
export function fails({ lower, upper }: Bounds, { sense, limit }: Limit): boolean {
  return sense === "at-least" ? upper < limit : lower > limit;
}

/**
 * What the Clopper-Pearson interval of `n` independent trials with the observed proportion `p` shows of a limit, which is
 * found without its ends.
 * Example: 16 of 17, at least 0.99 at 95 %: undecided.
 */
export function exactDecision(
  p: number,
  n: number,
  { sense, limit, confidence }: Limit & { confidence: number },
): Decision {
  const { asMany, asFew } = clopperPearsonTails(p, n, limit);
  const half = (1 - confidence) / 2;
  const [good, bad] = sense === "at-least" ? [asMany, asFew] : [asFew, asMany];
  if (good <= half) return "met";
  return bad < half ? "not-met" : "undecided";
}
