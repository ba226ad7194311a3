import {
  appendFileSync,
  mkdirSync,
  mkdtempSync,
  rmSync,
  symlinkSync,
  utimesSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { describeLog } from "../../../src/intake/reader-log/describe/describe.ts";
import type { LogFile } from "../../../src/intake/reader-log/files.ts";
import { formOf } from "../../../src/intake/reader-log/forms/index.ts";
import { itemsOf } from "../../../src/intake/reader-log/items.ts";
import { filesLike, isLike, mostFiles } from "../../../src/intake/reader-log/source/glob.ts";
import { limits, Survey } from "../../../src/intake/reader-log/source/survey.ts";
import { codeA, counts, header, readFiles, row, spec, told } from "./log-folder.ts";

const rows = Array.from({ length: 30 }, (_, i) => row(11 + i / 10));
const sound = [header, ...rows, ""].join("\n");

/** What is told of one log. */
async function toldOf(name: string, bytes: string | Buffer): Promise<string[]> {
  return told(await readFiles({ [name]: bytes }, [spec({ files: [name] })]));
}

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "proofwalk-bounds-"));
});
afterAll(() => rmSync(folder, { recursive: true }));

function placed(name: string, bytes: string | Buffer): string {
  const place = join(folder, name);
  writeFileSync(place, bytes);
  return place;
}

describe("a line of a reader log", () => {
  const most = limits.lineBytes.delimited;

  test("that is longer than any row is an error with its number, wherever it stands", async () => {
    const endless = "x".repeat(most + 1);
    for (const text of [endless, `${sound}${endless}`, `${header}\r\n${rows[0]},${endless}\r\n${rows[1]}`]) {
      const problems = await toldOf("log.csv", text);
      expect(problems).toContain("error reader-log-line-too-long");
    }
    const { problems } = await readFiles({ "log.csv": `${sound}${endless}\n` });
    const [problem] = problems.filter(({ code }) => code === "reader-log-line-too-long");
    expect(problem!.found).toBe(`in line ${rows.length + 2} more than ${most} bytes`);
  });

  test("of the longest length is a line like others", async () => {
    const comment = `#${"x".repeat(most - 1)}\n`;
    expect(await toldOf("log.csv", sound + comment)).toEqual([]);
  });

  test("with thousands of cells too many is one refused line, of small logs and of large ones", async () => {
    const wide = `${row(12)}${",x".repeat(100_000)}`;
    for (const largeBytes of [0, 1 << 20]) {
      const outcome = await readFiles({ "log.csv": `${sound}${wide}\n` }, [spec()], undefined, {
        largeBytes,
      });
      expect(counts(outcome)).toEqual(["31 = 30 + 0 + 0 + 1"]);
    }
  });
});

test("a reader log of more columns than any has is an error, and describe says the same", async () => {
  const names = Array.from({ length: 1000 }, (_, i) => `c${i}`).join(",");
  const wide = `${header},${names}\n${rows[0]}${",1".repeat(1000)}\n`;
  expect(await toldOf("log.csv", wide)).toContain("error reader-log-columns-too-many");
  await expect(describeLog(placed("wide.csv", wide))).rejects.toThrow("1005 columns; expected at most 1000");
});

describe("a packed log", () => {
  test("that is far larger unpacked than logs are is refused before it is read", async () => {
    const bombs = {
      breaks: Buffer.alloc(limits.ratioFromBytes + 1_000_000, "\n"),
      comments: Buffer.alloc(limits.ratioFromBytes + 1_000_000, "# nothing\n"),
    };
    for (const bomb of Object.values(bombs)) {
      const packed = gzipSync(Buffer.concat([Buffer.from(sound), bomb]));
      expect(await toldOf("log.csv.gz", packed)).toContain("error reader-log-unpacked-ratio");
    }
  });

  test("of one endless line, or of nothing but zeros, is refused for that line", async () => {
    for (const mark of ["\0", "x"]) {
      const packed = gzipSync(Buffer.alloc(20_000_000, mark));
      expect(await toldOf("log.csv.gz", packed)).toContain("error reader-log-line-too-long");
      await expect(describeLog(placed("line.csv.gz", packed))).rejects.toThrow(
        /more than 1000000 bytes|UTF-16/,
      );
    }
  });

  test("that repeats itself a thousand times and is small all the same is read", async () => {
    const comments = "# nothing\n".repeat(100_000);
    expect(await toldOf("log.csv.gz", gzipSync(sound + comments))).toEqual([]);
  });
});

