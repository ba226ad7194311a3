import { byState } from "../analysis/state.ts";
import type { Finding, Result } from "../model/result.ts";
import { concessionSentence } from "../pages/words/concession-sentence.ts";
import { dateOrWords } from "../pages/words/dates.ts";
import { findingSentence } from "../pages/words/finding-sentence.ts";
import { groupText } from "../pages/words/groups.ts";
import { remarkSentence } from "../pages/words/remark-sentence.ts";
import { settleSentence } from "../pages/words/settle-sentence.ts";
import { stateWord } from "../pages/words/states.ts";
import { verdictSentence } from "../pages/words/verdict-sentence.ts";
import { entryLines, nameColumn, plain } from "./lines.ts";

const stateWidth = "undecided".length;
const widestLine = 110;

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
  const nameWidth = nameColumn(result.readPoints.map(({ name }) => name));
  const findings = [...result.findings].sort((a, b) => byState(a.state, b.state));
  const lines = findings.map((finding) => findingLines(finding, result, nameWidth));
  const bare = result.readPoints.flatMap((readPoint) =>
    readPoint.remarks.map((remark) => `  ${readPoint.name}: ${remarkSentence(remark, result.rounds)}`),
  );
  return [title, ...lines, ...bare, verdictSentence(result)].map((line) => `${plain(line)}\n`).join("");
}

/** The evidence, what would settle it, and under it what was asked. */
function findingLines(finding: Finding, result: Result, nameWidth: number): string {
  const readPoint = result.readPoints.find((one) => one.id === finding.readPoint);
  const criterion = result.criteria.find((one) => one.id === finding.criterion);
  const group = groupText(finding.group, result.conditions);
  const settle = settleSentence(finding);
  const concession =
    finding.concession === null || finding.state === "met" ? "" : concessionSentence(finding.concession);
  const name = readPoint?.name ?? finding.readPoint;
  const head = `  ${stateWord(finding.state).padEnd(stateWidth)}  `;
  const asked = [criterion?.title ?? finding.criterion, group].filter((part) => part !== "").join(". ");
  const text = `${findingSentence(finding, criterion)} ${settle}`;
  return entryLines({ head, name, text, below: [asked, concession] }, nameWidth, widestLine).join("\n");
}
