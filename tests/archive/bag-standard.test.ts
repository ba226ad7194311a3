import { describe, expect, it, test } from "vitest";
import { checkBag } from "../../src/archive/bag/check-bag.ts";
import { type Contents, declaration, draftDeclaration, lineOf, memoryBag } from "./memory-bag.ts";

/** What is wrong with a bag, as sentences. */
async function faultsOf(contents: Contents, odd: string[] = []): Promise<string[]> {
  const { faults } = await checkBag(memoryBag(contents, odd));
  return faults.map(({ says }) => says);
}

const bag = (more: Contents = {}): Contents => ({
  "bagit.txt": declaration,
  "data/a.txt": "a\n",
  "data/b c.txt": "b\n",
  "manifest-sha256.txt": lineOf("a\n", "data/a.txt") + lineOf("b\n", "data/b c.txt"),
  ...more,
});

const without = (contents: Contents, path: string): Contents =>
  Object.fromEntries(Object.entries(contents).filter(([each]) => each !== path));

describe("a bag of version 1.0", () => {
  it("holds with its declaration, its payload and one manifest, and tag manifests are not needed", async () => {
    expect(await faultsOf(bag())).toEqual([]);
  });

  it("names each file that was changed, is missing or was added", async () => {
    expect(await faultsOf(bag({ "data/a.txt": "A\n" }))).toEqual([
      "data/a.txt was changed: its checksum is not the one in manifest-sha256.txt.",
    ]);
    expect(await faultsOf(without(bag(), "data/a.txt"))).toEqual([
      "data/a.txt is missing; manifest-sha256.txt lists it.",
    ]);
    expect(await faultsOf(bag({ "data/new.txt": "" }))).toEqual([
      "data/new.txt is not listed in manifest-sha256.txt.",
    ]);
    expect(await faultsOf(bag({ "data/a.txt": "b\n", "data/b c.txt": "a\n" }))).toHaveLength(2);
  });

  it("may have tag files that no manifest lists, and those that one lists must be there unchanged", async () => {
    const tags = { "notes.txt": "n\n", "tagmanifest-md5.txt": lineOf("n\n", "notes.txt", "md5") };
    expect(await faultsOf(bag({ ...tags, "more.txt": "" }))).toEqual([]);
    expect(await faultsOf(bag({ ...tags, "notes.txt": "m\n" }))).toEqual([
      "notes.txt was changed: its checksum is not the one in tagmanifest-md5.txt.",
    ]);
    expect(await faultsOf(without(bag(tags), "notes.txt"))).toEqual([
      "notes.txt is missing; tagmanifest-md5.txt lists it.",
    ]);
  });

  it("lists every payload file in every payload manifest, once", async () => {
    const second = lineOf("a\n", "data/a.txt", "sha512");
    expect(await faultsOf(bag({ "manifest-sha512.txt": second }))).toEqual([
      "data/b c.txt is not listed in manifest-sha512.txt.",
    ]);
    const twice = lineOf("a\n", "data/a.txt") + (bag()["manifest-sha256.txt"] as string);
    expect(await faultsOf(bag({ "manifest-sha256.txt": twice }))).toEqual([
      "manifest-sha256.txt lists data/a.txt more than once.",
    ]);
  });

  it("encodes line ends and per cent signs in paths, and nothing else", async () => {
    const names = { "data/10%.txt": "1", "data/two\nlines": "2", "data/%7E": "3" };
    const manifest =
      lineOf("1", "data/10%25.txt") + lineOf("2", "data/two%0alines") + lineOf("3", "data/%257E");
    const small = { "bagit.txt": declaration, ...names, "manifest-sha256.txt": manifest };
    expect(await faultsOf(small)).toEqual([]);
    const raw = { ...small, "manifest-sha256.txt": manifest.replace("%257E", "~") };
    expect(await faultsOf(raw)).toHaveLength(2);
  });

  it("ends its lines with LF, CR or both, and takes checksums in either case", async () => {
    const manifest = (bag()["manifest-sha256.txt"] as string).toUpperCase().replaceAll("DATA", "data");
    const shout = manifest.replace("A.TXT", "a.txt").replace("B C.TXT", "b c.txt");
    for (const end of ["\r\n", "\r"]) {
      const texts = { "manifest-sha256.txt": shout.replaceAll("\n", end) };
      expect(await faultsOf(bag({ ...texts, "bagit.txt": declaration.replaceAll("\n", end) }))).toEqual([]);
    }
  });

  it("states its payload in bytes and files, if it states it", async () => {
    expect(await faultsOf(bag({ "bag-info.txt": "Payload-Oxum: 4.2\n" }))).toEqual([]);
    expect(await faultsOf(bag({ "bag-info.txt": "payload-oxum: 5.2\n" }))).toEqual([
      "bag-info.txt states a payload of 5.2 (bytes.files); it is 4.2.",
    ]);
    expect(await faultsOf(bag({ "bag-info.txt": "no label\n" }))).toEqual([
      "bag-info.txt has a line without a label.",
    ]);
  });

  it.each([
    ["a byte order mark", `\ufeff${declaration}`],
    ["a blank before a colon", declaration.replace("Version:", "Version :")],
    ["a version that is not known", declaration.replace("1.0", "7.1")],
    ["a version without its number", declaration.replace("1.0", ".97")],
    ["one line only", "BagIt-Version: 1.0\n"],
    ["a third line", `${declaration}More: 1\n`],
  ])("is refused for a declaration with %s", async (_, text) => {
    expect(await faultsOf(bag({ "bagit.txt": text }))).toHaveLength(1);
  });

  it("is refused without a declaration, without a payload manifest, and with an algorithm that is not known", async () => {
    expect(await faultsOf(without(bag(), "bagit.txt"))).toEqual(["bagit.txt is missing."]);
    expect(await faultsOf(without(bag(), "manifest-sha256.txt"))).toEqual([
      "The bag has no payload manifest, such as manifest-sha512.txt.",
    ]);
    expect(await faultsOf(bag({ "manifest-crc.txt": "00  data/a.txt\n" }))).toEqual([
      "manifest-crc.txt is made with an algorithm that is not known here.",
    ]);
  });

  it.each(["/etc/passwd", "~/a", "../a", "data/../../a", "C:\\a", "\\\\server\\a", "%HomeDrive%\\a"])(
    "is refused for the path %s, which leads out of it on some machine",
    async (path) => {
      const manifest = (bag()["manifest-sha256.txt"] as string) + lineOf("", path.replaceAll("%", "%25"));
      expect(await faultsOf(bag({ "manifest-sha256.txt": manifest }))).toEqual([
        expect.stringContaining("leads out of the bag"),
      ]);
      const fetch = `https://example.org/ - ${path}\n`;
      expect(await faultsOf(bag({ "fetch.txt": fetch }))).toEqual([
        expect.stringContaining("fetch.txt has a line for no file of the payload"),
      ]);
    },
  );

  it("is refused for a link in it, and for tag files listed as payload", async () => {
    expect(await faultsOf(bag(), ["data/link"])).toEqual([expect.stringContaining("data/link is a link")]);
    const manifest = (bag()["manifest-sha256.txt"] as string) + lineOf(declaration, "bagit.txt");
    expect(await faultsOf(bag({ "manifest-sha256.txt": manifest }))).toEqual([
      "manifest-sha256.txt lists bagit.txt, which is not in the folder data.",
    ]);
  });

  it("is whole once what it fetches is there", async () => {
    const fetch = "https://example.org/a 2 data/a.txt\nhttps://example.org/b - data/b c.txt\n";
    expect(await faultsOf(bag({ "fetch.txt": fetch }))).toEqual([]);
    expect(await faultsOf(without(bag({ "fetch.txt": fetch }), "data/a.txt"))).toHaveLength(1);
  });

  it("may have accented letters in another form on the disk, with a remark", async () => {
    const manifest = lineOf("n", "data/N\u00fa\u00f1ez".normalize("NFD"));
    const check = await checkBag(
      memoryBag({
        "bagit.txt": declaration,
        "data/N\u00fa\u00f1ez": "n",
        "manifest-sha256.txt": manifest,
      }),
    );
    expect(check.faults).toEqual([]);
    expect(check.warnings.map(({ says }) => says)).toEqual([expect.stringContaining("accented letters")]);
  });
});

