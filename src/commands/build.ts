import { counted } from "../model/number-words.ts";
import type { Problem } from "../model/problem.ts";
import { liesIn, OutputRefused, realPath } from "../site/output-place.ts";
import type { SiteSummary } from "../site/write-site.ts";
import { type Command, type Exit, ExitStatus, type Terminal, type Words } from "./command.ts";
import { plain, problemCount, problemLines, progressOn, refusalAdvice } from "./lines.ts";

/** Writes the site, all of it or nothing. */
export const build: Command = {
  name: "build",
  summary: "writes the site, all of it or nothing",
  options: ["data", "out", "only"],
  operand: null,
  examples: [
    { words: "build", purpose: "write the site; open site/index.html" },
    { words: "build --only my-facility --out stick/site", purpose: "the site of one facility, elsewhere" },
  ],
  exits: { 0: "the site was written, whatever the verdict" },
  run: buildSite,
};

export async function buildSite(
  { source, out }: Pick<Words, "source" | "out">,
  terminal: Terminal,
): Promise<Exit> {
  const { InputRefused, judgeAll } = await import("./facility-source.ts");
  const { writeSite } = await import("../site/write-site.ts");
  const progress = progressOn(terminal);
  const warnings: Problem[] = [];
  try {
    refuseInDataFolder(out, source.data);
    const results = judgeAll(source, progress);
    const summary = await writeSite(results, out, (result) => {
      warnings.push(...result.problems);
      progress.step(`Writing ${result.facility.id}`);
    });
    progress.done();
    terminal.out(summaryLine(summary, out));
    if (warnings.length > 0)
      terminal.err(`${problemCount(warnings)} on the logs: the inputs pages list them.\n`);
    return ExitStatus.fine;
  } catch (refusal) {
    progress.done();
    if (refusal instanceof InputRefused) {
      terminal.err(problemLines(refusal.problems, source.data));
      terminal.err(refusalAdvice(refusal.problems, "Nothing was written"));
      return ExitStatus.refused;
    }
    if (refusal instanceof OutputRefused) {
      terminal.err(`${plain(refusal.message)}\nNothing was written.\n`);
      return ExitStatus.refused;
    }
    throw refusal;
  }
}

/** Every folder of the data folder is a facility: a site among them would be read as one. */
function refuseInDataFolder(out: string, data: string): void {
  if (!liesIn(realPath(out), realPath(data))) return;
  throw new OutputRefused(
    `"${out}" lies in the data folder "${data}", where every folder is a facility. Give --out a folder outside of it.`,
  );
}

function summaryLine(summary: SiteSummary, out: string): string {
  const facilities = counted(summary.facilities, "facility", "facilities");
  const pages = counted(summary.pages, "page", "pages");
  return `${facilities}, ${pages}, ${counted(summary.files, "file", "files")} written. Open ${out}/index.html\n`;
}
