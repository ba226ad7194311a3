import type { ConcessionResult, Finding } from "../../model/result/finding.ts";
import type { State } from "../../model/state.ts";
import { concededOf, stateBox } from "../pictures/signs.ts";
import { dateText } from "../words/dates.ts";
import { stateWord } from "../words/verdicts.ts";

/** A state as a page shows it: the box, the word, and what a concession adds. */
export interface StateMark {
  state: State;
  word: string;
  /** SVG. */
  box: string;
  /** `conceded until 31 August 2026`; empty without a concession. */
  note: string;
}

export function stateMark(
  state: State,
  concession: Pick<ConcessionResult, "expired" | "until"> | null = null,
): StateMark {
  return {
    state,
    word: stateWord(state),
    box: stateBox(state, concededOf(concession)),
    note: concession === null ? "" : concessionNote(concession),
  };
}

function concessionNote({ expired, until }: Pick<ConcessionResult, "expired" | "until">): string {
  if (expired) return "concession expired";
  return until === null ? "conceded" : `concession until ${dateText(until)}`;
}

/** The concession that belongs beside a finding: one that is met needs none, though its criterion may have one. */
export function shownConcession(finding: Pick<Finding, "state" | "concession">): Finding["concession"] {
  return finding.state === "met" ? null : finding.concession;
}
