import { cpSync, mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { folderFiles } from "../../src/archive/bag/files.ts";
import { manifestText } from "../../src/archive/bag/manifest.ts";
import { tagFiles } from "../../src/archive/seal-layout.ts";
import { ended } from "../commands/ended.ts";
import { type Contents, lineOf } from "./memory-bag.ts";

/** A folder of its own with the data of the golden facility, whose report is G-1, revision A. */
export function shedData(): string {
  const room = mkdtempSync(join(tmpdir(), "proofwalk-seal-"));
  cpSync("tests/golden/itemised/data", join(room, "data"), { recursive: true });
  return room;
}

/** Seals it with the options given; the path of the bag. */
export async function sealedShed(room: string, ...words: string[]): Promise<string> {
  const { status, err } = await ended(
    "seal",
    "shed",
    "--data",
    join(room, "data"),
    "--out",
    join(room, "archive"),
    ...words,
  );
  if (status !== 0) throw new Error(err);
  return join(room, "archive", "shed-G-1-A");
}

let whole: Promise<string> | null = null;

/** One seal with its zip, for all who only read it. */
export function commonSeal(): Promise<string> {
  whole ??= sealedShed(shedData(), "--zip");
  return whole;
}

let bare: Promise<string> | null = null;

/** One seal without inputs, for all who only read it. */
export function bareSeal(): Promise<string> {
  bare ??= sealedShed(shedData(), "--inputs", "none");
  return bare;
}

let odd: Promise<{ bag: string; out: string }> | null = null;

/** One seal of a report whose number no folder can be called by, with a file beside the logs that no verdict used. */
export function oddSeal(): Promise<{ bag: string; out: string }> {
  odd ??= (async () => {
    const room = shedData();
    const file = join(room, "data/shed/facility.yaml");
    writeFileSync(file, readFileSync(file, "utf8").replace("number: G-1", 'number: "№ 7/a"'));
    writeFileSync(join(room, "data/shed/passes/notes.txt"), "a note");
    const archive = join(room, "archive");
    const { out } = await ended("seal", "shed", "--data", join(room, "data"), "--out", archive);
    return { bag: join(archive, "shed-No-7-a-A"), out };
  })();
  return odd;
}

/** A seal in memory with few pages and tables and lists that fit them, which takes no time to check. */
export async function smallContents(): Promise<Contents> {
  const kept =
    /^(?!data\/)|^data\/(inputs\/|result\.json|tables\/(datapackage\.json|inputs\.csv)|site\/(site\.json|shed\/mark\.css)$)/;
  const contents = Object.fromEntries(
    Object.entries(await commonContents()).filter(([path]) => kept.test(path)),
  );
  const list = (paths: string[]) =>
    manifestText(new Map(paths.map((path) => [path, lineOf(contents[path]!, "", "sha512").slice(0, 128)])));
  const payload = Object.keys(contents).filter((path) => path.startsWith("data/"));
  const bytes = payload.reduce((sum, path) => sum + contents[path]!.length, 0);
  contents["bag-info.txt"] = Buffer.from(
    contents["bag-info.txt"]!.toString().replace(/Oxum: .*/, `Oxum: ${bytes}.${payload.length}`),
  );
  contents["manifest-sha512.txt"] = Buffer.from(list(payload));
  contents["tagmanifest-sha512.txt"] = Buffer.from(list(tagFiles));
  return contents;
}

/** The same in memory. */
async function commonContents(): Promise<Contents> {
  const bag = await commonSeal();
  const paths = [...folderFiles(bag).sizes.keys()];
  return Object.fromEntries(paths.map((path) => [path, readFileSync(join(bag, path))]));
}
