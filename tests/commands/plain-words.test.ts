import { mkdir, mkdtemp, rename, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { WrongUsage } from "../../src/commands/command.ts";
import { nextCommand, shellWord } from "../../src/commands/lines/next-command.ts";
import { jsonText } from "../../src/commands/lines/text.ts";
import { log, soundLog, soundYaml } from "../intake/folder.ts";
import { ended } from "./ended.ts";

/** A data folder with one facility, under a name with a space. */
async function dataFolder(files: Record<string, string>, id = "hall"): Promise<string> {
  const data = join(await mkdtemp(join(tmpdir(), "proofwalk-plain-")), "our clients");
  for (const [name, text] of Object.entries({ "facility.yaml": soundYaml, ...files })) {
    await mkdir(join(data, id, name, ".."), { recursive: true });
    await writeFile(join(data, id, name), text);
  }
  return data;
}

// biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for
const controls = /[\u0000-\u0009\u000b-\u001f\u007f-\u009f]/;

describe("a word that is no option or command", () => {
  it.each([
    [["check", "--dat", "x"], "There is no option --dat. Did you mean --data?"],
    [["check", "--jsno"], "Did you mean --json?"],
    [["check", "-x"], "There is no option -x."],
    [["chek"], "Did you mean check?"],
    [["help", "jugde"], "Did you mean judge?"],
    [["check", "--data"], "--data needs a value: --data DIR."],
    [["check", "--data", "--json"], "--data needs a value: --data DIR."],
    [["check", "--json=yes"], "--json takes no value"],
    [["judge", "--out", "x"], "judge takes no --out. Its options are --data, --only, --json and --junit."],
    [["describe", "--data", "x", "y"], "describe takes no --data. describe has no options."],
  ])("%j is answered in words of our own", async (words, sentence) => {
    const refusal = await ended(...words).catch((fault: unknown) => fault);
    expect(refusal).toBeInstanceOf(WrongUsage);
    expect((refusal as Error).message).toContain(sentence);
    expect((refusal as Error).message).not.toContain("positional");
  });

  it("is a value where = says so", async () => {
    expect((await ended("check", "--data=--odd")).out).toContain("--odd");
  });
});

describe("help", () => {
  it("of a command begins with examples and has its own options and exit status only", async () => {
    for (const words of [
      ["judge", "--help"],
      ["help", "judge"],
      ["judge", "-h"],
    ]) {
      const { status, out } = await ended(...words);
      expect(status).toBe(0);
      expect(out.indexOf("Examples")).toBeGreaterThan(0);
      expect(out.indexOf("Examples")).toBeLessThan(out.indexOf("Usage"));
      expect(out).toContain("proofwalk judge [--data DIR] [--only ID] [--json]");
      expect(out).toContain("1   something is not met");
      expect(out).not.toMatch(/--port|--out|Commands/);
    }
  });

  it("of every command shows at least one example of it", async () => {
    const { out } = await ended("--help");
    const names = [...out.matchAll(/^ {2}(\w+) {2,}/gm)].map(([, name]) => name!);
    expect(names).toEqual(expect.arrayContaining(["new", "check", "judge", "build", "serve", "describe"]));
    for (const name of names.filter((each) => !/^\d/.test(each)))
      expect((await ended(name, "--help")).out, name).toContain(`Examples\n  proofwalk ${name}`);
  });
});

describe("what comes next", () => {
  it("is a command line that a shell takes as it stands", () => {
    expect(shellWord("north-hall")).toBe("north-hall");
    expect(shellWord("My Depot")).toBe('"My Depot"');
    expect(shellWord('a $b "c"')).toBe("'a $b \"c\"'");
    expect(shellWord("it's $5")).toBe("'it'\\''s $5'");
    expect(nextCommand("check", { data: "data", only: [] })).toBe("Next: proofwalk check");
  });

  it("is about the same folder and facility, with their names in quotes", async () => {
    const data = await dataFolder({ "passes/a.csv": soundLog }, "My Depot");
    const { out } = await ended("check", "--data", data, "--only", "My Depot");
    expect(out).toContain(`Next: proofwalk judge --data "${data}" --only "My Depot"\n`);
  });
});

describe("describe", () => {
  const reads = "time,epc\n2026-05-21T08:00:00Z,3034257BF40C0E4000000001\n";

  it("offers the ids of the facility that the log lies in, and takes the one that it is named after", async () => {
    const data = await dataFolder({ "reads/r17.csv": reads, "reads/Dock_2.csv": reads });
    const unknown = await ended("describe", join(data, "hall", "reads", "r17.csv"));
    expect(unknown.out).toMatch(/read_point: r17 {2}# guess: put the id .*: dock-1, dock-2\n/);
    const known = await ended("describe", join(data, "hall", "reads", "Dock_2.csv"));
    expect(known.out).toMatch(/read_point: dock-2 {2}# guess/);
  });

  it("ends in 2 where no entry can be written, and still says what it found", async () => {
    const data = await dataFolder({ "reads/odd.csv": "colour,shape\nred,round\nblue,square\n" });
    const { status, out } = await ended("describe", join(data, "hall", "reads", "odd.csv"));
    expect(status).toBe(2);
    expect(out).toContain("No entry for facility.yaml can be written");
    expect(out).toContain("colour");
  });
});

describe("judge in the terminal", () => {
  const criteria = `criteria:
  - { id: easy, title: Half are read, measure: tag-read-rate, at_least: 0.2 }
  - { id: hard, title: Nearly all are read, measure: tag-read-rate, at_least: 0.97, for_each: [orientation] }
`;
  const rows = Array.from(
    { length: 60 },
    (_, i) => `as-left,P${i},dock-1,1,flat,T${i},${i % 20 ? "yes" : "no"}`,
  );

  it("has one line for a finding that is met, and says below others what was asked and what settles them", async () => {
    const data = await dataFolder({
      "facility.yaml": `${soundYaml.replace("  - { id: dock-2, name: Dock 2 }\n", "")}${criteria}`,
      "passes/a.csv": log("round,pass,read_point,speed_m_s,orientation,tag,read", ...rows),
    });
    const { out } = await ended("judge", "--data", data);
    const lines = out.split("\n").slice(1);
    expect(lines[0]).toMatch(
      /^ {2}undecided {2}Dock 1 {2}57 of 60 tags read {2}\d\d\.\d\s% {2}\(.*\) {2}97\s% required {2}Tag orientation: flat$/,
    );
    expect(lines[1]).toBe(`${" ".repeat(13)}Nearly all are read`);
    expect(lines[2]).toMatch(/^ {13}\S/);
    const met = lines.findIndex((line) => line.startsWith("  met"));
    expect(lines[met]!.search(/20\s% required/)).toBe(lines[0]!.search(/97\s% required/));
    expect(lines[met + 1]).toBe("The read point is undecided.");
    expect(out).not.toContain("Half are read");
  });

  it("names what was asked where two criteria that are met would have lines alike", async () => {
    const where = (id: string, title: string, orientation: string) =>
      `  - { id: ${id}, title: ${title}, measure: tag-read-rate, at_least: 0.2, where: { orientation: ${orientation} } }\n`;
    const data = await dataFolder({
      "facility.yaml": `${soundYaml}criteria:\n${where("a", "Flat ones", "flat")}${where("b", "Upright ones", "edge-on")}`,
      "passes/a.csv": log(
        "round,pass,read_point,speed_m_s,orientation,tag,read",
        ...rows,
        ...rows.map((row) => row.replace(",P", ",Q").replace("flat", "edge-on")),
      ),
    });
    const { out } = await ended("judge", "--data", data);
    const lines = out.split("\n").filter((line) => line.includes("57 of 60"));
    expect(lines).toHaveLength(2);
    expect(lines[0]).toBe(lines[1]);
    expect(out).toMatch(/57 of 60.*\n {13}Flat ones\n(?:.*\n)*.*57 of 60.*\n {13}Upright ones\n/);
  });
});

describe("no control character of the inputs reaches the terminal", () => {
  it("from a name, a path or a word of the command line", async () => {
    const data = await dataFolder({ "passes/a.csv": soundLog.replaceAll("P1", "P\u009b31m") });
    const odd = join(data, "..", "odd\u001b]0;x\u0007");
    await rename(data, odd);
    const said = [
      await ended("check", "--data", odd),
      await ended("judge", "--data", odd),
      await ended("describe", join(odd, "hall", "nowhere\u001b[2J")),
      await ended("new", join(odd, "hall")),
      await ended("check", "--data", odd, "--json"),
    ];
    for (const { out, err } of said) expect(`${out}${err}`).not.toMatch(controls);
  });

  it("and JSON keeps the text all the same", () => {
    const text = jsonText({ tag: "P\u009b31m\u202e" });
    expect(text).not.toMatch(controls);
    expect(JSON.parse(text)).toEqual({ tag: "P\u009b31m\u202e" });
  });
});
