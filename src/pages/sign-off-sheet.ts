import { intervals } from "../intervals/index.ts";
import { counted, statedNumber, thinSpace } from "../model/number-words.ts";
import type { Result } from "../model/result.ts";
import { cautions, cautionsDefer } from "./cautions.ts";
import { pairEndingIn } from "./changes/round-pairs.ts";
import { pairSentence } from "./changes/since.ts";
import {
  concessionRows,
  concessionSentence,
  openPointRows,
  openPointSentence,
} from "./overview/agreements.ts";
import { openWalks } from "./overview/planned.ts";
import { facilityPage, type Page } from "./page.ts";
import { facilityPaths } from "./paths.ts";
import { roundTitle } from "./rounds/round-rows.ts";
import { sheetFindings } from "./sheet/finding-lines.ts";
import { parties, signatureBlocks } from "./sheet/parties.ts";
import { walkedConditions, walkedRounds } from "./sheet/walked.ts";
import { verdictSentence } from "./words/verdicts.ts";
import { walkedSentence } from "./words/walks.ts";

/**
 * The document that is printed, taken into the meeting and signed. `mark` is the SHA-256 of the archived result, which
 * holds that of every file judged: one mark for all of the evidence. Without it the sheet leads to the files' own marks.
 */
export function signOffSheetPage(result: Result, mark = ""): Page {
  const findings = sheetFindings(result);
  return facilityPage(result, "sign-off-sheet", facilityPaths(result).signOffSheet, "Sign-off sheet", {
    verdict: verdictSentence(result),
    parties: parties(result),
    rounds: walkedRounds(result),
    conditions: walkedConditions(result),
    planned: result.plan === null ? "" : walkedSentence(result.plan.walks.flatMap(({ cells }) => cells)),
    openWalks: openWalks(result),
    since: sinceSentence(result),
    ...findings,
    basis: basisSentence(result),
    openPointSentence: openPointSentence(result),
    openPoints: openPointRows(result),
    concessionSentence: concessionSentence(result),
    concessions: concessionRows(result),
    cautions,
    cautionsDefer,
    signatures: signatureBlocks(result),
    choices: ["accepted", "accepted with the concessions and open points named", "not accepted"],
    mark,
    files: counted(result.inputs.length, "file", "files"),
    tool: `${result.tool.name} ${result.tool.version}`,
  });
}

/** What became of the read points since the round before the one judged; null where there was none. */
function sinceSentence(result: Result): { label: string; text: string } | null {
  const pair = pairEndingIn(result.signOffRound, result);
  if (pair === null) return null;
  return { label: `Since ${roundTitle(result, pair.before)}`, text: pairSentence(result, pair) };
}

function basisSentence({ basis }: Result): string {
  const name = intervals.get(basis.interval).words.short;
  const confidence = `${statedNumber(basis.confidence * 100)}${thinSpace}%`;
  return `Lower and upper: the ends of a two-sided ${name} interval at ${confidence} confidence, in per cent unless the limit names another unit, rounded against the claimant. Met: the whole interval lies on the good side of the limit; not met: on the other; undecided: the limit lies inside.`;
}
