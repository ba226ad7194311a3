import { placeholderUnchanged } from "../../intake/problems/yaml.ts";
import { countedInWords, countWord, nonEmpty } from "../../model/number-words.ts";
import type { Result } from "../../model/result/result.ts";
import { pairSentence } from "../changes/read-point-changes.ts";
import { type Agreements, agreements } from "../overview/agreements.ts";
import { openWalks } from "../overview/planned.ts";
import { definePage, type FacilityContext } from "../parts/page.ts";
import { pairEndingIn } from "../parts/round-pairs.ts";
import { recordLines } from "../record/record.ts";
import { dateText } from "../words/dates.ts";
import { briefPromises, correlationSentence, stricterCount, unseenSummary } from "../words/promises.ts";
import { overLimitSentences } from "../words/radio.ts";
import { verdictSentence } from "../words/verdicts.ts";
import { walkedSentence } from "../words/walks.ts";
import { type SheetFindings, sheetFindings } from "./findings.ts";
import { type Fact, partyFacts } from "./parties.ts";
import { scopeSentence, sheetScope } from "./scope.ts";
import { type SheetEnd, sheetEnd } from "./sheet-end.ts";
import { type WalkedRound, walkedConditions, walkedRounds } from "./walked.ts";

export interface SignOffSheetView extends SheetFindings, Agreements, SheetEnd {
  heading: string;
  /** What the sheet leaves out; empty where it is for every read point. */
  scope: string;
  /** Read points that were set to radiate more than their limit allows. */
  overLimit: string[];
  verdict: string;
  /** What is still as `new` wrote it: nobody should sign above that. */
  unfilled: string[];
  parties: Fact[];
  rounds: WalkedRound[];
  conditions: string[];
  /** The day of the next re-test and why; empty where none is stated. */
  retest: string;
  planned: string;
  openWalks: { name: string; sentence: string }[];
  since: Fact | null;
  /** What the states promise, and what they do not. */
  promises: string;
  choices: string[];
  /** Earlier revisions, corrections of files, comparisons of clocks. */
  record: Fact[];
}

/**
 * The document that is printed, taken into the meeting and signed. Its mark is that of the archived result, which holds that
 * of every file judged: one mark for all of the evidence.
 */
export const signOffSheetPage = definePage({
  template: "sign-off-sheet",
  navigation: "Sign-off sheet",
  pages: ({ paths, result }) => [{ path: paths.signOffSheet, title: "Sign-off sheet", subject: result }],
  view: (page, whole): SignOffSheetView => {
    const here = sheetScope(page);
    const { result } = here;
    return {
      heading: heading(whole),
      scope: scopeSentence(whole),
      overLimit: overLimitSentences(result),
      verdict: verdictSentence(result),
      unfilled: result.problems
        .filter(({ code }) => code === placeholderUnchanged.code)
        .map(({ found }) => found),
      parties: partyFacts(
        { ...result, client: result.facility.client },
        {
          label: "Facility",
          texts: [result.facility.name, result.facility.address?.trim().replace(/\s*\n\s*/g, ", ") ?? null],
        },
      ),
      rounds: walkedRounds(result),
      conditions: walkedConditions(here),
      retest: retestText(result),
      planned: plannedSentence(result),
      openWalks: openWalks(here),
      since: since(here),
      ...sheetFindings(here),
      promises: nonEmpty([
        ...briefPromises(result),
        stricterCount(result),
        correlationSentence(result),
        unseenSummary(result),
      ]).join(" "),
      ...agreements(here),
      choices: ["accepted", "accepted with the concessions and open points listed", "not accepted"],
      record: recordLines(result),
      ...sheetEnd(result, result.facility.client, here.archive),
    };
  },
});

/** `Acceptance of three of six read points` where the sheet is not for all. */
function heading({ signOff, readPoints }: Result): string {
  return signOff === null
    ? "Acceptance of read points"
    : `Acceptance of ${countWord(signOff.readPoints.length)} of ${countedInWords(readPoints.length, "read point", "read points")}`;
}

/** `21 May 2027: yearly.`; empty where no day is stated. */
function retestText({ retest }: Result): string {
  if (retest === null) return "";
  return retest.why === null ? dateText(retest.on) : `${dateText(retest.on)}: ${retest.why}`;
}

function plannedSentence({ plan }: Result): string {
  return plan === null || plan.walks.length === 0
    ? ""
    : walkedSentence(plan.walks.flatMap(({ cells }) => cells));
}

/** How the read points changed since the round before the judged one; null where there was none. */
function since({ result, names }: FacilityContext): Fact | null {
  const pair = pairEndingIn(result.signOffRound, result);
  if (pair === null) return null;
  return { label: `Since ${names.round(pair.before)}`, text: pairSentence(result, pair) };
}
