import { readFile } from "node:fs/promises";
import { briefPromises, figures, groupFirst, limit } from "./pages-in-common.ts";
import { longDate } from "./printed.ts";
import { passesOf, tagsRead, voidPasses, withoutVoids } from "./recount.ts";
import type { Shed } from "./shed.ts";

/** What the sign-off sheet says, with the figures of the recount. */
export async function sheetStatements(shed: Shed): Promise<string[]> {
  const { findings, after, facts, files } = shed;
  const [, judged] = facts.rounds;
  const [low, middle, high] = facts.conditions.find(({ bands }) => bands !== undefined)!.bands!;
  const valid = withoutVoids(after);
  const { version } = JSON.parse(await readFile(new URL("../../package.json", import.meta.url), "utf8"));
  return [
    `Sign-off sheet ${facts.report.number}, revision ${facts.report.revision} Shed issued ${longDate(facts.report.issued)}`,
    `Walked ${judged!.title}, ${longDate(judged!.date)}: 1 read point, ${passesOf(valid).length} valid passes and ` +
      `${voidPasses(after).length} void pass, ${tagsRead(valid).n} tags presented`,
    `Speed: ${low} to ${middle} m/s and ${middle} to ${high} m/s`,
    ...findings.map((finding) => {
      const { count, passes, tags, toSettle } = finding;
      const cause = toSettle.chance !== null && toSettle.chance < 0.1 ? "find the cause first; " : "";
      const more = `${cause}${toSettle.further} more without`;
      // Findings by one criterion have it as their heading.
      const alike = findings.filter(({ title }) => title === finding.title);
      const lead = alike.length > 1 ? finding.group : groupFirst(finding);
      return `${lead} (${passes} passes, ${tags} tag … ${more} … ${count.k} of ${count.n} ${figures(finding)} … ${limit(finding)}`;
    }),
    ...findings.filter(({ group }) => group !== null).map(({ title }) => `Door: ${title}`),
    ...briefPromises(shed),
    `End of the sheet: ${findings.length} findings`,
    `two-sided Wilson interval at ${facts.confidence * 100} % confidence`,
    "All 64 digits of the SHA-256 of result.json.",
    "the first 32 digits of the SHA-256 of result.json. The code has all 64.",
    `the SHA-256 of the ${files.length} files judged`,
    `Made by proofwalk ${version}.`,
  ];
}
