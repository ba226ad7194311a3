import type { Result } from "../analysis/result.ts";
import { cautions, cautionsDefer } from "./cautions.ts";
import {
  concessionRows,
  concessionSentence,
  openPointRows,
  openPointSentence,
} from "./overview/agreements.ts";
import { evidence } from "./overview/evidence.ts";
import { facilityPage, type Page } from "./page.ts";
import { facilityPaths } from "./paths.ts";
import { sheetFindings } from "./sheet/finding-lines.ts";
import { parties, signatureBlocks } from "./sheet/parties.ts";
import { walkedConditions, walkedRounds } from "./sheet/walked.ts";
import { countedInWords, statedNumber, thinSpace } from "./words/numbers.ts";
import { verdictSentence } from "./words/verdict-sentence.ts";

/** More files than this are named under Inputs only. */
const mostFiles = 6;

/** The document that is printed, taken into the meeting and signed. */
export function signOffSheetPage(result: Result): Page {
  const marks = evidence(result).files;
  const findings = sheetFindings(result);
  return facilityPage(result, "sign-off-sheet", facilityPaths(result).signOffSheet, "Sign-off sheet", {
    verdict: verdictSentence(result),
    parties: parties(result),
    rounds: walkedRounds(result),
    conditions: walkedConditions(result),
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
    marks: marks.slice(0, mostFiles).map(({ path, mark }) => ({ path, mark })),
    moreMarks:
      marks.length > mostFiles
        ? `and ${countedInWords(marks.length - mostFiles, "file", "files")} more, listed under Inputs`
        : "",
    tool: `${result.tool.name} ${result.tool.version}`,
  });
}

function basisSentence({ basis }: Result): string {
  const name = basis.interval === "wilson" ? "Wilson" : "Clopper-Pearson";
  const confidence = `${statedNumber(basis.confidence * 100)}${thinSpace}%`;
  return `Lower and upper: the ends of a two-sided ${name} interval at ${confidence} confidence, in per cent unless dBm is named, rounded against the claimant. Met: the whole interval lies on the good side of the limit; not met: on the other; undecided: the limit lies inside.`;
}
