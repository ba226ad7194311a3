import { type ChildProcess, spawn, spawnSync } from "node:child_process";
import { cpSync, existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { fileURLToPath } from "node:url";
import { bytesOf, folderFiles } from "../src/archive/bag/files.ts";
import { checkSignatures } from "../src/archive/check-seal.ts";
import { checkedBag } from "../src/archive/opened-bag.ts";
import { readStoredZip } from "../src/archive/zip/stored-zip.ts";
import { memoryBag } from "../tests/archive/memory-bag.ts";
import { isFoundByCommands, missingPrograms } from "../tests/archive/standard-commands.ts";
import { killedAt } from "./kill.ts";
import { makeFacility } from "./made-up-logs.ts";
import { makeReads } from "./made-up-reads.ts";
import { timedCommand, timedRun } from "./timed-run.ts";

const cli = new URL("../src/cli.js", import.meta.url);
type Say = (line: string) => void;

/** Seals that are killed, touched, made elsewhere, and of ten million reads. */
export async function benchSeal(room: string, moments: number, say: Say): Promise<void> {
  const place = join(room, "seal");
  mkdirSync(place);
  const data = join(place, "data");
  makeFacility(join(data, "depot"), { readPoints: 4, passes: 40, tags: 5, seed: 1 });
  const bag = join(place, "whole", "depot-B-1-A");
  await timedRun(cli, ["seal", "depot", "--data", data, "--out", join(place, "whole")]);
  elsewhere({ data, bag, place }, say);
  await killed(place, moments, say);
  await touched(bag, say);
  byCommands(bag, join(place, "touched"), say);
}

/** Numbers from 0 to 1 that are the same in every run (a linear congruential generator; Numerical Recipes' constants). */
function drawn(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}

/** Of the pages two, of which the first finds nothing to set aside, then that of the zip, and that of the bag last. */
const renames = 4;

async function killed(place: string, moments: number, say: Say): Promise<void> {
  const archive = join(place, "archive");
  const words = ["seal", "depot", "--data", join(place, "data"), "--out", archive, "--zip"];
  const start = (node: string[] = []) =>
    spawn(process.execPath, [...node, fileURLToPath(cli), ...words], { stdio: "ignore" });
  const began = performance.now();
  if ((await ended(start())) !== 0) throw new Error("The seal that is to be killed is refused.");
  const length = performance.now() - began;
  rmSync(archive, { recursive: true });
  const draw = drawn(15);
  const counts = { killed: 0, none: 0, whole: 0, zipAlone: 0, half: 0, left: 0, uncleared: 0 };
  for (let i = 0; i < moments + renames; i += 1) {
    const rename = i - moments + 1;
    const child = start(rename > 0 ? ["--import", killedAt(rename)] : []);
    const ending = ended(child);
    await Promise.race(rename > 0 ? [ending] : [pause(draw() * length), ending]);
    child.kill("SIGKILL");
    if ((await ending) === null) counts.killed += 1;
    const names = existsSync(archive) ? readdirSync(archive) : [];
    const left = names.filter((name) => name.startsWith(".seal."));
    counts.left += left.length > 0 ? 1 : 0;
    const seals = names.filter((name) => !left.includes(name));
    const holding = await Promise.all(seals.map((name) => holds(join(archive, name))));
    if (holding.includes(false)) counts.half += 1;
    else if (seals.length === 0) counts.none += 1;
    else if (seals.length === 2) counts.whole += 1;
    else counts.zipAlone += 1;
    for (const name of seals) rmSync(join(archive, name), { recursive: true });
    if (i % 10 === 9) {
      await ended(start());
      counts.uncleared += readdirSync(archive).filter((name) => name.startsWith(".seal.")).length;
      rmSync(archive, { recursive: true });
    }
  }
  say(
    `kill -9 at ${moments} random moments of a seal with its zip, and at its ${renames} renames (${(length / 1000).toFixed(2)} s)`,
  );
  say(`  killed before its end       ${counts.killed}`);
  say(`  nothing stands              ${counts.none}`);
  say(`  a whole seal and its zip    ${counts.whole}; its whole zip alone ${counts.zipAlone}`);
  say(`  a half seal or a half zip   ${counts.half} (target: 0)`);
  say(
    `  leftovers                   after ${counts.left} kills; after the next whole seals ${counts.uncleared}`,
  );
  if (counts.half + counts.uncleared > 0) process.exitCode = 1;
}

function ended(child: ChildProcess): Promise<number | null> {
  return new Promise((resolve) => child.on("close", resolve));
}

async function holds(path: string): Promise<boolean> {
  const files = path.endsWith(".zip") ? (await readStoredZip(path))?.files : folderFiles(path);
  return files !== undefined && (await checkedBag(files, () => {})).faults.length === 0;
}

/** Files up to this many bytes are changed in every byte. */
const smallBytes = 4096;
const placesOfLarge = 500;

/** A seal with fewer files, so that each check is short, changed in memory. */
async function touched(bag: string, say: Say): Promise<void> {
  const small = await slimBag(bag);
  const files = folderFiles(small);
  const contents = Object.fromEntries(
    await Promise.all(
      [...files.sizes.keys()].map(async (path) => [path, await bytesOf(files, path)] as const),
    ),
  );
  const isWhole = async (changed: Record<string, Buffer>) => {
    const memory = memoryBag(changed);
    const { faults, isSeal } = await checkedBag(memory, () => {});
    return isSeal && faults.length === 0 && (await checkSignatures(memory, null)).faults.length === 0;
  };
  if (!(await isWhole(contents))) throw new Error("The seal does not hold before it is changed.");
  const draw = drawn(16);
  const counts = { changed: 0, small: 0, removed: 0, swapped: 0, missed: 0 };
  for (const [path, content] of Object.entries(contents)) {
    const isSmall = content.length < smallBytes;
    const some = () => [
      ...[0, content.length >> 1, content.length - 1],
      ...Array.from({ length: placesOfLarge }, () => Math.floor(draw() * content.length)),
    ];
    counts.small += isSmall ? 1 : 0;
    for (const place of isSmall ? content.keys() : some()) {
      const changed = Buffer.from(content);
      changed[place] = changed[place]! ^ (1 << Math.floor(draw() * 8));
      counts.changed += 1;
      if (await isWhole({ ...contents, [path]: changed })) counts.missed += 1;
    }
    const { [path]: _, ...rest } = contents;
    counts.removed += 1;
    if (await isWhole(rest)) counts.missed += 1;
  }
  const paths = Object.keys(contents);
  for (const [i, path] of paths.entries()) {
    const other = paths[Math.floor(draw() * paths.length)]!;
    if (contents[path]!.equals(contents[other]!)) continue;
    counts.swapped += 1;
    if (await isWhole({ ...contents, [path]: contents[other]!, [other]: contents[path]! }))
      counts.missed += 1;
    if (await isWhole({ ...contents, [`${path}-${i}`]: Buffer.alloc(0) })) counts.missed += 1;
  }
  say(`A seal of ${paths.length} files touched, ${counts.small} of them under ${smallBytes} bytes`);
  say(
    `  bytes changed               ${counts.changed}: all of each small file, ${placesOfLarge + 3} of each other`,
  );
  say(`  files removed, added        ${counts.removed}, ${paths.length}; pairs swapped ${counts.swapped}`);
  say(`  not found by verify         ${counts.missed} (target: 0)`);
  if (counts.missed > 0) process.exitCode = 1;
}

/** The same bag with a sixth of its pages and tables and no long ones, sealed again by hand with the standard programs. */
async function slimBag(bag: string): Promise<string> {
  const slim = `${bag}-slim`;
  cpSync(bag, slim, { recursive: true });
  for (const folder of ["data/site", "data/tables"])
    for (const [i, [path, bytes]] of [...folderFiles(join(slim, folder)).sizes].entries())
      if (bytes > 20_000 || i % 6 > 0) rmSync(join(slim, folder, path));
  const payload = folderFiles(join(slim, "data")).sizes;
  const bytes = [...payload.values()].reduce((sum, size) => sum + size, 0);
  const info = join(slim, "bag-info.txt");
  writeFileSync(info, readFileSync(info, "utf8").replace(/Oxum: .*/, `Oxum: ${bytes}.${payload.size}`));
  const list =
    "find data -type f | LC_ALL=C sort | xargs -d '\\n' sha512sum > manifest-sha512.txt; " +
    "sha512sum HOW-TO-VERIFY.txt bag-info.txt bagit.txt manifest-sha512.txt > tagmanifest-sha512.txt";
  if (spawnSync("sh", ["-c", list], { cwd: slim }).status !== 0)
    throw new Error("The bag could not be listed.");
  return slim;
}

/** The same by the commands of HOW-TO-VERIFY.txt, as processes. */
function byCommands(bag: string, place: string, say: Say): void {
  const missing = missingPrograms();
  if (missing.length > 0) {
    say(`The standard commands: not run, since this machine has no ${missing.join(", ")}`);
    return;
  }
  const slim = `${bag}-slim`;
  const paths = [...folderFiles(slim).sizes.keys()];
  const draw = drawn(17);
  const counts = { changed: 0, removed: 0, missed: 0 };
  const isFound = (change: (copy: string) => void) => {
    rmSync(place, { recursive: true, force: true });
    cpSync(slim, place, { recursive: true });
    change(place);
    return isFoundByCommands(place);
  };
  if (isFound(() => {})) throw new Error("The commands find a fault in a whole seal.");
  for (const path of paths) {
    const flip = (copy: string) => {
      const bytes = readFileSync(join(copy, path));
      const at = Math.floor(draw() * bytes.length);
      bytes[at] = bytes[at]! ^ (1 << Math.floor(draw() * 8));
      writeFileSync(join(copy, path), bytes);
    };
    counts.changed += 1;
    if (!isFound(flip)) counts.missed += 1;
    counts.removed += 1;
    if (!isFound((copy) => rmSync(join(copy, path)))) counts.missed += 1;
  }
  const tags = readFileSync(join(slim, "tagmanifest-sha512.txt"));
  for (const at of tags.keys()) {
    counts.changed += 1;
    const flip = (copy: string) => {
      const bytes = Buffer.from(tags);
      bytes[at] = bytes[at]! ^ 0x20;
      writeFileSync(join(copy, "tagmanifest-sha512.txt"), bytes);
    };
    if (!isFound(flip)) counts.missed += 1;
  }
  say("The same by the commands of HOW-TO-VERIFY.txt, as they are written");
  say(
    `  bytes changed               ${counts.changed}, of them every one of the tag manifest; files removed ${counts.removed}`,
  );
  say(`  not found                   ${counts.missed} (target: 0)`);
  if (counts.missed > 0) process.exitCode = 1;
}

/** Seals of the same inputs by other clocks, languages and numbers of processors. */
function elsewhere({ data, bag, place }: { data: string; bag: string; place: string }, say: Say): void {
  const places: [string, string[], Record<string, string>][] = [
    ["another time zone and language", [], { TZ: "America/St_Johns", LC_ALL: "de_DE.UTF-8" }],
    ["a third", [], { TZ: "Asia/Kathmandu", LC_ALL: "tr_TR.UTF-8" }],
    ["one processor", ["taskset", "-c", "0"], {}],
  ];
  say("The same inputs sealed elsewhere");
  for (const [i, [name, before, environment]] of places.entries()) {
    const out = join(place, `elsewhere-${i}`);
    const [program, ...words] = [
      ...before,
      process.execPath,
      fileURLToPath(cli),
      ...["seal", "depot", "--data", data, "--out", out],
    ];
    const { status, error } = spawnSync(program!, words, { env: { ...process.env, ...environment } });
    const list = (folder: string) => readFileSync(join(folder, "tagmanifest-sha512.txt"), "utf8");
    const isSame = status === 0 && list(join(out, "depot-B-1-A")) === list(bag);
    say(
      `  ${name.padEnd(27)} ${error !== undefined ? "not run" : isSame ? "the same to the byte" : "DIFFERS"}`,
    );
    if (error === undefined && !isSame) process.exitCode = 1;
  }
}

const tenMillion = 10_000_000;

/** How long it takes to seal a long reader's log, against the checksums of its inputs and the pages. */
export async function benchLargeSeal(room: string, say: Say): Promise<void> {
  const data = join(room, "large-seal");
  const depot = join(data, "depot");
  await makeReads(depot, tenMillion);
  const inputs = [...folderFiles(depot).sizes.keys()].map((path) => join(depot, path));
  const out = join(room, "large-archive");
  const [build, sums, seal] = [
    await timedRun(cli, ["build", "--data", data, "--out", join(room, "large-site"), "--inputs", "none"]),
    timedCommand("sha512sum", inputs),
    await timedRun(cli, ["seal", "depot", "--data", data, "--out", out]),
  ];
  const bag = join(out, readdirSync(out)[0]!);
  const verify = await timedRun(cli, ["verify", bag, "--bag-only"]);
  const most = 2 * sums.seconds + build.seconds;
  say("A seal of ten million reads");
  say(
    `  build, without inputs       ${build.seconds.toFixed(2)} s, of processors ${build.processorSeconds.toFixed(2)} s`,
  );
  say(`  sha512sum of the inputs     ${sums.seconds.toFixed(2)} s`);
  say(
    `  seal                        ${seal.seconds.toFixed(2)} s, of processors ${seal.processorSeconds.toFixed(2)} s, peak ${seal.peakMegabytes.toFixed(0)} MB`,
  );
  say(`  seal / (build + 2 sums)     ${(seal.seconds / most).toFixed(2)} (target: at most 1)`);
  say(`  verify --bag-only           ${verify.seconds.toFixed(2)} s`);
}