test("a log larger than can be read is an error that names the limit, packed or not", async () => {
  for (const name of ["large.csv", "large.csv.gz"]) {
    const zipped = name.endsWith(".gz");
    const place = placed(name, zipped ? gzipSync(sound) : sound);
    const survey = new Survey({ place, zipped, mostLineBytes: 1000, mostBytes: 500 });
    await survey.done;
    expect(survey.fault).toMatchObject({ code: "reader-log-unpacked-size", expected: "at most 500 bytes" });
  }
});

describe("a log of more rows than can be read", () => {
  const line = "2026-05-21T10:00:00Z,E280000000000001\n";

  test("is an error while it is walked over, packed or not: its lines are counted in a sixteenth of it", async () => {
    const text = line.repeat(20_000);
    for (const zipped of [false, true]) {
      const place = placed(zipped ? "rows.csv.gz" : "rows.csv", zipped ? gzipSync(text) : text);
      const faultAt = async (mostRows: number) => {
        const survey = new Survey({ place, zipped, mostLineBytes: 1000, mostRows });
        await survey.done;
        return survey.fault;
      };
      expect(await faultAt(18_000)).toMatchObject({
        code: "reader-log-rows-too-many",
        found: "more than 18000 rows",
      });
      expect(await faultAt(21_000)).toBe(null);
    }
  });

  test("is an error where reads are items of a list, too", async () => {
    const reads = Array.from({ length: 50 }, (_, i) => ({ t: i, epc: "E2" }));
    const place = placed("rows.json", JSON.stringify({ reads }));
    const asked = spec({ rows: ["reads"] });
    asked.columns = { ...asked.columns, time: "t", epc: ["epc"], antenna: null, rssi: null, count: null };
    const form = formOf({ lines: [`{"reads":[{"t"`], hasRows: true });
    const file = { place, zipped: false, spec: asked, form } as LogFile;
    const all = async (most: number) => {
      for await (const _ of itemsOf(file, most));
    };
    await expect(all(49)).rejects.toMatchObject({ problems: [{ code: "reader-log-rows-too-many" }] });
    await all(50);
  });
});

