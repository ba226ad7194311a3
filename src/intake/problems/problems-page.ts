import { problemCards } from "./index.ts";

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
