import type { Ratio, SuggestionKind } from "../../../model/diagnosis/diagnosis.ts";
import type { ReadPoint } from "../../../model/facility.ts";
import type { ReadPointRound, WalkedFacility } from "../../../model/rows.ts";

/** How often something was missed, and everything else of the same read point and round. */
export interface MissCounts {
  missed: number;
  presented: number;
  elsewhereMissed: number;
  elsewherePresented: number;
}

/** Something that may be why a read point missed, before all candidates of the read point are weighed together. */
export interface Candidate {
  kind: SuggestionKind;
  subject: Record<string, string>;
  /** How often chance alone shows as much, before Holm; null for what the logs state as a fact, which is no test. */
  p: number | null;
  /** Null where no presentations are counted. */
  counts: MissCounts | null;
  ratio: Ratio | null;
  /** Whether a presented row is one of those that it speaks of: two candidates of the same rows are not both said. Null where it speaks of none. */
  covers: ((row: number) => boolean) | null;
  /** The condition column that it goes by, where it is a cause of what the values of that column show. */
  column?: string | undefined;
  /** How many misses it explains, where it covers no rows of which they could be counted; 0 where it is about no misses. */
  explains: number;
  sentence: string;
}

/** One source of candidates, and of what the page shows of it; null where the logs do not carry it. */
export type Source<Details> = (point: DiagnosedPoint) => {
  candidates: Candidate[];
  /** Made once it is known what all tests together carry: the adjusted p of each of its candidates. */
  details: (pAdjusted: (candidate: Candidate) => number | null) => Details | null;
};

/** What the sources look at: one read point in its sign-off round, valid passes only. Made once. */
export interface DiagnosedPoint {
  walked: WalkedFacility;
  readPoint: ReadPoint;
  place: ReadPointRound;
  /** Valid passes, in the order walked: indexes into the log's passes. */
  passes: Int32Array;
  /** Rows of valid passes that present tags that were to be read. A tally's row stands for many. */
  presented: Int32Array;
  /** Of each presented row, in the same order: its pass, its tag (-1 for none), presentations, and misses among them. */
  of: { pass: Int32Array; tag: Int32Array; n: Int32Array; missed: Int32Array };
  /** The rows among them of which something was missed. */
  missedRows: Int32Array;
  /** Presentations, and misses among them. */
  presentations: number;
  misses: number;
  /** Whether every presented row names its tag. */
  namesTags: boolean;
  confidence: number;
}