describe("a pattern of files", () => {
  test("is compared in a time that grows with the length of the name alone", () => {
    expect(isLike("a".repeat(5000), `${"a*".repeat(500)}z`)).toBe(false);
    expect(isLike("a".repeat(5000), `${"a*".repeat(500)}a`)).toBe(true);
  });

  test("fits what stands between its pieces, and no piece twice", () => {
    const fitting = (pattern: string, names: string[]) => names.filter((name) => isLike(name, pattern));
    expect(
      fitting("dock-*.csv", ["dock-1.csv", "dock-.csv", "dock.csv", "xdock-1.csv", "dock-1.csv.gz"]),
    ).toEqual(["dock-1.csv", "dock-.csv"]);
    expect(fitting("a*a", ["a", "aa", "aba"])).toEqual(["aa", "aba"]);
    expect(fitting("*b*b*", ["b", "bb", "abcbd"])).toEqual(["bb", "abcbd"]);
    expect(fitting("r.csv", ["r.csv", "rxcsv"])).toEqual(["r.csv"]);
  });

  test("never walks through a link to a folder that it lies in", async () => {
    const hall = join(folder, "circles");
    mkdirSync(join(hall, "reads"), { recursive: true });
    writeFileSync(join(hall, "reads/r.csv"), sound);
    for (const i of [1, 2, 3, 4, 5]) symlinkSync(".", join(hall, `again-${i}`));
    symlinkSync("..", join(hall, "reads/up"));
    expect(await filesLike(hall, "*/*.csv")).toEqual({ paths: ["reads/r.csv"], refused: [] });
    expect(await filesLike(hall, "*/*/*/*/*/*/*/*.csv")).toEqual({ paths: [], refused: [] });
  });

  test("that fits more files than can be looked at is one error", async () => {
    const hall = join(folder, "many");
    mkdirSync(hall);
    for (let i = 0; i <= mostFiles; i += 1) symlinkSync("gone", join(hall, `${i}.csv`));
    const { paths, refused } = await filesLike(hall, "*.csv");
    expect(paths).toEqual([]);
    expect(refused.map(({ problem }) => problem.code)).toEqual(["reader-log-files-too-many"]);
  });

  test("never reads a link that leaves the folder, nor through a folder that is one", async () => {
    const hall = join(folder, "leaks");
    mkdirSync(join(hall, "reads"), { recursive: true });
    placed("outside.csv", sound);
    symlinkSync("../../outside.csv", join(hall, "reads/leak.csv"));
    symlinkSync("..", join(hall, "away"));
    for (const pattern of ["reads/*.csv", "reads/leak.csv", "away/outside.csv"]) {
      const { paths, refused } = await filesLike(hall, pattern);
      expect(paths).toEqual([]);
      expect(refused.map(({ problem }) => problem.code)).toEqual(["link-outside"]);
    }
  });
});

describe("a log that changes while it is read", () => {
  const walked = async (name: string, bytes: string | Buffer, change: (place: string) => void) => {
    const place = placed(name, bytes);
    const survey = new Survey({ place, zipped: name.endsWith(".gz"), mostLineBytes: 1000 });
    await survey.done;
    change(place);
    return (await survey.changed())?.code ?? null;
  };

  test("is refused, be it text, packed or Parquet; left alone it is not", async () => {
    for (const [name, bytes] of [
      ["a.csv", sound],
      ["a.csv.gz", gzipSync(sound)],
      ["a.parquet", "PAR1PAR1"],
    ] as const) {
      expect(await walked(name, bytes, (place) => appendFileSync(place, "x"))).toBe("reader-log-changed");
      expect(await walked(name, bytes, (place) => rmSync(place))).toBe("reader-log-changed");
      expect(await walked(name, bytes, () => {})).toBe(null);
    }
  });

  test("is refused although size and time of the file are as before", async () => {
    const time = new Date("2026-05-21T09:00:00Z");
    const swap = (place: string) => {
      writeFileSync(place, sound.replace(codeA, codeA.replace("C35", "C36")));
      utimesSync(place, time, time);
    };
    expect(await walked("b.csv", sound, swap)).toBe("reader-log-changed");
  });

  test("gives no verdict, and says what to do", async () => {
    const text = `${sound}${rows.join("\n")}\n`.repeat(400);
    const growing = readFiles({ "log.csv": text }, [spec()], undefined, {
      whileReading: (place) => appendFileSync(join(place, "log.csv"), "\n"),
    });
    const { problems } = await growing;
    const [problem] = problems.filter(({ code }) => code === "reader-log-changed");
    expect(problem).toMatchObject({ severity: "error", file: "log.csv" });
    expect(problem!.advice).toContain("finished writing");
  });
});

test("JSON that is nested without end is no read to describe", async () => {
  const deep = `{"time":"2026-05-21T10:00:01Z","epc":"${codeA}","a":${'{"a":'.repeat(8000)}1${"}".repeat(8001)}\n`;
  await expect(describeLog(placed("deep.jsonl", deep))).rejects.toThrow("It holds no rows.");
});
