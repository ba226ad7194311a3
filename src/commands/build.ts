import { counted } from "../model/number-words.ts";
import { OutputRefused } from "../site/swap-in.ts";
import { type SiteSummary, writeSite } from "../site/write-site.ts";
import { InputRefused, judgeAll, type Source } from "./facility-source.ts";
import { problemLines, refusalAdvice } from "./problem-lines.ts";
import { progressOn } from "./progress.ts";
import { type Exit, ExitStatus, type Terminal } from "./terminal.ts";

/** Writes the site, all of it or nothing. */
export async function build(source: Source, out: string, terminal: Terminal): Promise<Exit> {
  const progress = progressOn(terminal);
  let warnings = 0;
  try {
    const results = judgeAll(source, progress);
    const summary = await writeSite(results, out, (result) => {
      warnings += result.problems.length;
      progress.step(`Writing ${result.facility.id}`);
    });
    progress.done();
    terminal.out(summaryLine(summary, out));
    if (warnings > 0) {
      terminal.err(`${counted(warnings, "warning", "warnings")} on the logs: the inputs pages list them.\n`);
    }
    return ExitStatus.fine;
  } catch (refusal) {
    progress.done();
    if (refusal instanceof InputRefused) {
      terminal.err(problemLines(refusal.problems, source.data));
      terminal.err(refusalAdvice(refusal.problems, "Nothing was written"));
      return ExitStatus.refused;
    }
    if (refusal instanceof OutputRefused) {
      terminal.err(`${refusal.message}\nNothing was written.\n`);
      return ExitStatus.refused;
    }
    throw refusal;
  }
}

function summaryLine(summary: SiteSummary, out: string): string {
  const facilities = counted(summary.facilities, "facility", "facilities");
  const pages = counted(summary.pages, "page", "pages");
  return `${facilities}, ${pages}, ${counted(summary.files, "file", "files")} written. Open ${out}/index.html\n`;
}
