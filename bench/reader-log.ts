import { spawnSync } from "node:child_process";
import { cpSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { makeReads } from "./made-up-reads.ts";
import { medianRuns, type Run, timedCommand, timedRun } from "./timed-run.ts";

const cli = new URL("../src/cli.js", import.meta.url);
const bare = new URL("./aggregate-bare.js", import.meta.url);
/** The scripts in other languages are not compiled: they are where they were written. */
const beside = (name: string) => fileURLToPath(new URL(`../../bench/${name}`, import.meta.url));
const anyVerdict = [0, 1, 3];
const million = 1_000_000;

type Say = (line: string) => void;

/** Where the figures of a bench go, and how a run is told. */
export interface Told {
  say: Say;
  shown: (run: Run) => string;
}

const depot = (folder: string) => join(folder, "depot");

/** A reader's own log against the database alone, against itself at a tenth of the size, and against what people use otherwise. */
export async function benchReaderLog(room: string, times: number, { say, shown }: Told): Promise<void> {
  say("A reader's log: 500 passes of 60 tags at 12 read points");
  const folders = { tiny: join(room, "ten-thousand"), small: join(room, "one"), large: join(room, "ten") };
  await makeReads(depot(folders.tiny), 10_000);
  const smallLog = await makeReads(depot(folders.small), million);
  const largeLog = await makeReads(depot(folders.large), 10 * million);
  const judgeOf = (folder: string) => () => timedRun(cli, ["judge", "--json", "--data", folder], anyVerdict);
  const [small, large, bareSmall, bareLarge] = (await medianRuns(times, [
    judgeOf(folders.small),
    judgeOf(folders.large),
    () => timedRun(bare, [smallLog]),
    () => timedRun(bare, [largeLog]),
  ])) as [Run, Run, Run, Run];
  say(`  10 million rows      ${(statSync(largeLog).size / 1e6).toFixed(0)} MB`);
  say(`  judge                ${shown(large)} (target: under 1000 MB)`);
  say(`  database alone       ${shown(bareLarge)}`);
  const ofProcessor = (large.processorSeconds / bareLarge.processorSeconds).toFixed(2);
  say(`  judge / database     ${(large.seconds / bareLarge.seconds).toFixed(2)} (target: at most 1.6)`);
  say(
    `  of processor time    ${ofProcessor}: ${large.processorSeconds.toFixed(2)} s over ${bareLarge.processorSeconds.toFixed(2)} s`,
  );
  say(`  judge, a tenth       ${shown(small)}; the database alone ${shown(bareSmall)}`);
  say(
    `  growth               ${(large.seconds / small.seconds / 10).toFixed(2)} times in proportion (target: 1 or less)`,
  );
  await compareParts(room, { tiny: folders.tiny, small: folders.small }, { times, say });
  compareOthers(folders, { small, large }, say);
  await compareSites(room, folders, say);
  for (const folder of Object.values(folders)) rmSync(folder, { recursive: true, force: true });
}

const parts = 150;

/** The same rows in many files of one entry: readers begin a new file every hour or so. */
async function compareParts(
  room: string,
  folders: Record<"tiny" | "small", string>,
  { times, say }: { times: number; say: Say },
): Promise<void> {
  for (const [size, folder] of Object.entries(folders)) {
    const split = join(room, `${size}-in-parts`);
    cpSync(folder, split, { recursive: true });
    splitLog(join(split, "depot"));
    const judgeOf = (data: string) => () => timedRun(cli, ["judge", "--json", "--data", data], anyVerdict);
    const [whole, many] = (await medianRuns(times, [judgeOf(folder), judgeOf(split)])) as [Run, Run];
    const ratio = (many.processorSeconds / whole.processorSeconds).toFixed(2);
    const rows = size === "tiny" ? "10 thousand rows" : "a million rows";
    say(
      `  in ${parts} files        ${ratio} times the processor time of one file, ${rows} (target: at most 2)`,
    );
    rmSync(split, { recursive: true });
  }
}

function splitLog(depot: string): void {
  const log = join(depot, "reads", "session.csv");
  const [header, ...rows] = readFileSync(log, "utf8").trimEnd().split("\n");
  const length = Math.ceil(rows.length / parts);
  for (let part = 0; part < parts; part += 1) {
    const own = rows.slice(part * length, (part + 1) * length);
    if (own.length > 0)
      writeFileSync(join(depot, "reads", `session-${part}.csv`), `${[header, ...own].join("\n")}\n`);
  }
  rmSync(log);
  const yaml = join(depot, "facility.yaml");
  writeFileSync(yaml, readFileSync(yaml, "utf8").replace("reads/session.csv", "reads/session-*.csv"));
}

/** The same join in other languages, where they are installed. Their answer must be the tool's. */
function compareOthers(
  folders: { small: string; large: string },
  judged: { small: Run; large: Run },
  say: Say,
): void {
  const has = (command: string, words: string[]) => spawnSync(command, words).status === 0;
  const compare = (name: string, size: "small" | "large", [command, script]: [string, string]) => {
    const { seconds, answer } = timedCommand(command, [beside(script), depot(folders[size])]);
    const rows = size === "large" ? "10 million rows" : "1 million rows";
    const ratio = (seconds / judged[size].seconds).toFixed(1);
    const heard = tagsRead(folders[size]);
    if (Number(answer) !== heard) throw new Error(`${name} counts ${answer} tags read, judge ${heard}.`);
    say(`  ${name.padEnd(20)} ${seconds.toFixed(2)} s for ${rows}: ${ratio} times judge`);
  };
  const hasTables = has("Rscript", ["-e", 'quit(status = !requireNamespace("data.table", quietly = TRUE))']);
  if (hasTables) compare("R, data.table", "large", ["Rscript", "window-join.R"]);
  else if (has("Rscript", ["--version"])) compare("R, base", "small", ["Rscript", "window-join.R"]);
  else say("  R                    not installed");
  if (has("python3", ["-c", "import pandas"])) compare("pandas", "large", ["python3", "window_join.py"]);
  else say("  pandas               not installed");
}

function tagsRead(folder: string): number {
  const words = [fileURLToPath(cli), "judge", "--json", "--data", folder];
  const { stdout } = spawnSync(process.execPath, words, { maxBuffer: 2 ** 30, encoding: "utf8" });
  const { facilities } = JSON.parse(stdout) as {
    facilities: { readPoints: { rounds: { tagsRead: number }[] }[] }[];
  };
  const rounds = facilities.flatMap(({ readPoints }) => readPoints.flatMap((point) => point.rounds));
  return rounds.reduce((sum, round) => sum + round.tagsRead, 0);
}

/** No row of a reader's log may reach a page: more rows of the same walk make no heavier site. */
async function compareSites(room: string, folders: Record<string, string>, say: Say): Promise<void> {
  const bytesOf = async (folder: string): Promise<number> => {
    const site = join(room, "reader-site");
    await timedRun(cli, ["build", "--data", folder, "--out", site]);
    const bytes = readdirSync(site, { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile())
      .reduce((sum, entry) => sum + statSync(join(entry.parentPath, entry.name)).size, 0);
    rmSync(site, { recursive: true });
    return bytes;
  };
  const megabytes = (bytes: number) => `${(bytes / 1e6).toFixed(1)} MB`;
  const [tiny, small, large] = [
    await bytesOf(folders.tiny!),
    await bytesOf(folders.small!),
    await bytesOf(folders.large!),
  ];
  // Ten thousand reads leave two tags in three unheard: those are listed, so that site is the heaviest.
  say(`  site, 10 thousand    ${megabytes(tiny)}`);
  say(`  site, 1 million      ${megabytes(small)}`);
  say(
    `  site, 10 million     ${megabytes(large)}: ${(large / small).toFixed(2)} times a million's (target: about 1)`,
  );
}
