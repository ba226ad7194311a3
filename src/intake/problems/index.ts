import { byCodePoint } from "../../model/order.ts";
import type { ProblemCard } from "./card/problem.ts";
import * as csvFile from "./csv-file.ts";
import * as epcis from "./epcis.ts";
import * as folder from "./folder.ts";
import * as journey from "./journey.ts";
import * as logRules from "./log-rules.ts";
import * as passLog from "./pass-log.ts";
import * as pictures from "./pictures.ts";
import * as power from "./power.ts";
import * as readerLog from "./reader-log.ts";
import * as record from "./record.ts";
import * as workbook from "./workbook.ts";
import * as yaml from "./yaml.ts";

/** Every problem that the intake can report, by code. */
export const problemCards: readonly ProblemCard[] = [
  folder,
  journey,
  yaml,
  csvFile,
  passLog,
  logRules,
  pictures,
  power,
  readerLog,
  record,
  workbook,
  epcis,
]
  .flatMap((theme): ProblemCard[] => Object.values(theme))
  .sort((a, b) => byCodePoint(a.code, b.code));

/** docs/problems.md: every problem with its severity, what it means and what to do. */
export function problemsPage(): string {
  const rows = problemCards.map(
    ({ code, severity, means, advice }) =>
      `| \`${code}\` | ${severity === "either" ? "error or warning" : severity} | ${means} | ${advice} |\n`,
  );
  return `# Problems

Every problem that \`proofwalk check\`, \`judge\` and \`build\` report about the inputs, by its code. An error must be put
right before there is a verdict; a warning is listed on the inputs page. Each message names the file, the line and
the column, what was found there, what was expected, and advice that fits the case. Codes stay as they are from
version to version.

| code | severity | what it means | what to do |
|---|---|---|---|
${rows.join("")}`;
}
