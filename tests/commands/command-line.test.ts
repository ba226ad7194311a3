import { execFile, spawn } from "node:child_process";
import { cp, mkdir, mkdtemp, readdir, readFile, rename, rm, symlink, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { beforeEach, describe, expect, it } from "vitest";
import { refuseForeignFolder } from "../../src/site/output/own-site.ts";
import { type Ended, ended } from "./ended.ts";

let room: string;

beforeEach(async () => {
  room = await mkdtemp(join(tmpdir(), "proofwalk-words-"));
});

/**
 * Runs the compiled program as a person would, in a folder of its own. A program takes a second to start: what
 * streams and the exit have no part in is asked of the command line in this process.
 */
function proofwalk(...words: string[]): Promise<Ended> {
  return new Promise((resolve) => {
    execFile(process.execPath, [program, ...words], { cwd: room }, (fault, out, err) => {
      resolve({ status: typeof fault?.code === "number" ? fault.code : 0, out, err });
    });
  });
}

/** The data folder in the room. */
const here = () => ["--data", join(room, "data")];
const checking = () => ended("check", ...here());
const judging = () => ended("judge", ...here());
const comparing = (...words: string[]) => ended("compare", ...here(), ...words);
const planning = () => ended("plan", ...here());
const building = (...words: string[]) => ended("build", ...here(), "--out", join(room, "site"), ...words);
const starting = () => ended("new", join(room, "data", "yard"));

const program = join(process.cwd(), "dist", "src", "cli.js");
const golden = join(process.cwd(), "tests", "golden");

/** A data folder in the room, from a golden one. */
async function data(name: string): Promise<void> {
  await cp(join(golden, name, "data"), join(room, "data"), { recursive: true });
}

async function spoil(file: string, from: string, to: string): Promise<void> {
  const path = join(room, file);
  const text = await readFile(path, "utf8");
  expect(text).toContain(from);
  await writeFile(path, text.replace(from, to));
}

describe("wrong usage ends in 2 with a sentence", () => {
  it.each([
    [[], "No command was given."],
    [["biuld"], 'Did you mean "?build'],
    [["toString"], '"toString" is not a command.'],
    [["constructor"], '"constructor" is not a command.'],
    [["check", "--out", "x"], "check takes no --out."],
    [["judge", "extra"], '"extra" is one word too many'],
    [["serve", "--port", "http"], "--port needs a number"],
    [["build", "--inputs", "smal"], '--inputs needs all, small or none, not "smal". Did you mean small?'],
    [["new"], "new needs one folder"],
    [["check", "--datta", "x"], "--datta"],
  ])("%j", async (words, sentence) => {
    await expect(ended(...words)).rejects.toThrow(new RegExp(sentence.replace(/[.*+^$()[\]]/g, "\\$&")));
  });

  it("in a program of its own too, on its streams", async () => {
    expect(await proofwalk("biuld")).toMatchObject({
      status: 2,
      out: "",
      err: expect.stringContaining("build"),
    });
  });
});

describe("compare", () => {
  it("tells each pair of rounds, and ends in 0 where nothing got worse", async () => {
    await data("itemised");
    const said = await comparing();
    expect(said.status).toBe(0);
    expect(said.out).toContain("Antenna turned.");
    expect(said.out).toContain("\nDoor shows no clear change.\n");
    expect(said.out.replace(/\s+/g, " ")).toContain("2 of 4 tags read before, 9 of 12 after");
    const { schemaVersion, facilities } = JSON.parse((await comparing("--json")).out);
    expect(schemaVersion).toBe(1);
    expect(facilities.map((one: { facility: unknown }) => one.facility)).toEqual([
      { id: "shed", name: "Shed" },
    ]);
    expect(facilities[0].comparisons[0]).toMatchObject({ readPoint: "door", change: "no-change-shown" });
  });

  it("says that one round is nothing to compare", async () => {
    await data("listed");
    const said = await comparing();
    expect(said).toMatchObject({ status: 0, err: "" });
    expect(said.out).toContain("only one round");
  });

  it("ends in 1 where a read point got worse, and in 2 without a word where an input has an error", async () => {
    await data("itemised");
    const rows = Array.from({ length: 60 }, (_, i) =>
      [
        `before,${i + 10},door,0.5,facing,X${i},yes`,
        `after,${i + 10},door,0.5,facing,X${i},${i < 40 ? "no" : "yes"}`,
      ].join("\n"),
    );
    const header = "round,pass,read_point,speed_m_s,orientation,tag,read";
    await writeFile(join(room, "data", "shed", "passes", "more.csv"), `${[header, ...rows].join("\n")}\n`);
    const said = await comparing();
    expect(said.status).toBe(1);
    expect(said.out).toMatch(/^ {2}worse +Door/m);
    await writeFile(
      join(room, "data", "shed", "passes", "more.csv"),
      `${header}\nbefore,1,nowhere,0.5,facing,X,yes\n`,
    );
    expect(await comparing()).toMatchObject({ status: 2, out: "" });
  });
});

describe("check", () => {
  it("of sound inputs ends in 0, warnings or not", async () => {
    await data("tally-and-mixture");
    const said = await checking();
    expect(said.status).toBe(0);
    expect(said.out).toContain("warning");
  });

  it("of an unsound log ends in 2 and says file, line and column, in JSON too", async () => {
    await data("listed");
    const log = (await readdir(join(room, "data/barn/passes")))[0]!;
    await spoil(`data/barn/passes/${log}`, "big", "bog");
    const said = await checking();
    expect(said.status).toBe(2);
    expect(said.out).toMatch(new RegExp(`data/barn/passes/${log}:\\d+:\\d+ {2}error`));
    const json = await ended("check", "--json", ...here());
    expect(json.status).toBe(2);
    const { schemaVersion, problems } = JSON.parse(json.out);
    expect(schemaVersion).toBe(1);
    const error = problems.find((problem: { severity: string }) => problem.severity === "error");
    expect(error).toMatchObject({ file: `passes/${log}`, code: "manifest-unknown" });
    expect(Object.keys(error)).toEqual(
      expect.arrayContaining(["severity", "code", "file", "line", "column", "found", "expected", "advice"]),
    );
  });

  it("of a folder that is not there says so", async () => {
    const said = await ended("check", "--data", "nowhere");
    expect(said.status).toBe(2);
    expect(said.out).toContain("nowhere");
  });
});

describe("judge", () => {
  it("prints the result as JSON and nothing else on standard output", async () => {
    await data("itemised");
    const said = await proofwalk("judge", "--json");
    const { schemaVersion, facilities } = JSON.parse(said.out);
    expect(schemaVersion).toBe(1);
    expect(facilities).toHaveLength(1);
    const worst = { "not-met": 1, undecided: 3, untested: 3, met: 0 };
    expect(said.status).toBe(worst[facilities[0].state as keyof typeof worst]);
  });

  it("prints nothing on standard output where an input has an error, and ends in 2", async () => {
    await data("listed");
    await spoil("data/barn/facility.yaml", "rounds:", "rouns:");
    for (const said of [await judging(), await ended("judge", "--json", ...here())]) {
      expect(said).toMatchObject({ status: 2, out: "" });
      expect(said.err).toContain("rounds");
    }
  });

  it("ends in 1 for something not met, 3 for something open, 0 where all is met", async () => {
    await data("itemised");
    const yaml = join(room, "data", "shed", "facility.yaml");
    const text = await readFile(yaml, "utf8");
    const criteria = (limit: string) =>
      `${text.slice(0, text.indexOf("\ncriteria:"))}\ncriteria:\n  - { id: c, title: T, measure: tag-read-rate, ${limit} }\n`;
    const statusAt = async (limit: string) => {
      await writeFile(yaml, criteria(limit));
      return (await judging()).status;
    };
    expect(await statusAt("at_most: 0.01")).toBe(1);
    expect(await statusAt("at_least: 0.7")).toBe(3);
    expect(await statusAt("at_least: 0.01")).toBe(0);
    expect(await statusAt("at_least: 0.01, minimum_passes: 1000")).toBe(3);
  });
});

describe("build", () => {
  it("writes a site and ends in 0 whatever the verdict", async () => {
    await data("itemised");
    expect((await building()).status).toBe(0);
    expect(await readdir(join(room, "site"))).toEqual(
      expect.arrayContaining(["index.html", "shed", "assets", "contents.sha256"]),
    );
  });

  it("with an error in one facility writes nothing, names it, and leaves the site before untouched", async () => {
    await data("itemised");
    await building();
    const before = await readFile(join(room, "site", "contents.sha256"), "utf8");
    await data("listed");
    await spoil("data/barn/facility.yaml", "rounds:", "rouns:");
    const said = await building();
    expect(said.status).toBe(2);
    expect(said.err).toContain("Fix barn");
    expect(await readFile(join(room, "site", "contents.sha256"), "utf8")).toBe(before);
    expect((await readdir(room)).sort()).toEqual(["data", "site"]);
    expect((await building("--only", "shed")).status).toBe(0);
  });

  it("leaves nothing behind when it is interrupted while it writes", async () => {
    await data("itemised");
    // The program interrupts itself when it has written its first file, with all pages still to come.
    const interruption = `import fs from "node:fs"; import { syncBuiltinESMExports } from "node:module";
      const write = fs.writeFileSync;
      fs.writeFileSync = (path, text) => {
        write(path, text);
        if (!/new.shed.result[.]json$/.test(path)) return;
        fs.writeSync(1, path);
        process.kill(process.pid, "SIGINT");
      };
      syncBuiltinESMExports();`;
    const preload = `data:text/javascript,${encodeURIComponent(interruption)}`;
    const child = spawn(process.execPath, ["--import", preload, program, "build"], { cwd: room });
    let firstFile = "";
    child.stdout.on("data", (chunk: Buffer) => {
      firstFile += chunk.toString();
    });
    expect(await new Promise((resolve) => child.on("close", resolve))).toBe(130);
    expect(firstFile).toMatch(/site\.proofwalk-[^/]+\/new\/shed\/result\.json$/);
    expect(await readdir(room)).toEqual(["data"]);
  });

  it("refuses a place among the facilities, and leaves the data folder as it was", async () => {
    await data("itemised");
    for (const place of ["data", "data/site", "data/shed/passes/site"]) {
      const said = await ended("build", ...here(), "--out", join(room, place));
      expect(said.status).toBe(2);
      expect(said.err).toMatch(/^".+" lies in the data folder ".+", .*\nNothing was written\.\n$/);
    }
    await symlink(join(room, "data"), join(room, "link"));
    expect((await ended("build", ...here(), "--out", join(room, "link", "site"))).err).toContain(
      "data folder",
    );
    expect(await readdir(join(room, "data"))).toEqual(["shed"]);
    expect((await readdir(room)).sort()).toEqual(["data", "link"]);
  });

  it("names what was added to a site and leaves it, exit 2, and goes on once that is moved away", async () => {
    await data("itemised");
    await building();
    await writeFile(join(room, "site", "shed", "signed-scan.pdf"), "signed");
    const said = await building();
    expect(said.status).toBe(2);
    expect(said.err).toContain("shed/signed-scan.pdf");
    expect(await readFile(join(room, "site", "shed", "signed-scan.pdf"), "utf8")).toBe("signed");
    await rm(join(room, "site", "shed", "signed-scan.pdf"));
    expect((await building()).status).toBe(0);
  });

  it("lists site.json, which says what wrote the site, among its contents", async () => {
    await data("itemised");
    await building();
    const contents = await readFile(join(room, "site", "contents.sha256"), "utf8");
    expect(contents).toMatch(/^[0-9a-f]{64} {2}site\.json$/m);
    const site = JSON.parse(await readFile(join(room, "site", "site.json"), "utf8"));
    expect(site).toEqual({
      tool: "proofwalk",
      version: expect.stringMatching(/^\d+\.\d+\.\d+/),
      schemaVersion: 1,
    });
  });

  it.each(["index.html", "contents.sha256", "site.json", "assets"])(
    "of a facility called %s gives it another folder, and the site is whole",
    async (id) => {
      await data("itemised");
      await rename(join(room, "data", "shed"), join(room, "data", id));
      const said = await building();
      expect(said).toMatchObject({ status: 0, err: expect.not.stringContaining("fault") });
      const folder = (await readdir(join(room, "site"))).find((name) => /-[0-9a-f]{8}$/.test(name))!;
      expect(await readdir(join(room, "site", folder))).toContain("result.json");
      expect(() => refuseForeignFolder(join(room, "site"), "site")).not.toThrow();
    },
  );

  it("refuses an output folder that holds other files", async () => {
    await data("itemised");
    await mkdir(join(room, "papers"));
    await writeFile(join(room, "papers", "thesis.doc"), "years of work");
    const said = await ended("build", ...here(), "--out", join(room, "papers"));
    expect(said.status).toBe(2);
    expect(said.err).toContain("did not write (thesis.doc)");
    expect(await readdir(join(room, "papers"))).toEqual(["thesis.doc"]);
  });
});

describe("Ctrl+C", () => {
  const busy = "data:text/javascript,setTimeout(() => { process.stderr.write('busy'); for (;;); }, 1)";
  it.each([["check"], ["judge"], ["build"]])(
    "ends %s at once, even while it does not pause",
    async (command) => {
      await data("itemised");
      const child = spawn(process.execPath, ["--import", busy, program, command], { cwd: room });
      const ended = new Promise<NodeJS.Signals | null>((resolve) =>
        child.on("close", (_status, signal) => resolve(signal)),
      );
      await new Promise((resolve) => child.stderr.once("data", resolve));
      child.kill("SIGINT");
      expect(await ended).toBe("SIGINT");
    },
  );
});

describe("new", () => {
  it("starts a folder that check accepts and build turns into a site, and never overwrites one", async () => {
    expect((await starting()).status).toBe(0);
    expect((await readdir(join(room, "data/yard"))).sort()).toEqual([
      "examples",
      "facility.schema.json",
      "facility.yaml",
      "passes",
    ]);
    expect((await checking()).status).toBe(0);
    expect((await judging()).status).toBe(3);
    expect((await building()).status).toBe(0);
    expect((await starting()).status).toBe(2);
  });

  it.each(["", " "])("refuses the name %j, and writes nothing over the current folder", async (name) => {
    await mkdir(join(room, "passes"));
    await writeFile(join(room, "facility.yaml"), "mine");
    await writeFile(join(room, "passes", "passes.csv"), "mine");
    const said = await proofwalk("new", name);
    expect(said).toMatchObject({ status: 2, out: "" });
    expect(said.err).toContain("new needs one folder");
    expect(await readFile(join(room, "facility.yaml"), "utf8")).toBe("mine");
    expect(await readFile(join(room, "passes", "passes.csv"), "utf8")).toBe("mine");
  });

  it("writes over nothing in a folder that is filled or lies under a link", async () => {
    await mkdir(join(room, "yard"));
    await writeFile(join(room, "yard", "facility.yaml"), "mine");
    await symlink(join(room, "yard"), join(room, "link"));
    for (const folder of ["yard", "link"]) {
      const said = await ended("new", join(room, folder));
      expect(said.status).toBe(2);
      expect(said.err).toContain("exists and is not an empty folder");
    }
    expect(await readdir(join(room, "yard"))).toEqual(["facility.yaml"]);
    expect(await readFile(join(room, "yard", "facility.yaml"), "utf8")).toBe("mine");
  });

  it.each([
    ["file/x", "ENOTDIR"],
    [`made/${"n".repeat(300)}`, "ENAMETOOLONG"],
    ["/proc/x/y", "ENOENT"],
  ])("says in one sentence why %s cannot be made, and leaves nothing", async (folder, code) => {
    await writeFile(join(room, "file"), "mine");
    const said = await ended("new", resolve(room, folder));
    expect(said).toMatchObject({ status: 2, out: "" });
    expect(said.err).toMatch(new RegExp(`^"[^"]+" cannot be written: [^.]+ \\(${code}\\)\\. [^.]+\\.\n$`));
    expect(await readdir(room)).toEqual(["file"]);
  });
});

describe("plan", () => {
  const planned = "plan: { tags_per_pass: 40, expected_rate: 0.998 }\n";
  const withPlan = async (text = planned) => {
    await data("listed");
    await spoil("data/barn/facility.yaml", "name:", `${text}name:`);
  };

  it("says how many passes each finding takes, and what that risks", async () => {
    await withPlan();
    const said = await planning();
    expect(said.status).toBe(0);
    expect(said.out).toContain("how much to walk");
    expect(said.out).toMatch(/At least \d+ passes without a/);
    expect(said.out).toContain("A read point that just misses the limit");
    // Told once, though the criterion makes a finding of every load and place.
    expect(said.out.match(/Every load and place is read/g)).toHaveLength(1);
    expect(said.out).toMatch(
      /Gate: .* (\d+ of \d+ planned passes are walked|None of the \d+ planned passes is walked|All \d+ planned passes are walked)/s,
    );
  });

  it("prints the same for other programs", async () => {
    await withPlan();
    const said = await ended("plan", "--json", "--only", "barn", ...here());
    const { schemaVersion, facilities } = JSON.parse(said.out);
    expect(schemaVersion).toBe(1);
    expect(facilities[0]).toMatchObject({ facility: { id: "barn" }, seed: 1, tagsPerPass: 40 });
    expect(facilities[0].findings[0].fewest[0].passes).toBeGreaterThan(0);
    expect(facilities[0].walks[0].passes).toHaveLength(facilities[0].readPoints[0].passes);
  });

  it("ends in 2 where nothing is planned, or the plan is malformed", async () => {
    await data("listed");
    const none = await planning();
    expect(none.status).toBe(2);
    expect(none.err).toContain("plan: { tags_per_pass: 40, expected_rate: 0.998 }");
    await spoil("data/barn/facility.yaml", "name:", "plan: { tags_per_pass: 40, expected_rate: 1 }\nname:");
    const malformed = await planning();
    expect(malformed.status).toBe(2);
    expect(malformed.err).toContain("No plan: 1 error");
    expect(malformed.out).toBe("");
  });
});
