import { readdirSync, rmSync, statSync } from "node:fs";
import { join } from "node:path";
import { makeJourney } from "./made-up-journey.ts";
import { makeReads } from "./made-up-reads.ts";
import type { Told } from "./reader-log.ts";
import { medianRuns, type Run, timedRun } from "./timed-run.ts";

const cli = new URL("../src/cli.js", import.meta.url);
const anyVerdict = [0, 1, 3];
const million = 1_000_000;
const runs = 10_000;

/** A journey of ten thousand runs over a million sightings against a timed pass log with a reader's log of as many reads. */
export async function benchJourney(room: string, times: number, { say, shown }: Told): Promise<void> {
  say(`A journey: ${runs} runs, a million sightings`);
  const timed = join(room, "timed");
  await makeReads(join(timed, "depot"), million);
  const judgeOf = (folder: string) => () => timedRun(cli, ["judge", "--json", "--data", folder], anyVerdict);
  const forms = ["csv", "lines", "document"] as const;
  const folders = forms.map((form) => join(room, `journey-${form}`));
  for (const [i, form] of forms.entries()) await makeJourney(folders[i]!, { runs, rows: million, form });
  const [reads, ...journeys] = await medianRuns(times, [judgeOf(timed), ...folders.map(judgeOf)]);
  const line = (run: Run) => `${shown(run)}, ${run.processorSeconds.toFixed(2)} s of processor time`;
  say(`  a timed log          ${line(reads!)}`);
  const names = { csv: "sightings.csv", lines: "EPCIS, one a line", document: "EPCIS, a document" };
  for (const [i, form] of forms.entries()) {
    const own = journeys[i]!;
    const [ratio, wall] = [own.processorSeconds / reads!.processorSeconds, own.seconds / reads!.seconds].map(
      (value) => value.toFixed(2),
    );
    const asked = form === "csv" ? " (target: at most 1.5, under 1000 MB)" : "";
    say(`  ${names[form].padEnd(21)}${line(own)}, ${sizeOf(folders[i]!).toFixed(0)} MB of files`);
    say(`    over a timed log   ${ratio} of processor time, ${wall} of wall time${asked}`);
  }
  for (const folder of [timed, ...folders]) rmSync(folder, { recursive: true, force: true });
}

function sizeOf(folder: string): number {
  const files = readdirSync(folder, { recursive: true, withFileTypes: true }).filter((entry) =>
    entry.isFile(),
  );
  return files.reduce((sum, { parentPath, name }) => sum + statSync(join(parentPath, name)).size, 0) / 1e6;
}
