import { execFileSync, spawnSync } from "node:child_process";
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { ended } from "../commands/ended.ts";
import type { Contents } from "./memory-bag.ts";
import { smallContents } from "./sealed-shed.ts";
import { isFoundByCommands, missingPrograms, saidByCommands } from "./standard-commands.ts";

const missing = missingPrograms();
const where = missing.length === 0 ? "" : ` (skipped: this machine has no ${missing.join(", ")})`;

// Counted as skipped where a program is missing: what is not run is not claimed.
describe.skipIf(missing.length > 0)(`the commands of HOW-TO-VERIFY.txt${where}`, () => {
  let room: string;
  let contents: Contents;
  beforeAll(async () => {
    room = mkdtempSync(join(tmpdir(), "proofwalk-how-to-"));
    contents = await smallContents();
  });

  /** A copy on the disk with something done to it. */
  function bagWith(change: (bag: string) => void): string {
    const bag = join(room, "bag");
    rmSync(bag, { recursive: true, force: true });
    for (const [path, content] of Object.entries(contents)) {
      mkdirSync(join(bag, path, ".."), { recursive: true });
      writeFileSync(join(bag, path), content);
    }
    change(bag);
    return bag;
  }

  const isFound = (change: (bag: string) => void) => isFoundByCommands(bagWith(change));

  it("say nothing of a seal that is whole, but that nobody has signed", () => {
    const bag = bagWith(() => {});
    expect(saidByCommands(bag)).toEqual({
      files: "",
      signatures: "Nobody has signed.\nNobody has signed.\n",
    });
  });

  it("find each file that is missing, and one that was added under any name", () => {
    for (const path of Object.keys(contents))
      expect(
        isFound((bag) => rmSync(join(bag, path))),
        path,
      ).toBe(true);
    for (const path of ["new", "data/.new", "data/inputs/a b", "data/two\nlines", "fetch.txt", "-n"])
      expect(
        isFound((bag) => writeFileSync(join(bag, path), "")),
        path,
      ).toBe(true);
    // A name that looks like two listed ones when it is printed.
    const between = (bag: string) => {
      mkdirSync(join(bag, "data/result.json\n12data"), { recursive: true });
      writeFileSync(join(bag, "data/result.json\n12data/result.json"), "");
    };
    expect(isFound(between)).toBe(true);
  });

  it("find two files that were swapped", () => {
    const swap = (bag: string) => {
      const [a, b] = [join(bag, "data/inputs/facility.yaml"), join(bag, "data/result.json")];
      const kept = readFileSync(a);
      cpSync(b, a);
      writeFileSync(b, kept);
    };
    expect(saidByCommands(bagWith(swap)).files).toContain("data/inputs/facility.yaml");
  });

  it("find a byte changed: in the lists where checksum tools are lenient, and in any file", () => {
    const places: [string, number, number][] = [
      // A capital for a small letter of a checksum, an asterisk for a blank.
      ["tagmanifest-sha512.txt", contents["tagmanifest-sha512.txt"]!.toString().search(/[a-f]/), 0x20],
      ["tagmanifest-sha512.txt", 129, 0x0a],
      ["tagmanifest-sha512.txt", contents["tagmanifest-sha512.txt"]!.length - 1, 0x07],
      ["manifest-sha512.txt", contents["manifest-sha512.txt"]!.toString().search(/[a-f]/), 0x20],
      ["manifest-sha512.txt", 129, 0x0a],
      ["bagit.txt", 15, 1],
      ["bag-info.txt", 3, 0x20],
      ["data/result.json", 40, 1],
      ["data/inputs/passes/walks.csv", 0, 1],
    ];
    for (const [path, place, change] of places) {
      const flip = (bag: string) => {
        const bytes = readFileSync(join(bag, path));
        bytes[place] = bytes[place]! ^ change;
        writeFileSync(join(bag, path), bytes);
      };
      expect(isFound(flip), `byte ${place} of ${path}`).toBe(true);
    }
  });

  it("tell who signed, and whose signature does not hold", async () => {
    const bag = bagWith(() => {});
    const key = join(room, "key");
    execFileSync("ssh-keygen", ["-q", "-t", "ed25519", "-N", "", "-C", "", "-f", key]);
    expect((await ended("sign", bag, "--key", key, "--as", "Ada Example")).status).toBe(0);
    writeFileSync(join(room, "allowed_signers"), `"Ada Example" ${readFileSync(`${key}.pub`, "utf8")}`);
    const { files, signatures } = saidByCommands(bag);
    expect(files).toBe("");
    expect(signatures).toMatch(
      /^signatures\/Ada Example\.sig: Good "proofwalk-seal" signature with ED25519 key SHA256:/,
    );
    expect(signatures).toContain('Good "proofwalk-seal" signature for Ada Example with ED25519 key');
    expect(signatures).not.toContain("DOES NOT HOLD");
    writeFileSync(join(room, "allowed_signers"), `Ben ${readFileSync(`${key}.pub`, "utf8")}`);
    expect(saidByCommands(bag).signatures).toContain("DOES NOT HOLD: signatures/Ada Example.sig");
    rmSync(join(room, "allowed_signers"));
    writeFileSync(join(bag, "bag-info.txt"), "Other: 1\n");
    spawnSync("sh", ["-c", "sha512sum bagit.txt > tagmanifest-sha512.txt"], { cwd: bag });
    expect(saidByCommands(bag).signatures).toContain("DOES NOT HOLD: signatures/Ada Example.sig");
  });
});
