import { cp, mkdir, mkdtemp, readdir, readFile, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { SaxesParser } from "saxes";
import { beforeAll, describe, expect, it } from "vitest";
import { junitText } from "../../src/commands/junit/junit-text.ts";
import type { Result } from "../../src/model/result/result.ts";
import { bareResult, sampleResult } from "../pages/sample-result.ts";
import { ended } from "./ended.ts";

interface Node {
  name: string;
  attributes: Record<string, string>;
  children: Node[];
  text: string;
}

/** What a strict parser makes of the file; it throws where the file is no XML. */
function parsed(xml: string): Node {
  const root: Node = { name: "", attributes: {}, children: [], text: "" };
  const open = [root];
  const parser = new SaxesParser();
  parser.on("error", (fault) => {
    throw fault;
  });
  parser.on("opentag", ({ name, attributes }) => {
    const node: Node = { name, attributes: attributes as Record<string, string>, children: [], text: "" };
    open.at(-1)!.children.push(node);
    open.push(node);
  });
  parser.on("text", (text) => {
    open.at(-1)!.text += text;
  });
  parser.on("closetag", () => {
    open.pop();
  });
  parser.write(xml).close();
  return root.children[0]!;
}

const outcomeOf = (one: Node) =>
  one.children.find(({ name }) => name === "failure" || name === "error")?.name ?? "passed";

describe("findings as JUnit XML", () => {
  const root = parsed(junitText([sampleResult]));
  const cases = root.children.flatMap((suite) => suite.children);

  it("are passed where met, a failure where not met, an error where undecided or untested", () => {
    const expected = { met: "passed", "not-met": "failure", undecided: "error", untested: "error" };
    const states = new Set(sampleResult.findings.map(({ state }) => state));
    expect([...states].sort()).toEqual(["met", "not-met", "undecided", "untested"]);
    for (const readPoint of sampleResult.readPoints) {
      const own = sampleResult.findings.filter((finding) => finding.readPoint === readPoint.id);
      const shown = cases.filter(({ attributes }) =>
        attributes.classname?.endsWith(`.${readPoint.id.replace(/\s+/g, " ")}`),
      );
      expect(shown.map(outcomeOf)).toEqual(
        own.length === 0 ? ["error"] : own.map(({ state }) => expected[state]),
      );
    }
  });

  it("are counted in every suite and in all as they are listed", () => {
    const counted = (nodes: Node[]) => ({
      tests: String(nodes.length),
      failures: String(nodes.filter((one) => outcomeOf(one) === "failure").length),
      errors: String(nodes.filter((one) => outcomeOf(one) === "error").length),
    });
    expect(root.attributes).toMatchObject(counted(cases));
    for (const suite of root.children) expect(suite.attributes).toMatchObject(counted(suite.children));
    expect(root.children).toHaveLength(sampleResult.readPoints.length);
  });

  it("are told apart by class and name", () => {
    const keys = cases.map(({ attributes: { classname, name } }) => JSON.stringify([classname, name]));
    expect(new Set(keys).size).toBe(keys.length);
  });

  it("say who accepted a finding that is not met, which stays an error", () => {
    const conceded = sampleResult.findings.find(
      ({ state, concession }) => state !== "met" && concession !== null,
    )!;
    const shown = cases.filter((one) => one.attributes.name?.startsWith(conceded.criterion));
    expect(shown.map(({ children }) => children[0]!.text).join()).toContain("Accepted by");
  });

  it("stay well-formed with markup, line breaks and control characters in names", () => {
    const hostile: Result = {
      ...sampleResult,
      facility: { ...sampleResult.facility, name: 'A "b" <c> & d\u0007\u0000\nnext \u{1f4e6} \ud800' },
    };
    const name = parsed(junitText([hostile])).children[0]!.attributes.name!;
    expect(name).toContain('A "b" <c> & d\ufffd\ufffd next \u{1f4e6}');
  });

  it("hold an error for a read point without criteria and a facility without read points", () => {
    const bare = parsed(junitText([{ ...bareResult, readPoints: [], findings: [] }]));
    expect(bare.attributes).toMatchObject({ tests: "1", errors: "1", failures: "0" });
  });
});

describe("judge --junit", () => {
  let room: string;
  let data: string;
  let file: string;

  beforeAll(async () => {
    room = await mkdtemp(join(tmpdir(), "proofwalk-junit-"));
    data = join(room, "data");
    file = join(room, "findings.xml");
    await cp(join(process.cwd(), "tests", "golden", "itemised", "data"), data, { recursive: true });
  });

  it("writes the file, prints and ends as without it, and leaves nothing else behind", async () => {
    const plain = await ended("judge", "--data", data);
    expect(await ended("judge", "--data", data, "--junit", file)).toEqual(plain);
    const first = await readFile(file, "utf8");
    expect(parsed(first).name).toBe("testsuites");
    await ended("judge", "--data", data, "--junit", file);
    expect(await readFile(file, "utf8")).toBe(first);
    expect((await readdir(room)).sort()).toEqual(["data", "findings.xml"]);
  });

  it("writes nothing where an input has an error", async () => {
    const yaml = join(data, "shed", "facility.yaml");
    const sound = await readFile(yaml, "utf8");
    await writeFile(yaml, sound.replace("rounds:", "rouns:"));
    const other = join(room, "other.xml");
    expect(await ended("judge", "--data", data, "--junit", other)).toMatchObject({ status: 2, out: "" });
    await writeFile(yaml, sound);
    expect(await readdir(room)).not.toContain("other.xml");
  });

  it.each([
    ["a folder that is not there", () => join(room, "nowhere", "x.xml"), "there is no folder"],
    ["the data folder", () => join(data, "shed", "passes", "x.xml"), "it lies in the data folder"],
    ["a folder in place of a file", () => join(room, "taken"), "it is a folder"],
  ])("refuses %s before anything is judged", async (_, place, why) => {
    await mkdir(join(room, "taken"), { recursive: true });
    const said = await ended("judge", "--data", data, "--junit", place());
    expect(said).toMatchObject({ status: 2, out: "" });
    expect(said.err).toContain(why);
  });
});
