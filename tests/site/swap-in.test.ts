import { spawn } from "node:child_process";
import {
  chmodSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from "node:fs";
import { mkdtemp, readFile } from "node:fs/promises";
import { hostname, tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { beforeEach, describe, expect, it, onTestFinished } from "vitest";
import { contentsName, filesBelow, writeContents } from "../../src/site/output/contents-list.ts";
import { OutputRefused } from "../../src/site/output/output-place.ts";
import { siteFileName, siteFileText } from "../../src/site/output/own-site.ts";
import { type FreshSite, swapIn } from "../../src/site/output/swap-in.ts";

let room: string;
let out: string;

beforeEach(async () => {
  room = await mkdtemp(join(tmpdir(), "proofwalk-swap-"));
  out = join(room, "site");
});

/** A site of one page, marked and listed as every site is. */
function writeWhole(folder: string, text: string): void {
  mkdirSync(join(folder, "yard"), { recursive: true });
  writeFileSync(join(folder, "index.html"), text);
  writeFileSync(join(folder, "yard", "result.json"), text);
  writeFileSync(join(folder, siteFileName), siteFileText);
  writeContents(folder);
}

const fillWith =
  (text: string) =>
  async ({ folder, interruptible }: FreshSite) => {
    for await (const one of interruptible([text])) writeWhole(folder, one);
  };

const page = (folder = out) => readFileSync(join(folder, "index.html"), "utf8");
const put = (path: string, text: string) => {
  mkdirSync(dirname(join(room, path)), { recursive: true });
  writeFileSync(join(room, path), text);
};
const list = (folder: string) => writeContents(join(room, folder));

describe("a new site", () => {
  it("takes the place of the one before, whole, and leaves nothing beside it", async () => {
    await swapIn(out, fillWith("first"));
    await swapIn(out, async (site) => {
      await fillWith("second")(site);
    });
    expect(page()).toBe("second");
    expect(readdirSync(out).sort()).toEqual([contentsName, "index.html", siteFileName, "yard"]);
    expect(readdirSync(room)).toEqual(["site"]);
  });

  it("that fails half-way leaves the one before untouched and nothing half written", async () => {
    await swapIn(out, fillWith("first"));
    const failing = swapIn(out, async (site) => {
      await fillWith("half")(site);
      throw new Error("the template is broken");
    });
    await expect(failing).rejects.toThrow("the template is broken");
    expect(page()).toBe("first");
    expect(readdirSync(room)).toEqual(["site"]);
  });

  it("may be written into an empty folder, also where a file manager looked into it", async () => {
    put("site/.DS_Store", "");
    await swapIn(out, fillWith("first"));
    put("site/yard/Thumbs.db", "");
    put("site/desktop.ini", "");
    await swapIn(out, fillWith("second"));
    expect(page()).toBe("second");
    expect(readdirSync(out)).not.toContain("desktop.ini");
  });

  it("can be read by whom the umask lets read: the folder and its files", async () => {
    const before = process.platform === "win32" ? 0o22 : 0o27;
    const umask = process.umask(before);
    onTestFinished(() => void process.umask(umask));
    await swapIn(out, fillWith("first"));
    expect((statSync(out).mode & 0o777).toString(8)).toBe("750");
    expect((statSync(join(out, "index.html")).mode & 0o777).toString(8)).toBe("640");
  });

  it("goes where a link leads, and leaves the link", async () => {
    mkdirSync(join(room, "share"));
    symlinkSync(join(room, "share"), out);
    await swapIn(out, fillWith("first"));
    await swapIn(out, fillWith("second"));
    expect(page(join(room, "share"))).toBe("second");
    expect(readdirSync(room).sort()).toEqual(["share", "site"]);
  });
});

describe("a folder is never replaced", () => {
  const refused = async (words: RegExp) => {
    const before = filesBelow(room).map((file) => [file, readFileSync(join(room, file), "utf8")]);
    await expect(swapIn(out, fillWith("new"))).rejects.toThrow(OutputRefused);
    await expect(swapIn(out, fillWith("new"))).rejects.toThrow(words);
    expect(filesBelow(room).map((file) => [file, readFileSync(join(room, file), "utf8")])).toEqual(before);
    expect(readdirSync(room)).toEqual(["site"]);
  };

  it("that holds somebody's other files", async () => {
    put("site/thesis.doc", "years of work");
    await refused(/thesis\.doc/);
  });

  it("whose list of contents somebody else made", async () => {
    put("site/years.doc", "years of work");
    list("site");
    await refused(/has no site\.json of proofwalk.*Move it away/);
  });

  it("that lists a site.json of another tool", async () => {
    put("site/site.json", '{ "tool": "another" }');
    list("site");
    await refused(/has no site\.json of proofwalk/);
  });

  it("that has an empty list beside somebody's file, or nothing but the list", async () => {
    put("site/contents.sha256", "");
    await refused(/contents\.sha256/);
    put("site/years.doc", "years of work");
    await refused(/years\.doc/);
  });

  it("that is a site of an older version", async () => {
    put("site/index.html", "old");
    put("site/assets/style.css", "old");
    list("site");
    await refused(/the site of an older version, or none\. Move it away/);
  });

  it.each(["signed-scan.pdf", "yard/signed-scan.pdf", ".git/HEAD"])("to which %s was added", async (name) => {
    await swapIn(out, fillWith("first"));
    put(`site/${name}`, "signed");
    await refused(
      new RegExp(
        name
          .split("/")
          .at(name.startsWith(".git") ? 0 : -1)!
          .replace(".", "\\."),
      ),
    );
  });

  it("to which a folder or a link was added", async () => {
    await swapIn(out, fillWith("first"));
    mkdirSync(join(out, "signed"));
    await refused(/signed/);
    symlinkSync("/", join(out, "yard", "elsewhere"));
    await refused(/yard\/elsewhere/);
  });

  it("in which a file was changed", async () => {
    await swapIn(out, fillWith("first"));
    put("site/yard/result.json", "corrected by hand");
    await refused(/yard\/result\.json/);
  });

  it("to which a file was added while the site was made", async () => {
    await swapIn(out, fillWith("first"));
    const adding = swapIn(out, async (site) => {
      await fillWith("second")(site);
      put("site/signed-scan.pdf", "signed");
    });
    await expect(adding).rejects.toThrow(/signed-scan\.pdf/);
    expect(page()).toBe("first");
    expect(readFileSync(join(out, "signed-scan.pdf"), "utf8")).toBe("signed");
    expect(readdirSync(room)).toEqual(["site"]);
  });

  it("that is a file, or a link that leads nowhere", async () => {
    put("file", "text");
    await expect(swapIn(join(room, "file"), fillWith("new"))).rejects.toThrow(/is a file and not a folder/);
    symlinkSync(join(room, "nowhere"), out);
    await expect(swapIn(out, fillWith("new"))).rejects.toThrow(/a link that leads nowhere/);
    expect(readdirSync(room).sort()).toEqual(["file", "site"]);
  });
});

describe("a place that cannot be written is refused in one sentence", () => {
  it.each([
    ["below a file", () => join(room, "file", "x", "site"), /a file and not a folder \(ENOTDIR\)/],
    ["with a name too long", () => join(room, "made", "n".repeat(300)), /too long \(ENAMETOOLONG\)/],
    ["where no folder can be made", () => "/proc/x/y/site", /no folder can be made there \(ENOENT\)/],
  ])("%s, and nothing is left behind", async (_what, place, words) => {
    put("file", "text");
    await expect(swapIn(place(), fillWith("new"))).rejects.toThrow(words);
    await expect(swapIn(place(), fillWith("new"))).rejects.toThrow(OutputRefused);
    expect(readdirSync(room)).toEqual(["file"]);
  });

  it.skipIf(process.getuid?.() === 0)("in a folder that may only be read", async () => {
    chmodSync(room, 0o500);
    onTestFinished(() => chmodSync(room, 0o700));
    await expect(swapIn(out, fillWith("new"))).rejects.toThrow(/you may not write there \(EACCES\)/);
  });

  it.each([
    ["a disk that fills up", { code: "ENOSPC" }, /the disk is full \(ENOSPC\)/],
    ["a disk that turned read-only", { code: "EROFS" }, /read-only \(EROFS\)/],
  ])("%s, also where the engine wraps the fault, and the site before stays", async (_what, fields, words) => {
    await swapIn(out, fillWith("first"));
    const failing = swapIn(out, async (site) => {
      await fillWith("half")(site);
      const fault = Object.assign(new Error("write"), fields);
      throw Object.assign(new Error("Having trouble"), {
        originalError: new Error("once more", { cause: fault }),
      });
    });
    await expect(failing).rejects.toThrow(words);
    await expect(failing).rejects.toThrow(OutputRefused);
    expect(page()).toBe("first");
    expect(readdirSync(room)).toEqual(["site"]);
  });

  it("but the fault of an input stays the fault of an input", async () => {
    const failing = swapIn(out, async () => {
      await readFile(join(room, "data", "facility.yaml"));
    });
    await expect(failing).rejects.toThrow(/ENOENT.*facility\.yaml/);
    await expect(failing).rejects.not.toThrow(OutputRefused);
  });
});

describe("what a killed build left", () => {
  const gone = 4_194_300;
  const leftover = (pid: number, owner: object | string | null) => {
    const folder = `site.proofwalk-${pid}-00ab12`;
    mkdirSync(join(room, folder));
    if (owner !== null)
      put(`${folder}/owner.json`, typeof owner === "string" ? owner : JSON.stringify(owner));
    return folder;
  };
  const ownerOf = (pid: number) => ({ tool: "proofwalk", host: hostname(), pid, began: null });

  it.each([
    ["before it was marked", null],
    ["while it was marked", ""],
    ["later", ownerOf(gone)],
  ])("%s is cleared by the next one", async (_when, owner) => {
    const folder = leftover(gone, owner);
    if (owner !== null && owner !== "") put(`${folder}/new/index.html`, "half");
    await swapIn(out, fillWith("whole"));
    expect(readdirSync(room)).toEqual(["site"]);
  });

  it("stays where its process runs, another machine made it, or somebody put something in", async () => {
    const running = leftover(process.ppid, ownerOf(process.ppid));
    const elsewhere = leftover(gone, { ...ownerOf(gone), host: "another-machine" });
    const other = "site.proofwalk-4194300-ffffff";
    put(`${other}/owner.json`, JSON.stringify(ownerOf(gone)));
    put(`${other}/notes.txt`, "mine");
    mkdirSync(join(room, "site.proofwalk-notes"));
    await swapIn(out, fillWith("whole"));
    expect(readdirSync(room).sort()).toEqual(
      [running, elsewhere, other, "site", "site.proofwalk-notes"].sort(),
    );
  });

  it("between its two renames is put back, even where the next one fails", async () => {
    const folder = leftover(gone, ownerOf(gone));
    writeWhole(join(room, folder, "old"), "earlier");
    writeWhole(join(room, folder, "new"), "newer");
    const failing = swapIn(out, async () => {
      expect(page()).toBe("earlier");
      throw new Error("an input is wrong");
    });
    await expect(failing).rejects.toThrow("an input is wrong");
    expect(page()).toBe("earlier");
    expect(readdirSync(room)).toEqual(["site"]);
  });

  it("after its renames is cleared, but for a site set aside to which somebody added a file", async () => {
    await swapIn(out, fillWith("newer"));
    const folder = leftover(gone, ownerOf(gone));
    writeWhole(join(room, folder, "old"), "earlier");
    put(`${folder}/old/signed-scan.pdf`, "signed");
    await swapIn(out, fillWith("newest"));
    expect(readFileSync(join(room, folder, "old", "signed-scan.pdf"), "utf8")).toBe("signed");
    rmSync(join(room, folder, "old", "signed-scan.pdf"));
    await swapIn(out, fillWith("newest"));
    expect(readdirSync(room)).toEqual(["site"]);
  });

  it("is known by more than the number of its process, which may be given again", async () => {
    const other = spawn(process.execPath, ["-e", "setTimeout(() => {}, 60000)"]);
    onTestFinished(() => void other.kill("SIGKILL"));
    leftover(other.pid!, { ...ownerOf(other.pid!), began: "1" });
    await swapIn(out, fillWith("whole"));
    expect(readdirSync(room)).toEqual(["site"]);
  });
});

describe("two builds at once", () => {
  it("leave the whole site of one of them, and nothing beside it", async () => {
    await swapIn(out, fillWith("first"));
    let bothAreFull = () => {};
    const full = new Promise<void>((resolve) => {
      bothAreFull = resolve;
    });
    let count = 0;
    const together = (text: string) => async (site: FreshSite) => {
      await fillWith(text)(site);
      count += 1;
      if (count === 2) bothAreFull();
      await full;
    };
    await Promise.all([swapIn(out, together("a")), swapIn(out, together("b"))]);
    expect(["a", "b"]).toContain(page());
    expect(readFileSync(join(out, "yard", "result.json"), "utf8")).toBe(page());
    expect(readdirSync(room)).toEqual(["site"]);
  });
});
