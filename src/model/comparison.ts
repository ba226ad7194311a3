import type { Estimate } from "./estimate.ts";

/** What became of the tag read rate of one read point between two rounds, whole or under one value of a condition. */
export interface Comparison {
  readPoint: string;
  /** Round ids. */
  before: string;
  after: string;
  /** One column and value in an exploratory row; null for the read point as a whole. */
  group: Record<string, string> | null;
  /** Looked at to find out where a change lies: one of many looks, so one alone proves little. */
  exploratory: boolean;
  /** Null where the rounds are not comparable. */
  design: "paired" | "independent" | null;
  /** Whether the earlier round was weighted to the later one's mix of conditions. */
  standardised: boolean;
  /** After less before, in fractions: above 0 is a gain. Null where the rounds are not comparable. */
  difference: { value: number; lower: number; upper: number; confidence: number } | null;
  /**
   * Both rates over what is compared, with the limits that the difference is made of. Where the earlier round was
   * weighted its `value` is the weighted rate, and `k` and `n` what was counted.
   */
  estimates: { before: Estimate; after: Estimate } | null;
  /** Presentations by what became of them in both rounds; null where the design is not paired. */
  pairs: PairTable | null;
  /** Two-sided: how surprising a difference as large would be if nothing had changed. */
  p: number | null;
  /** By Holm over the exploratory rows of this read point and pair of rounds; null in the row of the whole. */
  pAdjusted: number | null;
  /** Where p comes from; null without one. */
  test: "mcnemar" | "fisher" | "difference" | null;
  change: Change;
  /**
   * What became of single tags, over what is compared; only in the row of the whole, and null where the rounds are not
   * comparable or the logs do not name every tag.
   */
  tags: TagChanges | null;
  /** What stands in the way of comparing the rounds, or was done about it. */
  reasons: ComparisonReason[];
}

export type Change = "better" | "worse" | "no-change-that-matters" | "no-change-shown" | "not-comparable";

/** Presentations of the same tag in the same pass under the same conditions, once in each round. */
export interface PairTable {
  readBoth: number;
  readOnlyBefore: number;
  readOnlyAfter: number;
  missedBoth: number;
}

/** What became of the tags that both rounds presented. */
export interface TagChanges {
  /** How many tags both rounds presented. */
  inBoth: number;
  /** How many of them both rounds missed at least once. */
  missedInBoth: number;
  /** Read every time before, missed at least once after. */
  newlyMissed: ChangedTag[];
  /** Missed at least once before, read every time after. */
  newlyRead: ChangedTag[];
}

export interface ChangedTag {
  tag: string;
  /** Its pure identity, or its raw URI; null for a label that is no code. */
  uri: string | null;
  before: { presented: number; missed: number };
  after: { presented: number; missed: number };
}

/** A plain observation beside a comparison; the pages put it into words. `round` is always a round's id. */
export type ComparisonReason =
  /** No valid pass of the round presented a tag there: nothing to compare. */
  | { code: "not-walked"; round: string }
  /** Both rounds were walked, but under no combination of conditions that the other one was: nothing to compare. */
  | { code: "no-common-conditions" }
  /** Combinations of conditions that only this round walked were left out. */
  | {
      code: "conditions-left-out";
      round: string;
      /** How many of the round's presentations lie there, and of how many. */
      presentations: number;
      ofPresentations: number;
      combinations: number;
      /** The first of them, by column; null stands for a blank. */
      examples: Record<string, string | null>[];
    }
  /** The rounds divide their presentations differently among the conditions; the earlier one was weighted. */
  | { code: "mix-differs" }
  /** How many tags were presented in both rounds, and how many in one only. */
  | { code: "tags-differ"; inBoth: number; onlyBefore: number; onlyAfter: number }
  /** The logs of these rounds do not name every tag, so whether they are the same is not known. */
  | { code: "tags-not-named"; rounds: string[] }
  /** Half or more of a round have a partner in the other round and the rest have none, so none were paired. */
  | { code: "partly-paired"; pairs: number; before: number; after: number }
  /** Every compared presentation of the round lies in one pass, or on one tag. */
  | { code: "one-cluster"; round: string; dimension: "pass" | "tag" }
  /** The read point's settings as the two rounds state them; null where a round does not name the setting. */
  | { code: "settings-differ"; settings: { setting: string; before: string | null; after: string | null }[] }
  /** Only the other round states settings of the read point. */
  | { code: "settings-not-stated"; round: string };
