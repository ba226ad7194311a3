import { mkdir, mkdtemp, readdir, readFile, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { beforeEach, describe, expect, it } from "vitest";
import { contentsName } from "../../src/site/contents-list.ts";
import { OutputRefused, swapIn } from "../../src/site/swap-in.ts";

let room: string;
let out: string;

beforeEach(async () => {
  room = await mkdtemp(join(tmpdir(), "proofwalk-swap-"));
  out = join(room, "site");
});

const fillWith = (text: string) => async (folder: string) => {
  await writeFile(join(folder, "index.html"), text);
  await writeFile(join(folder, contentsName), "");
};

describe("a new site", () => {
  it("takes the place of the one before, whole, and leaves nothing beside it", async () => {
    await swapIn(out, fillWith("first"));
    await writeFile(join(out, "page-of-before.html"), "");
    await swapIn(out, fillWith("second"));
    expect(await readFile(join(out, "index.html"), "utf8")).toBe("second");
    expect((await readdir(out)).sort()).toEqual([contentsName, "index.html"]);
    expect(await readdir(room)).toEqual(["site"]);
  });

  it("that fails half-way leaves the one before untouched and nothing half written", async () => {
    await swapIn(out, fillWith("first"));
    const failing = swapIn(out, async (folder) => {
      await writeFile(join(folder, "index.html"), "half");
      throw new Error("the disk is full");
    });
    await expect(failing).rejects.toThrow("the disk is full");
    expect(await readFile(join(out, "index.html"), "utf8")).toBe("first");
    expect(await readdir(room)).toEqual(["site"]);
  });

  it("never replaces a folder that holds somebody's other files", async () => {
    await mkdir(out);
    await writeFile(join(out, "thesis.doc"), "years of work");
    await expect(swapIn(out, fillWith("site"))).rejects.toThrow(OutputRefused);
    await expect(swapIn(join(out, "thesis.doc"), fillWith("site"))).rejects.toThrow(/is not a folder/);
    expect(await readdir(out)).toEqual(["thesis.doc"]);
    expect(await readdir(room)).toEqual(["site"]);
  });

  it("may be written into an empty folder", async () => {
    await mkdir(out);
    await swapIn(out, fillWith("site"));
    expect(await readdir(out)).toContain("index.html");
  });
});
