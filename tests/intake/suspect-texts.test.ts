import { describe, expect, test } from "vitest";
import { appearance, lookalikeIn } from "../../src/intake/csv/lookalikes.ts";
import { itemised, listed, oneLog } from "./fault.ts";
import { type Files, log, places, read, soundYaml } from "./folder.ts";

const codes = Array.from(
  { length: 12 },
  (_, i) => `3034257BF40C0E4000${(0x100000 + i).toString(16).toUpperCase()}`,
);
const itemisedLog = (...tags: string[]) =>
  oneLog(itemised, ...tags.map((tag) => `as-left,P1,dock-1,${tag},yes,yes,,,,`));
const withLoad = (...rows: string[]): Files => ({
  "manifests/load.csv": log("tag", "T1", "T2"),
  "passes/a.csv": log(listed, ...rows),
});

async function remarks(files: Files): Promise<string[]> {
  return places((await read(files)).problems);
}

describe("a column of missed tags", () => {
  test("that is blank in every pass is remarked on: nothing was missed, or nobody filled it in", async () => {
    const { input, problems } = await read(
      withLoad("as-left,P1,dock-1,load,,none", "as-left,P2,dock-1,load,,none"),
    );
    expect(input).not.toBeNull();
    expect(places(problems)).toEqual(["warning passes/a.csv:1:32 missed-tags-never-filled"]);
    expect(problems[0]).toMatchObject({ found: "missed_tags blank in all 2 passes", advice: /Write none/ });
  });

  test("is settled by the word none, or by a tag that was missed in one of the passes", async () => {
    expect(
      await remarks(withLoad("as-left,P1,dock-1,load,none,none", "as-left,P2,dock-1,load,,none")),
    ).toEqual([]);
    expect(await remarks(withLoad("as-left,P1,dock-1,load,,none", "as-left,P2,dock-1,load,T2,none"))).toEqual(
      [],
    );
  });

  test("says the same with none as with a blank: every tag was read", async () => {
    const readOf = async (cell: string) =>
      (await read(withLoad(`as-left,P1,dock-1,load,${cell},none`))).input?.log.rows.tagsRead;
    expect(await readOf("none")).toEqual(await readOf(""));
  });
});

describe("among hexadecimal codes", () => {
  test("one that is damaged is remarked on at its place", async () => {
    const { input, problems } = await read(itemisedLog(...codes, "XYZ!"));
    expect(input).not.toBeNull();
    expect(places(problems)).toEqual(["warning passes/a.csv:14:19 code-unlike-others"]);
    expect(problems[0]).toMatchObject({ found: 'tag = "XYZ!"', expected: /as in 12 other codes/ });
  });

  test("one that lost its last digit is, be it in a manifest that nobody walked", async () => {
    const files = { ...itemisedLog(...codes), "manifests/load.csv": log("tag", codes[0]!.slice(0, -1)) };
    expect(await remarks(files)).toEqual([
      "warning manifests/load.csv:2:1 code-unlike-others",
      "warning manifests/load.csv:-:- manifest-unused",
    ]);
  });

  test("a code that a reader's log damaged is told at the pass that heard it", async () => {
    const yaml = `${soundYaml}reader_logs:\n  - { files: reads/r.csv, read_point: dock-1, columns: { time: t, epc: c } }\n`;
    const heard = [...codes, "XYZ!"].map((code) => `2026-05-21T09:00:05Z,${code}`);
    const { problems } = await read({
      "facility.yaml": yaml,
      "manifests/load.csv": log("tag", ...codes),
      "passes/a.csv": log(
        "round,pass,read_point,started_at,ended_at,manifest",
        "as-left,P1,dock-1,2026-05-21 10:00:00,2026-05-21 10:00:10,load",
      ),
      "reads/r.csv": log("t,c", ...heard),
    });
    expect(places(problems)).toEqual(["warning passes/a.csv:2:19 code-unlike-others"]);
    expect(problems[0]!.found).toBe('the code "XYZ!" in the reader\'s log, heard in this pass');
  });

  test("labels are left alone where there are many of them, or few codes", async () => {
    expect(await remarks(itemisedLog(...codes, "crate 1", "crate 2"))).toEqual([]);
    expect(await remarks(itemisedLog(...codes.slice(0, 9), "XYZ!"))).toEqual([]);
  });
});

describe("lookalike characters", () => {
  test("that make a second pass of one are an error at that pass", async () => {
    const { input, problems } = await read(
      oneLog("round,pass,read_point,tag,read", "as-left,P1,dock-1,T1,yes", "as-left,P\uff11,dock-1,T1,yes"),
    );
    expect(input).toBeNull();
    expect(places(problems)).toEqual(["error passes/a.csv:3:9 lookalike-characters"]);
    expect(problems[0]).toMatchObject({
      found: '"P\uff11" with the character U+FF11, which looks like "1"',
      advice: /looks like "P1"/,
    });
  });

  test("may name a pass at another read point as they like, with a remark on the mixture", async () => {
    expect(
      await remarks(
        oneLog("round,pass,read_point,tag,read", "as-left,P1,dock-1,T1,yes", "as-left,P\uff11,dock-2,T1,yes"),
      ),
    ).toEqual(["warning passes/a.csv:3:9 lookalike-characters"]);
  });

  test("in a code are an error where the plain code is used too, and a remark where it is not", async () => {
    const cyrillic = codes[0]!.replace("C", "\u0421");
    expect(await remarks(itemisedLog(...codes, cyrillic))).toContain(
      "error passes/a.csv:14:19 lookalike-characters",
    );
    expect(await remarks(itemisedLog(cyrillic))).toEqual(["warning passes/a.csv:2:19 lookalike-characters"]);
  });

  test("in a value are found in the log and in the manifest", async () => {
    const header = "round,pass,read_point,orientation,tag,read";
    expect(
      await remarks(oneLog(header, "as-left,P1,dock-1,flat,T1,yes", "as-left,P1,dock-1,fl\u0430t,T2,yes")),
    ).toEqual(["error passes/a.csv:3:19 lookalike-characters"]);
    expect(
      await remarks({
        "manifests/load.csv": log("tag,orientation", "T1,flat", "T2,fl\u0430t"),
        "passes/a.csv": log("round,pass,read_point,manifest,missed_tags", "as-left,P1,dock-1,load,T1"),
      }),
    ).toEqual(["error manifests/load.csv:3:4 lookalike-characters"]);
  });

  test("that nobody sees make a twin as well", async () => {
    expect(await remarks(itemisedLog("T1", "T\u200b1"))).toEqual([
      "error passes/a.csv:3:19 lookalike-characters",
    ]);
  });

  test("are none in words of another alphabet, in units and in accents", async () => {
    const words = [
      "\u0421\u043a\u043b\u0430\u0434 1",
      "\u03a0\u03cd\u03bb\u03b7 2",
      "m\u00b2",
      "T\u00fcr",
      "\u53f0\u8eca\uff11",
    ];
    for (const word of words) expect(lookalikeIn(word), word).toBeNull();
    expect(await remarks(itemisedLog(...words))).toEqual([]);
  });

  test("look like what they stand for", () => {
    expect(appearance("\u0410\u0412\uff11\u{1d7d8}")).toBe("AB10");
    expect(appearance("P\u200b1")).toBe("P1");
    expect(appearance("T\u00fcr")).toBe("T\u00fcr");
  });
});
