import { execFileSync } from "node:child_process";
import {
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { checkSignatures } from "../../src/archive/check-seal.ts";
import { checkedBag } from "../../src/archive/opened-bag.ts";
import { ended } from "../commands/ended.ts";
import { type Contents, declaration, lineOf, memoryBag } from "./memory-bag.ts";
import { bareSeal, commonSeal, oddSeal, smallContents } from "./sealed-shed.ts";

function copyOf(seal: string): string {
  const bag = join(mkdtempSync(join(tmpdir(), "proofwalk-verify-")), "bag");
  cpSync(seal, bag, { recursive: true });
  return bag;
}

const copyOfSeal = async () => copyOf(await commonSeal());

/** Whether a seal holds, signatures included: what `verify` asks before it judges again. */
async function holds(contents: Contents): Promise<boolean> {
  const files = memoryBag(contents);
  const { faults, isSeal } = await checkedBag(files, () => {});
  if (faults.length > 0 || !isSeal) return false;
  return (await checkSignatures(files, null)).faults.length === 0;
}

describe("a seal that was touched", () => {
  it("does not hold with any file removed", async () => {
    const contents = await smallContents();
    expect(await holds(contents)).toBe(true);
    for (const path of Object.keys(contents)) {
      const { [path]: _, ...rest } = contents;
      expect(await holds(rest), path).toBe(false);
    }
  });

  it("does not hold with a file more, wherever it lies", async () => {
    const contents = await smallContents();
    for (const path of [
      "new",
      "data/new",
      "data/inputs/new.csv",
      "signatures/new",
      "signatures/x.sig",
      "fetch.txt",
    ])
      expect(await holds({ ...contents, [path]: "" }), path).toBe(false);
    expect(await holds({ ...contents, "timestamps/token.tsr": "of a service" })).toBe(true);
    expect(await holds({ ...contents, "manifest-md5.txt": "" })).toBe(false);
    // A folder that was looked at on a Mac or on Windows has such files, which nobody means by a change.
    const stray = memoryBag({ ...contents, "data/.DS_Store": "", "Thumbs.db": "" });
    expect((await checkedBag(stray, () => {})).faults.map(({ says }) => says)).toEqual([
      expect.stringMatching(/^data\/\.DS_Store is not listed.* delete it\.$/),
      expect.stringMatching(/^bag-info\.txt states/),
      expect.stringMatching(/^Thumbs\.db is not part of the seal\..* delete it\.$/),
    ]);
  });

  it("does not hold with two files swapped", async () => {
    const contents = await smallContents();
    const paths = Object.keys(contents);
    for (let i = 0; i + 1 < paths.length; i += 1) {
      const [a, b] = [paths[i]!, paths[i + 1]!];
      if (contents[a]!.toString() === contents[b]!.toString()) continue;
      expect(await holds({ ...contents, [a]: contents[b]!, [b]: contents[a]! }), `${a} and ${b}`).toBe(false);
    }
  });

  it("does not hold with a byte changed: all of some small files, and some of every other", async () => {
    const contents = await smallContents();
    expect(await holds(contents)).toBe(true);
    const small = ["bagit.txt", "bag-info.txt", "tagmanifest-sha512.txt", "data/site/site.json"];
    for (const [path, content] of Object.entries(contents)) {
      const bytes = content as Buffer;
      const places = small.includes(path)
        ? bytes.keys()
        : new Set(
            [0, bytes.length >> 1, bytes.length - 1].filter((place) => place >= 0 && place < bytes.length),
          );
      for (const place of places) {
        const changed = Buffer.from(bytes);
        // A blank for an asterisk, a small letter for a capital: checksum tools read some of those as the same.
        changed[place] = changed[place]! ^ (place % 2 === 0 ? 0x20 : 0x0a);
        expect(await holds({ ...contents, [path]: changed }), `byte ${place} of ${path}`).toBe(false);
      }
    }
  });
});

describe("verify", () => {
  it("finds a seal whole, and its inputs to give the same result", async () => {
    const { status, out } = await ended("verify", await commonSeal());
    expect(status).toBe(0);
    expect(out).toContain("the seal holds");
    expect(out).toContain("Nobody has signed it.");
    expect(out).toContain("the same result.");
  });

  it("names what was changed, is missing and was added, and ends with 4", async () => {
    const bag = await copyOfSeal();
    writeFileSync(join(bag, "data/inputs/passes/walks.csv"), "other");
    rmSync(join(bag, "data/site/shed/method.html"));
    writeFileSync(join(bag, "more.txt"), "more");
    const { status, out } = await ended("verify", bag);
    expect(status).toBe(4);
    expect(out).toContain("does not hold.");
    expect(out).toContain("data/inputs/passes/walks.csv was changed");
    expect(out).toContain("data/site/shed/method.html is missing");
    expect(out).toContain("more.txt is not part of the seal.");
    const { faults, holds: whole } = JSON.parse((await ended("verify", bag, "--json")).out);
    expect(whole).toBe(false);
    expect(faults).toContainEqual(
      expect.objectContaining({ kind: "missing", file: "data/site/shed/method.html" }),
    );
  });

  it("takes no link for a file", async () => {
    const bag = await copyOfSeal();
    const file = join(bag, "data/inputs/facility.yaml");
    cpSync(file, join(bag, "..", "facility.yaml"));
    rmSync(file);
    symlinkSync("../../../facility.yaml", file);
    expect((await ended("verify", bag)).status).toBe(4);
  });

  it("ends with 2 for what is no bag or no seal, and with --bag-only checks bags of any kind", async () => {
    const room = mkdtempSync(join(tmpdir(), "proofwalk-verify-"));
    expect((await ended("verify", join(room, "nowhere"))).status).toBe(2);
    expect((await ended("verify", room)).status).toBe(2);
    expect((await ended("verify", room, "--bag-only")).status).toBe(4);
    mkdirSync(join(room, "data"));
    writeFileSync(join(room, "bagit.txt"), declaration);
    writeFileSync(join(room, "data/a"), "a");
    writeFileSync(join(room, "manifest-sha256.txt"), lineOf("a", "data/a"));
    const { status, err } = await ended("verify", room);
    expect([status, err]).toEqual([2, expect.stringContaining("not one that seal wrote")]);
    expect((await ended("verify", room, "--bag-only")).status).toBe(0);
    writeFileSync(join(room, "data/b"), "b");
    expect((await ended("verify", room, "--bag-only")).status).toBe(4);
    expect((await ended("verify", room)).status).toBe(4);
  });

  it("judges nothing again with --bag-only, nor where the inputs are not in the seal", async () => {
    expect((await ended("verify", await commonSeal(), "--bag-only")).out).not.toContain("Judged again");
    const { status, out } = await ended("verify", await bareSeal());
    expect(status).toBe(0);
    expect(out).toContain("The inputs are not in the seal, so nothing was judged again.");
  });

  it("passes over remarks on files that are not sealed, since no verdict used them", async () => {
    const { bag } = await oddSeal();
    expect(readFileSync(join(bag, "data/result.json"), "utf8")).toContain("passes/notes.txt");
    expect((await ended("verify", bag)).out).toContain("the same result.");
  });
});

/** A seal whose result says something else than its inputs give, with lists that fit it. */
// biome-ignore lint/suspicious/noExplicitAny: the result as any program would change it
async function forged(change: (result: any) => void): Promise<string> {
  const bag = await copyOfSeal();
  const result = JSON.parse(readFileSync(join(bag, "data/result.json"), "utf8"));
  change(result);
  writeFileSync(join(bag, "data/result.json"), `${JSON.stringify(result, null, 2)}\n`);
  const relist = (list: string, path: string) => {
    const text = readFileSync(join(bag, list), "utf8");
    const line = new RegExp(`^[0-9a-f]{128} {2}${path.replaceAll(".", "\\.")}\n`, "m");
    writeFileSync(join(bag, list), text.replace(line, lineOf(readFileSync(join(bag, path)), path, "sha512")));
  };
  relist("manifest-sha512.txt", "data/result.json");
  const info = readFileSync(join(bag, "bag-info.txt"), "utf8");
  const files = /Payload-Oxum: \d+\.(\d+)/.exec(info)![1];
  const { sizes } = (await import("../../src/archive/bag/files.ts")).folderFiles(join(bag, "data"));
  const bytes = [...sizes.values()].reduce((sum, size) => sum + size, 0);
  writeFileSync(
    join(bag, "bag-info.txt"),
    info.replace(/Payload-Oxum: .*/, `Payload-Oxum: ${bytes}.${files}`),
  );
  relist("tagmanifest-sha512.txt", "bag-info.txt");
  relist("tagmanifest-sha512.txt", "manifest-sha512.txt");
  return bag;
}

describe("a seal whose result is not that of its inputs", () => {
  it("ends with 4 and every difference, where the version that sealed it judges again", async () => {
    const bag = await forged((result) => {
      result.state = "met";
      result.findings[0].estimate.k = 99;
    });
    const { status, out } = await ended("verify", bag);
    expect(status).toBe(4);
    expect(out).toContain("the files hold, the figures do not");
    expect(out).toContain("  state: ");
    expect(out).toContain("findings[0].estimate.k: 99 sealed");
    expect((await ended("verify", bag, "--bag-only")).status).toBe(0);
  });

  it("ends with 0 and every difference, where another version sealed it", async () => {
    const bag = await forged((result) => {
      result.tool.version = "0.0.1";
      result.state = "met";
      result.more = 1;
    });
    const { status, out } = await ended("verify", bag);
    expect(status).toBe(0);
    expect(out).toContain("it was sealed by 0.0.1: 2 differences.");
    expect(out).toContain("more: 1 sealed, not there now");
  });
});

const hasSshKeygen = (() => {
  try {
    execFileSync("ssh-keygen", ["-Y", "check"], { stdio: "ignore" });
    return true;
  } catch (fault) {
    return (fault as NodeJS.ErrnoException).code !== "ENOENT";
  }
})();

describe.skipIf(!hasSshKeygen)("sign", () => {
  const keys = mkdtempSync(join(tmpdir(), "proofwalk-keys-"));
  const key = (name: string) => {
    const file = join(keys, name);
    if (!existsSync(file))
      execFileSync("ssh-keygen", ["-q", "-t", "ed25519", "-N", "", "-C", name, "-f", file]);
    return file;
  };
  const publicKey = (name: string) => readFileSync(`${key(name)}.pub`, "utf8").trim();

  it("adds signatures one after the other, without breaking the seal, and says whose they are", async () => {
    const bag = await copyOfSeal();
    for (const name of ["ada@example.org", "Ben Example"]) {
      const { status, out } = await ended("sign", bag, "--key", key(name.slice(0, 3)), "--as", name);
      expect(status).toBe(0);
      expect(out).toMatch(/signed with ssh-ed25519 SHA256:/);
    }
    const { status, out } = await ended("verify", bag);
    expect(status).toBe(0);
    expect(out).toContain("Signed as Ben Example with ssh-ed25519");
    expect(out).toContain("Signed as ada@example.org with ssh-ed25519");
    mkdirSync(join(bag, "timestamps"));
    writeFileSync(join(bag, "timestamps/note.txt"), "of a service");
    const noted = await ended("verify", bag, "--bag-only");
    expect([noted.status, noted.out]).toEqual([
      0,
      expect.stringContaining("timestamps/note.txt: nothing can be told of it here."),
    ]);
    cpSync("tests/archive/signatures/answer.tsr", join(bag, "timestamps/of-another.tsr"));
    const stamped = await ended("verify", bag, "--bag-only");
    expect([stamped.status, stamped.out]).toEqual([
      4,
      expect.stringContaining("of-another.tsr is a token of other bytes than tagmanifest-sha512.txt"),
    ]);
    rmSync(join(bag, "timestamps"), { recursive: true });
    const list = join(keys, "signers");
    writeFileSync(list, `ada@example.org ${publicKey("ada")}\n"Ben Example" ${publicKey("Ben")}\n`);
    expect((await ended("verify", bag, "--allowed-signers", list)).status).toBe(0);
    writeFileSync(list, `ada@example.org ${publicKey("ada")}\n`);
    const unknown = await ended("verify", bag, "--allowed-signers", list);
    expect(unknown.status).toBe(4);
    expect(unknown.out).toContain("the files hold, the signatures do not");
    expect(unknown.out).toContain("Ben Example signed with a key that is not allowed");
    // A signature of one seal says nothing of another.
    const other = copyOf(await bareSeal());
    cpSync(join(bag, "signatures"), join(other, "signatures"), { recursive: true });
    expect((await ended("verify", other)).status).toBe(4);
  });

  it("asks for a signature where a list of signers is given", async () => {
    const list = join(keys, "one");
    writeFileSync(list, `ada ${publicKey("ada")}\n`);
    const { status, out } = await ended("verify", await commonSeal(), "--allowed-signers", list);
    expect([status, out]).toEqual([4, expect.stringContaining("Nobody signed the seal")]);
    writeFileSync(list, "ada\n");
    const refused = await ended("verify", await commonSeal(), "--allowed-signers", list);
    expect([refused.status, refused.err]).toEqual([2, expect.stringContaining("line 1: there is no key")]);
    expect((await ended("verify", await commonSeal(), "--allowed-signers", join(keys, "no"))).status).toBe(2);
  });

  it("signs neither twice under a name, nor what does not hold, nor with a key that is not there", async () => {
    const bag = await copyOfSeal();
    const sign = (...words: string[]) => ended("sign", bag, ...words);
    expect((await sign("--key", key("ada"), "--as", "ada")).status).toBe(0);
    expect((await sign("--key", key("Ben"), "--as", "ada")).err).toContain("stands already: ada has signed");
    const missing = await sign("--key", join(keys, "nokey"), "--as", "Cleo");
    expect([missing.status, existsSync(join(bag, "signatures/Cleo.sig"))]).toEqual([2, false]);
    await expect(sign("--key", key("ada"), "--as", "../ada")).rejects.toThrow("--as takes letters");
    await expect(sign("--key", key("ada"))).rejects.toThrow("--as ada@example.org");
    await expect(sign("--as", "ada")).rejects.toThrow("--key");
    writeFileSync(join(bag, "data/inputs/facility.yaml"), "name: Other\n");
    const broken = await sign("--key", key("ada"), "--as", "Dora");
    expect(broken.status).toBe(4);
    expect(broken.err).toContain("data/inputs/facility.yaml was changed");
  });
});
