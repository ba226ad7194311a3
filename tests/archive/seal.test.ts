import { execFileSync } from "node:child_process";
import { createHash } from "node:crypto";
import {
  cpSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import { hostname } from "node:os";
import { dirname, join } from "node:path";
import { parse } from "csv-parse/sync";
import { describe, expect, it } from "vitest";
import { folderFiles } from "../../src/archive/bag/files.ts";
import { readStoredZip } from "../../src/archive/zip/stored-zip.ts";
import { filesBelow } from "../../src/site/output/contents-list.ts";
import { ended } from "../commands/ended.ts";
import { bareSeal, commonSeal, oddSeal, sealedShed, shedData } from "./sealed-shed.ts";

const sha = (name: string, bytes: string | Buffer) => createHash(name).update(bytes).digest("hex");
const editYaml = (room: string, from: string, to: string) => {
  const file = join(room, "data", "shed", "facility.yaml");
  const text = readFileSync(file, "utf8");
  expect(text).toContain(from);
  writeFileSync(file, text.replace(from, to));
};
const seal = (room: string, ...words: string[]) =>
  ended("seal", "shed", "--data", join(room, "data"), "--out", join(room, "archive"), ...words);

/** What a killed seal leaves in an archive; the path of its half bag. */
function killedSeal(archive: string, whole: string): string {
  const left = join(archive, ".seal.proofwalk-999999999-abcdef");
  const half = join(left, "new", "shed-G-1-A");
  cpSync(whole, half, { recursive: true });
  // The declaration and the list of the lists come last.
  rmSync(join(half, "tagmanifest-sha512.txt"));
  const owner = { tool: "proofwalk", host: hostname(), pid: 999999999, began: null };
  writeFileSync(join(left, "owner.json"), JSON.stringify(owner));
  return half;
}

describe("a seal", () => {
  it("has the inputs byte for byte, the result, the pages and the tables, and its lists beside them", async () => {
    const bag = await commonSeal();
    const names = readdirSync(bag).sort();
    expect(names).toEqual([
      "HOW-TO-VERIFY.txt",
      "bag-info.txt",
      "bagit.txt",
      "data",
      "manifest-sha512.txt",
      "tagmanifest-sha512.txt",
    ]);
    const result = JSON.parse(readFileSync(join(bag, "data/result.json"), "utf8"));
    expect(filesBelow(join(bag, "data/inputs"))).toEqual(
      result.inputs.map(({ path }: { path: string }) => path),
    );
    for (const { path, sha256 } of result.inputs) {
      const bytes = readFileSync(join(bag, "data/inputs", path));
      expect(bytes).toEqual(readFileSync(join("tests/golden/itemised/data/shed", path)));
      expect(sha("sha256", bytes)).toBe(sha256);
    }
    expect(readFileSync(join(bag, "data/site/shed/result.json"))).toEqual(
      readFileSync(join(bag, "data/result.json")),
    );
  });

  it("lists every file with its SHA-512, by code point, in the form of sha512sum", async () => {
    const bag = await commonSeal();
    const line = (path: string) => `${sha("sha512", readFileSync(join(bag, path)))}  ${path}\n`;
    const payload = filesBelow(join(bag, "data")).map((path) => line(`data/${path}`));
    expect(readFileSync(join(bag, "manifest-sha512.txt"), "utf8")).toBe(payload.join(""));
    const tags = ["HOW-TO-VERIFY.txt", "bag-info.txt", "bagit.txt", "manifest-sha512.txt"].map(line);
    expect(readFileSync(join(bag, "tagmanifest-sha512.txt"), "utf8")).toBe(tags.join(""));
  });

  it("says in bag-info.txt which report it is, with its day of issue and its mark", async () => {
    const bag = await commonSeal();
    const text = readFileSync(join(bag, "bag-info.txt"), "utf8");
    const { sizes } = folderFiles(join(bag, "data"));
    const bytes = [...sizes.values()].reduce((sum, size) => sum + size, 0);
    expect(text).toContain("Bagging-Date: 2026-03-05\n");
    expect(text).toContain("External-Identifier: G-1, revision A\n");
    expect(text).toContain(`Payload-Oxum: ${bytes}.${sizes.size}\n`);
    expect(text).toContain(sha("sha256", readFileSync(join(bag, "data/result.json"))));
    expect(readFileSync(join(bag, "bagit.txt"), "utf8")).toBe(
      "BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n",
    );
  });

  it("has pages that lead to the inputs beside them, and nothing that tells of the machine", async () => {
    const site = join(await commonSeal(), "data/site");
    const page = readFileSync(join(site, "shed/inputs.html"), "utf8");
    const hrefs = [...page.matchAll(/href="([^"]*inputs\/[^"]+)"/g)].map(([, href]) => href!);
    expect(hrefs).toEqual(["../../inputs/facility.yaml", "../../inputs/passes/walks.csv"]);
    for (const href of hrefs) expect(existsSync(join(site, "shed", href))).toBe(true);
    const [, how] = /href="([^"]*HOW-TO-VERIFY.txt)"/.exec(page)!;
    expect(existsSync(join(site, "shed", how!))).toBe(true);
    expect(page).not.toContain("not in this site");
    expect(existsSync(join(site, "made-with.json"))).toBe(false);
    expect(existsSync(join(site, "shed/inputs"))).toBe(false);
  });

  it("is the same to the byte from a folder in another order, and its zip too", async () => {
    const room = shedData();
    // Files that are made in another order are listed in another order by some disks.
    const shed = join(room, "data", "shed");
    renameSync(shed, join(room, "other"));
    mkdirSync(join(shed, "passes"), { recursive: true });
    cpSync(join(room, "other/passes/walks.csv"), join(shed, "passes/walks.csv"));
    cpSync(join(room, "other/facility.yaml"), join(shed, "facility.yaml"));
    const [one, two] = [await commonSeal(), await sealedShed(room, "--zip")];
    const tags = (bag: string) => readFileSync(join(bag, "tagmanifest-sha512.txt"), "utf8");
    expect(tags(two)).toBe(tags(one));
    expect(readFileSync(`${two}.zip`).equals(readFileSync(`${one}.zip`))).toBe(true);
  });

  it("is the same to the byte in another time zone and language", async () => {
    const room = shedData();
    const words = ["seal", "shed", "--data", join(room, "data"), "--out", join(room, "archive")];
    const env = { ...process.env, TZ: "America/St_Johns", LANG: "de_DE.UTF-8", LC_ALL: "de_DE.UTF-8" };
    execFileSync(process.execPath, ["dist/src/cli.js", ...words], { env });
    const tags = (bag: string) => readFileSync(join(bag, "tagmanifest-sha512.txt"), "utf8");
    expect(tags(join(room, "archive/shed-G-1-A"))).toBe(tags(await commonSeal()));
  });

  it("of shuffled rows has the same result but for the hash of the log, and clears away one that was killed", async () => {
    const room = shedData();
    killedSeal(join(room, "archive"), await commonSeal());
    const log = join(room, "data/shed/passes/walks.csv");
    const [header, ...rows] = readFileSync(log, "utf8").trimEnd().split("\n");
    writeFileSync(log, [header, ...rows.reverse(), ""].join("\n"));
    const resultOf = (bag: string) => JSON.parse(readFileSync(join(bag, "data/result.json"), "utf8"));
    const [{ inputs: a, ...one }, { inputs: b, ...two }] = [
      resultOf(await commonSeal()),
      resultOf(await sealedShed(room)),
    ];
    expect(two).toEqual(one);
    expect(b).not.toEqual(a);
    expect(readdirSync(join(room, "archive"))).toEqual(["shed-G-1-A"]);
  });

  it("without inputs says so on its pages and in HOW-TO-VERIFY.txt", async () => {
    const bag = await bareSeal();
    expect(existsSync(join(bag, "data/inputs"))).toBe(false);
    expect(readFileSync(join(bag, "HOW-TO-VERIFY.txt"), "utf8")).toContain("are not in it");
    expect(readFileSync(join(bag, "data/site/shed/inputs.html"), "utf8")).toContain("not in this site");
  });
});

