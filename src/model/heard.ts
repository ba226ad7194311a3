import type { Estimate } from "./estimate.ts";

/** Five figures of some values. */
export interface Spread {
  n: number;
  min: number;
  q05: number;
  median: number;
  q95: number;
  max: number;
}

/** What the readers' own logs show of one round at one read point. */
export interface HeardSummary {
  /** How far around its start and end a pass still counts as under way, in seconds. */
  window: { beforeS: number; afterS: number };
  tagsPresented: number;
  tagsRead: number;
  /** Reads of each tag that was presented and read, pass by pass. */
  readsPerTag: Spread | null;
  /** How long after the window of the pass opened each of them was first heard. */
  firstReadMs: Spread | null;
  antennas: {
    antenna: string;
    /** Presented tags that it heard: what it alone would have caught. */
    tagsRead: number;
    /** Presented tags that no other antenna heard: what would be lost without it. */
    onlyHere: number;
    strongestDbm: Spread | null;
  }[];
  /** Codes heard uninvited; a code that some passes placed as a bystander and others did not place has two entries. */
  strays: {
    tag: string;
    uri: string | null;
    /** Placed near by on purpose: the load says `presented` = no. */
    bystander: boolean;
    passes: number;
    reads: number;
    strongestDbm: number | null;
  }[];
  /** What was heard between the passes; null where the round has no timed passes there. */
  idle: {
    minutes: number;
    heard: { minute: string; reads: number; tags: number }[];
    rate: Estimate;
  } | null;
}
