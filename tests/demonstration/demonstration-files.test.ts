import { readdirSync, readFileSync } from "node:fs";
import { join, relative, sep } from "node:path";
import { fileURLToPath } from "node:url";
import { parse } from "csv-parse/sync";
import { describe, expect, it } from "vitest";
import { demonstrationFiles, demonstrationPictures } from "../../demonstration/demonstration-files.ts";

const root = fileURLToPath(new URL("../..", import.meta.url));
const files = demonstrationFiles(root);
const committed = readdirSync(join(root, "data"), { recursive: true, withFileTypes: true })
  .filter((entry) => entry.isFile())
  .map((entry) => relative(join(root, "data"), join(entry.parentPath, entry.name)).split(sep).join("/"));

type Row = Record<string, string>;
const rowsOf = (path: string): Row[] => parse(files.get(path)!, { columns: true });

describe("the demonstration data", () => {
  it("are what the generator makes, file by file and byte by byte", async () => {
    const pictures = await demonstrationPictures();
    expect([...committed].sort()).toEqual([...files.keys(), ...pictures.keys()].sort());
    for (const [path, bytes] of pictures)
      expect(readFileSync(join(root, "data", path)).equals(bytes), path).toBe(true);
    for (const [path, text] of files)
      expect(readFileSync(join(root, "data", path), "utf8") === text, path).toBe(true);
  });

  it("stay small enough to keep in the repository", () => {
    const bytes = [...files.values()].reduce((sum, text) => sum + Buffer.byteLength(text), 0);
    expect(bytes).toBeLessThan(3_000_000);
  });

  it("keep each reader log under 300 kB", () => {
    for (const [path, text] of files)
      if (path.includes("/reads/")) expect(Buffer.byteLength(text), path).toBeLessThan(300_000);
  });

  it("say in every facility and in the README that they are invented", () => {
    for (const [path, text] of files)
      if (/(facility\.yaml|README\.md)$/.test(path)) expect(text, path).toMatch(/invented/i);
  });

  it("name their schema in the first line of each facility", () => {
    for (const [path, text] of files)
      if (path.endsWith("facility.yaml"))
        expect(text.split("\n")[0]).toBe(
          "# yaml-language-server: $schema=../../schemas/facility.schema.json",
        );
  });

  it("carry only GRAI-96 codes of the prefix kept for demonstrations, and two chips that nobody encoded", () => {
    const raw = new Set<string>();
    // The header is the top 8 bits; the prefix stands above the asset type's 20 bits and the serial's 38.
    for (const [path, text] of files) {
      for (const [, code] of text.matchAll(/\b(?:0x)?([0-9A-F]{24})\b/gi)) {
        if (code!.startsWith("E2")) {
          raw.add(code!);
          continue;
        }
        const bits = BigInt(`0x${code}`);
        expect(bits >> 88n, path).toBe(0x33n);
        expect((bits >> 58n) & 0xffffffn, path).toBe(9529999n);
      }
    }
    expect([...raw].sort()).toEqual(["E2FFF000000000000000A417", "E2FFF000000000000000A432"]);
  });

  it("hold one tag at door A that is missed in every pass of either round", () => {
    for (const round of ["as-found", "as-left"]) {
      const rows = rowsOf(`ternhaven-depot/passes/door-a-${round}.csv`);
      const passes = new Set(rows.map((row) => row.pass));
      const missed = new Map<string, number>();
      for (const { tag, read } of rows) if (read === "no") missed.set(tag!, (missed.get(tag!) ?? 0) + 1);
      expect([...missed.values()].filter((times) => times === passes.size)).toHaveLength(1);
    }
  });

  it("leave a full lorry with its engine running unwalked at Fennick", () => {
    const walked = new Set(
      rowsOf("fennick-wash-plant/passes/lorry-1.csv").map(({ load, engine }) => `${load} ${engine}`),
    );
    expect([...walked].sort()).toEqual(["full off", "half off", "half running"]);
  });

  it("miss edge-on tags at the top of the cage at dock door 2, before and after", () => {
    const loads = ["cage-pair-a", "cage-pair-b", "cage-c"];
    const topEdgeOn = new Set(
      loads
        .flatMap((name) => rowsOf(`fennick-wash-plant/manifests/${name}.csv`))
        .filter(({ orientation, level }) => orientation === "edge-on" && level === "top")
        .map(({ tag }) => tag),
    );
    const rows = rowsOf("fennick-wash-plant/passes/dock-2.csv");
    for (const round of ["as-found", "as-left"]) {
      const missed = rows
        .filter((row) => row.round === round && row.void_reason === "")
        .flatMap((row) => row.missed_tags!.split(" ").filter((tag) => tag !== ""));
      expect(missed.filter((tag) => topEdgeOn.has(tag)).length / missed.length).toBeGreaterThan(0.6);
    }
  });

  it("walk forward in time within each round of a read point, on the round's day", () => {
    for (const path of files.keys()) {
      if (!path.includes("/passes/")) continue;
      const rows: Row[] = parse(files.get(path)!, {
        columns: true,
        delimiter: files.get(path)!.startsWith("round;") ? ";" : ",",
      });
      let last = "";
      let ended = "";
      for (const { round, pass, started_at, ended_at } of rows) {
        if (`${round} ${pass}` === last) continue;
        const changed = last.split(" ")[0] !== round;
        if (!changed) expect(started_at! > ended, `${path} ${round} ${pass}`).toBe(true);
        expect(ended_at! > started_at!, `${path} ${round} ${pass}`).toBe(true);
        last = `${round} ${pass}`;
        ended = ended_at!;
      }
    }
  });
});
