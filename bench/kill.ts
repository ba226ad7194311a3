import { type ChildProcess, spawn } from "node:child_process";
import { createHash } from "node:crypto";
import { existsSync, mkdirSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { fileURLToPath } from "node:url";
import { makeFacility } from "./made-up-logs.ts";

const cli = fileURLToPath(new URL("../src/cli.js", import.meta.url));

interface Ended {
  status: number | null;
  killed: boolean;
}

/** Kills builds at moments spread evenly over a build, and lets two builds race, and counts what stands afterwards. */
export async function benchKill(room: string, moments: number, say: (line: string) => void): Promise<void> {
  const place = join(room, "kill");
  const site = join(place, "site");
  const data = { earlier: join(place, "earlier"), newer: join(place, "newer") };
  mkdirSync(place);
  makeFacility(join(data.earlier, "depot"), { readPoints: 4, passes: 40, tags: 5, seed: 1 });
  makeFacility(join(data.newer, "depot"), { readPoints: 4, passes: 40, tags: 5, seed: 2 });
  const build = (from: string, node: string[] = []) =>
    start([...node, cli, "build", "--data", from, "--out", site]);
  const leftovers = () => readdirSync(place).filter((name) => name.startsWith("site.")).length;

  const firstMarks = new Set<string>();
  let length = Number.POSITIVE_INFINITY;
  for (const from of [data.earlier, data.newer, data.newer, data.newer]) {
    length = Math.min(length, await lengthOf(() => build(from)));
    firstMarks.add(markOf(site));
  }
  say(
    `kill -9 at ${moments} moments of a build (${(length / 1000).toFixed(2)} s), three in ten at a rename of the swap`,
  );
  const counts = { killed: 0, whole: 0, putBack: 0, neither: 0, left: 0, uncleared: 0 };
  for (let i = 0; i < moments; i += 1) {
    const rename = (i % 10) - 6;
    const from = i % 2 === 0 ? data.earlier : data.newer;
    const child = build(from, rename > 0 ? ["--import", killedAt(rename)] : []);
    const ending = whenEnded(child);
    const moment = (i / moments) * length;
    await Promise.race(rename > 0 ? [ending] : [pause(moment), ending]);
    child.kill("SIGKILL");
    if ((await ending).killed) counts.killed += 1;
    counts.left += leftovers() > 0 ? 1 : 0;
    if (!existsSync(site)) {
      // A build that is refused puts the site back as well.
      await whenEnded(build(join(place, "nowhere")));
      counts.putBack += existsSync(site) ? 1 : 0;
    }
    if (existsSync(site) && firstMarks.has(markOf(site)) && isWhole(site)) counts.whole += 1;
    else counts.neither += 1;
    if (i % 10 === 9) {
      await whenEnded(build(data.newer));
      counts.uncleared += leftovers();
    }
  }
  await whenEnded(build(data.newer));
  counts.uncleared += leftovers();
  say(`  killed before its end      ${counts.killed}`);
  say(`  earlier or newer site whole ${counts.whole}, of them put back by the next build ${counts.putBack}`);
  say(`  anything else              ${counts.neither}`);
  say(
    `  leftovers                  after ${counts.left} kills; after the next whole builds ${counts.uncleared}`,
  );

  const races = Math.ceil(moments / 5);
  let whole = 0;
  const statuses: Record<string, number> = {};
  for (let i = 0; i < races; i += 1) {
    const both = await Promise.all([whenEnded(build(data.earlier)), whenEnded(build(data.newer))]);
    const ends = both.map(({ status }) => status).join(" and ");
    statuses[ends] = (statuses[ends] ?? 0) + 1;
    if (existsSync(site) && firstMarks.has(markOf(site)) && isWhole(site) && leftovers() === 0) whole += 1;
  }
  const ends = Object.entries(statuses).map(([text, count]) => `${text}: ${count}`);
  say(
    `Two builds at once, ${races} times: one site whole and no leftovers ${whole}; exit ${ends.join(", ")}`,
  );
}

function start(words: string[]): ChildProcess {
  return spawn(process.execPath, words, { stdio: "ignore" });
}

/** A module, loaded before the program, that ends it at a rename: the swap takes too little time to be met by chance. */
export function killedAt(rename: number): string {
  const code = `
    import fs from "node:fs";
    import { syncBuiltinESMExports } from "node:module";
    const rename = fs.renameSync;
    let count = 0;
    fs.renameSync = (from, to) => {
      count += 1;
      if (count === ${rename}) process.kill(process.pid, "SIGKILL");
      rename(from, to);
    };
    syncBuiltinESMExports();`;
  return `data:text/javascript,${encodeURIComponent(code)}`;
}

function whenEnded(child: ChildProcess): Promise<Ended> {
  return new Promise((resolve) =>
    child.on("close", (status, signal) => resolve({ status, killed: signal === "SIGKILL" })),
  );
}

async function lengthOf(program: () => ChildProcess): Promise<number> {
  const began = performance.now();
  await whenEnded(program());
  return performance.now() - began;
}

/** Which of the two sites it is. */
function markOf(site: string): string {
  return existsSync(join(site, "contents.sha256")) ? hashOf(join(site, "contents.sha256")) : "";
}

/** What `sha256sum -c` says, and that there is nothing else in the folder. */
function isWhole(site: string): boolean {
  const lines = readFileSync(join(site, "contents.sha256"), "utf8").trimEnd().split("\n");
  const files = readdirSync(site, { recursive: true, withFileTypes: true }).filter((one) => one.isFile());
  return (
    files.length === lines.length + 1 &&
    lines.every((line) => {
      const file = join(site, line.slice(66));
      return existsSync(file) && hashOf(file) === line.slice(0, 64);
    })
  );
}

function hashOf(file: string): string {
  return createHash("sha256").update(readFileSync(file)).digest("hex");
}