describe("the tables of a seal", () => {
  it("are described column by column: names, types that every cell has, units", async () => {
    const folder = join(await commonSeal(), "data/tables");
    const { profile, resources } = JSON.parse(readFileSync(join(folder, "datapackage.json"), "utf8"));
    expect(profile).toBe("tabular-data-package");
    const described = resources.map(({ path }: { path: string }) => path);
    expect([...described, "datapackage.json"].sort()).toEqual(readdirSync(folder).sort());
    const units = new Map<string, string>();
    for (const { name, path, bytes, hash, schema } of resources) {
      expect(name).toMatch(/^[a-z0-9._-]+$/);
      const content = readFileSync(join(folder, path));
      expect([bytes, hash]).toEqual([content.length, `sha512:${sha("sha512", content)}`]);
      const [header, ...rows] = parse(content) as string[][];
      expect(schema.fields.map((field: { name: string }) => field.name)).toEqual(header);
      for (const [i, { name: column, type, unit }] of schema.fields.entries()) {
        if (unit !== undefined) units.set(column, unit);
        const cells = rows.map((row) => row[i]!).filter((cell) => cell !== "");
        if (type === "any") expect(cells).toEqual([]);
        if (column === "lower") expect(type).toBe("number");
        if (type === "integer") expect(cells.every((cell) => /^-?\d+$/.test(cell))).toBe(true);
        if (type === "number") expect(cells.every((cell) => Number.isFinite(Number(cell)))).toBe(true);
      }
    }
    expect(units.get("speed_m_s")).toBe("m/s");
    expect(units.get("size_bytes")).toBe("B");
    expect(units.get("value_fraction")).toBe("fraction (1 is 100 %)");
    expect([...units.keys()]).not.toContain("tags_read");
  });
});

