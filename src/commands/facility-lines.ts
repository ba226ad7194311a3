import type { Finding, Result } from "../analysis/result.ts";
import { byState } from "../analysis/state.ts";
import { concessionSentence } from "../pages/words/concession-sentence.ts";
import { dateOrWords } from "../pages/words/dates.ts";
import { findingSentence } from "../pages/words/finding-sentence.ts";
import { groupText } from "../pages/words/groups.ts";
import { remarkSentence } from "../pages/words/remark-sentence.ts";
import { settleSentence } from "../pages/words/settle-sentence.ts";
import { stateWord } from "../pages/words/states.ts";
import { verdictSentence } from "../pages/words/verdict-sentence.ts";

const stateWidth = "undecided".length;

/** One facility as the terminal shows it: each finding with its evidence, worst first, then the verdict. */
export function facilityLines(result: Result): string {
  const round = result.rounds.find((one) => one.id === result.signOffRound);
  const title = [
    result.facility.name,
    round?.title ?? result.signOffRound,
    dateOrWords(round?.date ?? null, ""),
  ]
    .filter((part) => part !== "")
    .join(", ");
  const findings = [...result.findings].sort((a, b) => byState(a.state, b.state));
  const nameWidth = Math.max(0, ...result.readPoints.map((readPoint) => readPoint.name.length));
  const lines = findings.map((finding) => findingLine(finding, result, nameWidth));
  const bare = result.readPoints.flatMap((readPoint) =>
    readPoint.remarks.map((remark) => `  ${readPoint.name}: ${remarkSentence(remark, result.rounds)}\n`),
  );
  return `${plain(title)}\n${lines.join("")}${plain(bare.join(""))}${plain(verdictSentence(result))}\n`;
}

function findingLine(finding: Finding, result: Result, nameWidth: number): string {
  const readPoint = result.readPoints.find((one) => one.id === finding.readPoint);
  const criterion = result.criteria.find((one) => one.id === finding.criterion);
  const sentences = [
    `${criterion?.title ?? finding.criterion}${finding.group ? `, ${groupText(finding.group, result.conditions)}` : ""}.`,
    findingSentence(finding, criterion),
    settleSentence(finding),
    finding.concession === null ? "" : concessionSentence(finding.concession),
  ];
  const said = sentences.filter((sentence) => sentence !== "").join(" ");
  const name = (readPoint?.name ?? finding.readPoint).padEnd(nameWidth);
  return plain(`  ${stateWord(finding.state).padEnd(stateWidth)}  ${name}  ${said}\n`);
}

/** Names come from the inputs: control characters in them must not steer the terminal. */
function plain(text: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is taken out.
  return text.replace(/[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069]/g, " ");
}
