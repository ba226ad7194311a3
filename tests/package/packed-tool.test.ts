import { execFile, spawn } from "node:child_process";
import { mkdir, mkdtemp, readdir, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { delimiter, dirname, join } from "node:path";
import { promisify } from "node:util";
import { describe, expect, it } from "vitest";
import { filesBelow } from "../../src/site/output/contents-list.ts";
import { putDependencies } from "./dependencies.ts";
import { filesOfTheWay, putKeys, readmeSteps, workbookOfTheWay } from "./readme-way.ts";

const run = promisify(execFile);

describe("the packed tool", () => {
  it("installed in an empty folder leads from nothing to a site by the commands of the README, with no clone about", async () => {
    const room = await mkdtemp(join(tmpdir(), "proofwalk-pack-"));
    const elsewhere = { cwd: room, env: process.env };
    await writeFile(join(room, "package.json"), '{ "private": true }');
    putDependencies(room);
    // Packs the clone, as for publication, and installs what was packed: the clone itself is not linked to.
    const quietly = ["--offline", "--no-audit", "--no-fund", "--no-package-lock", "--ignore-scripts"];
    await run("npm", ["install", "--install-links", ...quietly, process.cwd()], elsewhere);
    const names = filesBelow(join(room, "node_modules", "proofwalk"));
    expect(names).toContain("dist/src/cli.js");
    expect(
      names.filter((name) => /^(data|tests|bench|demonstration|dist\/(bench|demonstration))\//.test(name)),
    ).toEqual([]);
    const bin = join(room, "node_modules", ".bin");
    const env = { ...elsewhere.env, PATH: `${bin}${delimiter}${process.env.PATH}`, HOME: room };
    const shell = { cwd: room, env };
    const depot = join(room, "data", "north-depot");
    await putFiles(join(room, "exports"), { "walk.csv": filesOfTheWay["passes/dock-2.csv"] });
    const canSign = await keyIn(room);
    const done: string[] = [];
    for (const step of await readmeSteps()) {
      if ("yaml" in step) {
        await putKeys(join(depot, "facility.yaml"), step.yaml);
        continue;
      }
      const [, command = ""] = step.command.split(" ");
      done.push(command);
      if (command === "sign" && !canSign) continue;
      if (command === "serve") await serves(step.command, shell);
      else {
        const { status, out, err } = await ended(step.command, shell);
        expect(statuses[command], `${step.command}: ${out}${err}`).toContain(status);
        if (command === "describe") expect(out).toContain("epc: EPC-96");
      }
      // What is walked and written is there once the folder is.
      if (step.command !== "proofwalk new data/north-depot") continue;
      await putFiles(depot, { ...filesOfTheWay, "passes/walk.xlsx": await workbookOfTheWay() });
    }
    expect(new Set(done)).toEqual(new Set([...Object.keys(statuses), "serve"]));
    expect(await readdir(join(room, "site"))).toEqual(expect.arrayContaining(["north-depot", "south-depot"]));
    expect(await readdir(join(room, "site", "north-depot"))).toEqual(
      expect.arrayContaining(["index.html", "sign-off-sheet.html", "result.json"]),
    );
  }, 180_000);
});

/** How each command of the way may end: with so few passes nothing can be met. */
const statuses: Record<string, number[]> = {
  new: [0],
  describe: [0],
  check: [0],
  plan: [0, 3],
  judge: [3],
  compare: [0, 3],
  build: [0],
  seal: [0],
  sign: [0],
  verify: [0],
};

/** Makes the key that the README signs with, in a home of its own; false where the machine has no program to make one. */
async function keyIn(home: string): Promise<boolean> {
  await mkdir(join(home, ".ssh"));
  const key = join(home, ".ssh", "id_ed25519");
  try {
    await run("ssh-keygen", ["-q", "-t", "ed25519", "-N", "", "-f", key]);
    return true;
  } catch (fault) {
    if ((fault as NodeJS.ErrnoException).code === "ENOENT") return false;
    throw fault;
  }
}

async function putFiles(folder: string, files: Record<string, string | Uint8Array>): Promise<void> {
  for (const [name, text] of Object.entries(files)) {
    await mkdir(dirname(join(folder, name)), { recursive: true });
    await writeFile(join(folder, name), text);
  }
}

type Shell = { cwd: string; env: NodeJS.ProcessEnv };

async function ended(command: string, shell: Shell): Promise<{ status: number; out: string; err: string }> {
  try {
    const { stdout, stderr } = await run("sh", ["-c", command], shell);
    return { status: 0, out: stdout, err: stderr };
  } catch (fault) {
    const { code, stdout, stderr } = fault as { code: number; stdout: string; stderr: string };
    return { status: code, out: stdout, err: stderr };
  }
}

/** Waits until the site is served, on a port that is free. */
async function serves(command: string, shell: Shell): Promise<void> {
  const child = spawn("sh", ["-c", `exec ${command} --port 0`], shell);
  const gone = new Promise((resolve) => child.on("close", resolve));
  let said = "";
  child.stdout.on("data", (chunk: Buffer) => {
    said += chunk.toString();
  });
  try {
    await expect.poll(() => said).toMatch(/Serving \S+index\.html/);
  } finally {
    child.kill("SIGINT");
    await gone;
  }
}