test("names that not every disk keeps apart, and files that systems make themselves, are remarked on in a bag that holds", async () => {
  const names = ["data/.DS_Store", "data/A.txt", "data/a.txt", "data/b c.txt"];
  const manifest = names.map((name) => lineOf(name === "data/b c.txt" ? "b\n" : "a\n", name)).join("");
  const { faults, warnings } = await checkBag(
    memoryBag(bag({ "data/.DS_Store": "a\n", "data/A.txt": "a\n", "manifest-sha256.txt": manifest })),
  );
  expect(faults).toEqual([]);
  expect(warnings.map(({ says }) => says)).toEqual([
    "data/.DS_Store is a file that systems put beside those they show.",
    expect.stringMatching(/^data\/A\.txt and data\/a\.txt are one file on a disk/),
  ]);
});

describe("a bag of the drafts before 1.0", () => {
  it("needs every payload file in one manifest only, and may repeat a line", async () => {
    const a = lineOf("a\n", "data/a.txt");
    const contents = bag({
      "bagit.txt": draftDeclaration,
      "manifest-sha256.txt": a + a,
      "manifest-sha512.txt": lineOf("b\n", "data/b c.txt", "sha512"),
    });
    expect(await faultsOf(contents)).toEqual([]);
    const other = a.replace(/^./, (digit) => (digit === "0" ? "1" : "0"));
    expect(await faultsOf({ ...contents, "manifest-sha256.txt": other + a })).toEqual([
      "manifest-sha256.txt lists data/a.txt more than once.",
    ]);
  });

  it("may have paths as checksum tools write them, and names with per cent signs as they are", async () => {
    const contents = {
      "bagit.txt": draftDeclaration,
      "data/%7Ea.txt": "a",
      "data/b": "b",
      "manifest-sha256.txt": lineOf("a", "data/%7Ea.txt") + lineOf("b", "./data/b"),
      "tagmanifest-sha256.txt": lineOf(draftDeclaration, "*bagit.txt").replace("  ", " "),
    };
    const { faults, warnings } = await checkBag(memoryBag(contents));
    expect(faults).toEqual([]);
    expect(warnings).toHaveLength(2);
  });

  it.each(["UTF-16", "UTF-16LE", "ISO-8859-1"])("may write its tag files in %s", async (encoding) => {
    const manifest = lineOf("a", "data/\u00e1.txt");
    const written = {
      "UTF-16": Buffer.concat([Buffer.from([0xfe, 0xff]), Buffer.from(manifest, "utf16le").swap16()]),
      "UTF-16LE": Buffer.from(manifest, "utf16le"),
      "ISO-8859-1": Buffer.from(manifest, "latin1"),
    }[encoding]!;
    const contents = {
      "bagit.txt": draftDeclaration.replace("UTF-8", encoding),
      "data/\u00e1.txt": "a",
      "manifest-sha256.txt": written,
    };
    expect(await faultsOf(contents)).toEqual([]);
    expect(await faultsOf({ ...contents, "bagit.txt": draftDeclaration })).not.toEqual([]);
  });
});
