import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, statSync } from "node:fs";
import { join } from "node:path";
import type { Result } from "../src/model/result/result.ts";
import { openBrowser } from "../tests/browser/chromium.ts";
import { fuzz } from "./fuzz/run.ts";
import { benchJourney } from "./journey.ts";
import { benchKill } from "./kill.ts";
import { makeFacility } from "./made-up-logs.ts";
import { benchReaderLog } from "./reader-log.ts";
import { benchLargeSeal, benchSeal } from "./seal.ts";
import { benchSheets } from "./sheet/print.ts";
import { turnTable } from "./simulation/one-more-miss.ts";
import { plantedFaults, timesNamed } from "./simulation/planted/planted-faults.ts";
import { simulate } from "./simulation/simulate.ts";
import { medianRuns, type Run, timedRun } from "./timed-run.ts";

const cli = new URL("../src/cli.js", import.meta.url);
const walker = new URL("./walk-csv.js", import.meta.url);
const room = ".bench";
const rounds = 3;
/** Met, not met, and open verdicts are all fine here: what is asked is how long they took. */
const anyVerdict = [0, 1, 3];

const say = (line: string) => process.stdout.write(`${line}\n`);
const shown = (run: Run) => `${run.seconds.toFixed(2)} s, peak ${run.peakMegabytes.toFixed(0)} MB`;

/** How time grows with size: 1 is in proportion, below 1 is slower than that. */
function growth(small: Run, large: Run, factor: number): string {
  return `${(large.seconds / small.seconds / factor).toFixed(2)} times in proportion (1 or less is the target)`;
}

async function passLog(): Promise<void> {
  say("One itemised pass log");
  const passes = { small: 2_500, large: 25_000 };
  const tags = 40;
  const small = join(room, "log-small");
  const large = join(room, "log-large");
  makeFacility(join(small, "depot"), { readPoints: 12, passes: passes.small, tags, seed: 1 });
  const log = makeFacility(join(large, "depot"), { readPoints: 12, passes: passes.large, tags, seed: 1 });
  const rows = passes.large * tags;
  const [judgeSmall, judgeLarge, walk] = (await medianRuns(rounds, [
    () => timedRun(cli, ["judge", "--json", "--data", small], anyVerdict),
    () => timedRun(cli, ["judge", "--json", "--data", large], anyVerdict),
    () => timedRun(walker, [log]),
  ])) as [Run, Run, Run];
  say(`  ${rows} rows, ${(statSync(log).size / 1e6).toFixed(0)} MB`);
  say(`  judge                ${shown(judgeLarge)}; ${Math.round(rows / judgeLarge.seconds)} rows/s`);
  say(`  csv-parse alone      ${shown(walk)}`);
  say(`  judge / csv-parse    ${(judgeLarge.seconds / walk.seconds).toFixed(2)} (target: at most 2)`);
  say(`  judge, a tenth       ${shown(judgeSmall)}`);
  say(`  growth               ${growth(judgeSmall, judgeLarge, 10)}`);
}

async function portfolio(): Promise<void> {
  say("A portfolio: 10 read points a facility, 40 passes each, 10 tags a pass");
  const pagesEach = 16;
  const sizes = { small: 20, large: 200 };
  const folderOf = (name: string) => join(room, name);
  for (const [name, count] of Object.entries(sizes)) {
    for (let i = 0; i < count; i += 1)
      makeFacility(join(folderOf(name), `depot-${i}`), {
        readPoints: 10,
        passes: 400,
        tags: 10,
        seed: i + 1,
      });
  }
  const buildOf = (name: string) => () =>
    timedRun(cli, ["build", "--data", folderOf(name), "--out", join(room, `${name}-site`)]);
  const [small, large] = (await medianRuns(1, [buildOf("small"), buildOf("large")])) as [Run, Run];
  const pages = sizes.large * pagesEach + 1;
  say(`  ${sizes.large} facilities      ${shown(large)}; ${Math.round(pages / large.seconds)} pages/s`);
  say(`  ${sizes.small} facilities       ${shown(small)}`);
  say(`  growth               ${growth(small, large, sizes.large / sizes.small)}`);
}