describe("the zip of a seal", () => {
  it("has the same files below the name of the seal, stored as they are", async () => {
    const bag = await commonSeal();
    const zip = await readStoredZip(`${bag}.zip`);
    expect(zip!.folder).toBe("shed-G-1-A");
    expect([...zip!.files.sizes]).toEqual([...folderFiles(bag).sizes]);
    const bytes = readFileSync(`${bag}.zip`);
    expect(bytes.includes(readFileSync(join(bag, "data/site/shed/index.html")))).toBe(true);
    expect((await ended("verify", `${bag}.zip`)).status).toBe(0);
  });

  it("is refused with any byte of its records changed, or of a file in it", async () => {
    const bag = await commonSeal();
    const bytes = readFileSync(`${bag}.zip`);
    const changed = `${bag}-changed.zip`;
    const directory = bytes.readUInt32LE(bytes.length - 6);
    const places = [
      0,
      4,
      10,
      14,
      29,
      33,
      2000,
      directory + 12,
      directory + 40,
      bytes.length - 20,
      bytes.length - 1,
    ];
    for (const place of places) {
      const other = Buffer.from(bytes);
      other[place] = other[place]! ^ 1;
      writeFileSync(changed, other);
      expect(await readStoredZip(changed), `byte ${place}`).toBeNull();
    }
    expect((await ended("verify", changed)).status).toBe(2);
    expect((await ended("verify", changed, "--bag-only")).status).toBe(4);
    rmSync(changed);
  });
});

