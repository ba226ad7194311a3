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
  makeFacility(join(data.earlier, "depot"), 4, 40, 5, 1);
  makeFacility(join(data.newer, "depot"), 4, 40, 5, 2);
  const build = (from: string) => start(["build", "--data", from, "--out", site]);
  const leftovers = () => readdirSync(place).filter((name) => name.startsWith("site.")).length;

  const longest = await lengthOf(() => build(data.newer));
  const firstMarks = new Set<string>();
  for (const from of Object.values(data)) {
    await whenEnded(build(from));
    firstMarks.add(markOf(site));
  }
  say(`kill -9 at ${moments} moments of a build (${(longest / 1000).toFixed(2)} s)`);
  const counts = { killed: 0, whole: 0, putBack: 0, neither: 0, left: 0, uncleared: 0 };
  for (let i = 0; i < moments; i += 1) {
    const child = build(i % 2 === 0 ? data.earlier : data.newer);
    const ending = whenEnded(child);
    // The second half falls on the last fifth, where the swap is.
    const share = i < moments / 2 ? (2 * i) / moments : 0.8 + 0.4 * (i / moments - 0.5);
    await Promise.race([pause(share * longest * 1.05), ending]);
    child.kill("SIGKILL");
    if ((await ending).killed) counts.killed += 1;
    counts.left += leftovers() > 0 ? 1 : 0;
    if (!existsSync(site)) {
      // A build that is refused puts the site back as well.
      await whenEnded(start(["build", "--data", join(place, "nowhere"), "--out", site]));
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
  say(`  earlier or newer site whole  ${counts.whole}, of them put back by the next build ${counts.putBack}`);
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
  return spawn(process.execPath, [cli, ...words], { stdio: "ignore" });
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