async function demonstration(): Promise<void> {
  say("The demonstration");
  const [run] = (await medianRuns(rounds, [
    () => timedRun(cli, ["build", "--data", "data", "--out", join(room, "demonstration-site")]),
  ])) as [Run];
  say(`  build                ${shown(run)} (target: about 2 s)`);
}

rmSync(room, { recursive: true, force: true });
mkdirSync(room);
try {
  // A word picks a part: `npm run bench -- reader-log`. Numbers say how many moments `kill` and mutants `fuzz` tries, and the seed.
  const picked = process.argv.slice(2).filter((word) => !/^\d+$/.test(word));
  const numbers = process.argv.slice(2).filter((word) => /^\d+$/.test(word));
  const moments = Number(numbers[0] ?? 100);
  const parts: Record<string, () => Promise<void>> = {
    demonstration,
    "pass-log": passLog,
    "reader-log": () => benchReaderLog(room, rounds, { say, shown }),
    journey: () => benchJourney(room, rounds, { say, shown }),
    portfolio,
    kill: () => benchKill(room, moments, say),
    seal: () => benchSeal(room, Number(numbers[0] ?? 50), say),
    "large-seal": () => benchLargeSeal(room, say),
    fuzz: async () => {
      const [mutants, seed] = [Number(numbers[0] ?? 300), Number(numbers[1] ?? 1)];
      const place = join(room, "fuzz");
      mkdirSync(place);
      say(`Mutants of the demonstration: ${mutants}, from seed ${seed}`);
      const breaches = await fuzz({ room: place, data: "data", mutants, seed, say, program: cli });
      say(`  breaches             ${breaches} (target: 0)`);
      if (breaches > 0) process.exitCode = 1;
    },
    planted: async () => {
      const walks = 20;
      const firstSeed = Number(numbers[0] ?? 42001);
      say(
        `Faults planted into ${walks} walks each: the first suggestion names them (target: 18; with no fault, nothing is said), from seed ${firstSeed}`,
      );
      for (const fault of plantedFaults)
        say(`  ${fault.name.padEnd(21)} ${timesNamed(fault, walks, firstSeed)}`);
    },
    sheet: async () => {
      const site = join(room, "sheet-site");
      await timedRun(cli, ["build", "--data", "data", "--out", site]);
      const bases = readdirSync(site).flatMap((name) => {
        const file = join(site, name, "result.json");
        return existsSync(file) ? [JSON.parse(readFileSync(file, "utf8")) as Result] : [];
      });
      const seeds = Array.from({ length: Number(numbers[0] ?? 300) }, (_, i) => i + Number(numbers[1] ?? 1));
      const browser = await openBrowser();
      const bench = await benchSheets(browser, { folder: join(room, "sheets"), bases, seeds });
      await browser.close();
      const { faults, usualOverTwo } = bench;
      const pages = [...bench.byPages].sort(([a], [b]) => a - b);
      say(`Sheets of ${bench.seeds} lengths, printed on A4 and Letter: ${bench.prints} prints`);
      say(`  pages                ${pages.map(([count, prints]) => `${count}: ${prints}`).join(", ")}`);
      say(`  usual facilities     ${bench.usual} prints, ${usualOverTwo.length} over two pages (target: 0)`);
      say(`  faults               ${faults.length} (target: 0)`);
      for (const line of [...usualOverTwo, ...faults]) say(`    ${line}`);
      if (faults.length + usualOverTwo.length > 0) process.exitCode = 1;
    },
    simulation: async () => {
      simulate(1000, say);
      for (const line of turnTable()) say(line);
    },
  };
  for (const [name, part] of Object.entries(parts))
    if (picked.length === 0 || picked.includes(name)) await part();
} finally {
  rmSync(room, { recursive: true, force: true });
}