describe("what is refused", () => {
  it("is what was sealed before, as a folder or as a zip", async () => {
    const room = shedData();
    const bag = join(room, "archive/shed-G-1-A");
    mkdirSync(bag, { recursive: true });
    writeFileSync(join(bag, "note.txt"), "kept");
    const again = await seal(room, "--inputs", "none");
    expect(again.status).toBe(2);
    expect(again.err).toContain("stands already, and a seal is never replaced");
    expect(readFileSync(join(bag, "note.txt"), "utf8")).toBe("kept");
    rmSync(bag, { recursive: true });
    writeFileSync(`${bag}.zip`, "");
    expect((await seal(room)).err).toContain('shed-G-1-A.zip" stands already');
    expect(readdirSync(join(room, "archive"))).toEqual(["shed-G-1-A.zip"]);
  });

  it("is a facility whose inputs have an error, and then nothing is written", async () => {
    const room = shedData();
    writeFileSync(join(room, "data/shed/passes/torn.csv"), "torn");
    const { status, err } = await seal(room);
    expect(status).toBe(2);
    expect(err).toContain("passes/torn.csv");
    expect(existsSync(join(room, "archive"))).toBe(false);
  });

  it("is a facility that is not there, one without a report, and half of the inputs", async () => {
    const room = shedData();
    expect((await ended("seal", "barn", "--data", join(room, "data"))).status).toBe(2);
    await expect(seal(room, "--inputs", "small")).rejects.toThrow("all input files or none");
    editYaml(room, "report: { number: G-1, revision: A, issued: 2026-03-05 }\n", "");
    expect((await seal(room)).err).toContain("has no report");
    expect(existsSync(join(room, "archive"))).toBe(false);
  });

  it("is a report whose number no folder can be called by; marks in one become hyphens, and its mark is printed", async () => {
    const { bag, out } = await oddSeal();
    expect(readdirSync(dirname(bag))).toEqual(["shed-No-7-a-A"]);
    const mark = sha("sha256", readFileSync(join(bag, "data/result.json")));
    expect(out).toContain(`Evidence mark ${mark.slice(0, 32).match(/.{4}/g)!.join(" ")}\n`);
    expect(out).toContain(mark);
    const room = shedData();
    editYaml(room, "number: G-1", 'number: "十四"');
    const { status, err } = await seal(room);
    expect(status).toBe(2);
    expect(err).toContain('The report\'s number "十四" has no letter or digit');
  });

  it.each([
    ["10%.csv", "it holds %"],
    ["a\\b.csv", "it holds \\"],
    ["a:b.csv", "it holds :"],
    ["con.csv", "Windows keeps it for a device"],
  ])("is a file called %s, which not every machine can carry", async (name, why) => {
    const room = shedData();
    const passes = join(room, "data/shed/passes");
    renameSync(join(passes, "walks.csv"), join(passes, name));
    const { status, err } = await seal(room);
    expect(status).toBe(2);
    expect(err).toContain(`to every machine: ${why}. Rename the file.`);
    expect(existsSync(join(room, "archive"))).toBe(false);
  });

  it("is two files that differ only in their capitals", async () => {
    const room = shedData();
    const passes = join(room, "data/shed/passes");
    const [header, ...rows] = readFileSync(join(passes, "walks.csv"), "utf8").trimEnd().split("\n");
    const half = rows.findIndex((row) => row.startsWith("after"));
    writeFileSync(join(passes, "walks.csv"), [header, ...rows.slice(0, half), ""].join("\n"));
    writeFileSync(join(passes, "Walks.csv"), [header, ...rows.slice(half), ""].join("\n"));
    expect((await seal(room)).err).toContain("are one file on a disk that does not tell capitals");
  });

  it("is anything into the data folder, where every folder is a facility", async () => {
    const room = shedData();
    const { status, err } = await ended(
      "seal",
      "shed",
      "--data",
      join(room, "data"),
      "--out",
      join(room, "data/archive"),
    );
    expect(status).toBe(2);
    expect(err).toContain("lies in the data folder");
  });
});

describe("a seal that was killed while it was written", () => {
  it("is never where seals stand, and is no seal itself", async () => {
    const archive = join(shedData(), "archive");
    const half = killedSeal(archive, await commonSeal());
    expect(readdirSync(archive).filter((name) => !name.startsWith("."))).toEqual([]);
    expect((await ended("verify", half)).status).toBe(4);
    rmSync(join(half, "bagit.txt"));
    rmSync(join(half, "manifest-sha512.txt"));
    expect((await ended("verify", half)).status).toBe(2);
  });
});
