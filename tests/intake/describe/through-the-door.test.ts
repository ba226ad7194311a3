import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import fc from "fast-check";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { type DescribedLog, describeLog } from "../../../src/intake/reader-log/describe/describe.ts";
import { shownTime } from "../../../src/intake/reader-log/describe/times.ts";
import { textStretches } from "../../../src/intake/reader-log/files.ts";
import { linesOf } from "../../../src/intake/reader-log/forms/lines.ts";
import { draws } from "../../draws.ts";

let room: string;

beforeEach(async () => {
  room = await mkdtemp(join(tmpdir(), "proofwalk-door-"));
});

afterEach(() => rm(room, { recursive: true }));

async function told(text: string | Buffer): Promise<DescribedLog> {
  const path = join(room, "gate.csv");
  await writeFile(path, text);
  return describeLog(path);
}

/** The first time and the last one. */
function span({ read, guess }: DescribedLog): string[] {
  return [read!.sums.firstUs, read!.sums.lastUs].map((us) => shownTime(us, guess.time));
}

const code = "3034257BF40C0E4000000001";
const at = (times: string[], delimiter = ";") =>
  told(`time${delimiter}epc\n${times.map((time) => `${time}${delimiter}${code}\n`).join("")}`);

describe("counts since 1970 give their unit away by their size", () => {
  it.each([
    ["1779350400", "s", "00.000"],
    ["1779350400.25", "s", "00.250"],
    ["1779350400250", "ms", "00.250"],
    ["1779350400250001", "us", "00.250"],
    ["1779350400250001000", "ns", "00.250"],
  ])("%s is in %s", async (time, unit, second) => {
    const log = await at([time]);
    expect(log.guess.time).toMatchObject({ kind: "style", style: { unit, format: null }, also: null });
    expect(span(log)[0]).toBe(`2026-05-21T08:00:${second}Z`);
  });

  it("small numbers are none: seconds since some start say no time of day", async () => {
    expect((await at(["12.5", "13.75", "14"])).guess.time.kind).toBe("none");
  });

  it("numbers are read in the log's own decimal mark", async () => {
    const log = await at(["1779350400,25", "1779350401,5"]);
    expect(span(log)).toEqual(["2026-05-21T08:00:00.250Z", "2026-05-21T08:00:01.500Z"]);
  });
});

describe("dates and times in words", () => {
  it.each([
    ["2026-05-21T08:00:00Z", null, "2026-05-21T08:00:00.000Z"],
    ["2026-05-21 08:00:00.123456", null, "2026-05-21T08:00:00.123"],
    ["2026-05-21T09:00:00+01:00", null, "2026-05-21T08:00:00.000Z"],
    ["2026-05-21T08:00:00,5-0500", null, "2026-05-21T13:00:00.500Z"],
    ["2026/05/21 08:00:00", "%Y/%m/%d %H:%M:%S", "2026-05-21T08:00:00.000"],
    ["21.05.2026 08:00:00.250", "%d.%m.%Y %H:%M:%S.%f", "2026-05-21T08:00:00.250"],
    ["5/21/2026 8:00:00 AM", "%m/%d/%Y %I:%M:%S %p", "2026-05-21T08:00:00.000"],
    ["5/21/2026 12:00:00 AM", "%m/%d/%Y %I:%M:%S %p", "2026-05-21T00:00:00.000"],
    ["5/21/2026 12:00:00 PM", "%m/%d/%Y %I:%M:%S %p", "2026-05-21T12:00:00.000"],
    ["21/05/2026, 08:00:00", "%d/%m/%Y, %H:%M:%S", "2026-05-21T08:00:00.000"],
    ["21 May 2026 08:00:00", "%d %b %Y %H:%M:%S", "2026-05-21T08:00:00.000"],
    ["20260521080000", "%Y%m%d%H%M%S", "2026-05-21T08:00:00.000"],
    ["20260521T080000", "%Y%m%dT%H%M%S", "2026-05-21T08:00:00.000"],
  ])("%s is read by %s", async (time, format, first) => {
    const log = await at([time, time]);
    expect(log.guess.time).toMatchObject({ kind: "style", style: { unit: "iso", format }, also: null });
    expect(span(log)[0]).toBe(first);
  });

  it("day and month that cannot be told apart are said, and one day above twelve settles it", async () => {
    const both = await at(["05/06/2026 08:00:00"]);
    expect(both.guess.time).toMatchObject({
      style: { format: "%d/%m/%Y %H:%M:%S" },
      also: { format: "%m/%d/%Y %H:%M:%S" },
    });
    expect(both.remarks.join()).toContain("The day and the month in");
    const settled = await at(["05/06/2026 08:00:00", "05/13/2026 08:00:00", "05/07/2026 08:00:00"]);
    expect(settled.guess.time).toMatchObject({ style: { format: "%m/%d/%Y %H:%M:%S" }, also: null });
  });

  it("days that no calendar has are no times", async () => {
    const log = await at([
      ...Array.from({ length: 9 }, (_, i) => `2026-05-21T08:00:0${i}`),
      "2026-02-30T08:00:00",
      "2026-13-01T08:00:00",
      "2026-05-21T25:00:00",
    ]);
    expect(log.read).toMatchObject({ rows: 12, refused: 3 });
    expect(log.read?.odd).toMatchObject([{ words: "a time that cannot be read", count: 3 }]);
  });
});

describe("exact repeats", () => {
  it("are counted as a set of texts counts them", async () => {
    const rows = fc.array(
      fc.tuple(fc.integer({ min: 0, max: 9 }), fc.constantFrom("1", "2"), fc.constantFrom("x", "y")),
      {
        minLength: 1,
        maxLength: 60,
      },
    );
    await fc.assert(
      fc.asyncProperty(rows, async (drawn) => {
        const lines = drawn.map(
          ([second, antenna, note]) => `2026-05-21T08:00:0${second}Z,${code},${antenna},${note}`,
        );
        const log = await told(`time,epc,antenna,note\n${lines.join("\n")}\n`);
        expect(log.read).toMatchObject({ rows: lines.length, repeated: lines.length - new Set(lines).size });
      }),
      { numRuns: draws(4) },
    );
  });

  it("are none among a hundred thousand rows that differ in little", async () => {
    const rows = Array.from(
      { length: 100_000 },
      (_, i) => `${1_779_350_400_000 + (i >> 1)},${code},${-60 - (i % 2)}`,
    );
    const log = await told(`time,epc,rssi\n${rows.join("\n")}\n`);
    expect(log.read).toMatchObject({ rows: 100_000, repeated: 0 });
  });
});

describe("the lines of a file", () => {
  it("come out the same wherever its pieces are cut, letters of several bytes and CRLF among them", async () => {
    const path = join(room, "long.txt");
    const ends = ["\n", "\r\n", "\r"];
    for (let shift = 0; shift < 12; shift += 1) {
      // A piece of the file ends inside what follows the long line, at another byte each time.
      const lines = ["x".repeat(2 ** 18 - shift), "a\u20ac", "\ud83d\ude00b", "c", "\u00e9", "last"];
      await writeFile(path, lines.map((line, i) => line + ends[(i + shift) % 3]!).join(""));
      const seen: string[] = [];
      for await (const { firstLine, text } of textStretches({ place: path, zipped: false })) {
        expect(firstLine).toBe(seen.length + 1);
        seen.push(...linesOf(text));
      }
      expect(seen).toEqual(lines);
    }
  });

  it("are counted by how they end, and a last line without an end is told", async () => {
    const row = (second: number) => `2026-05-21T08:00:0${second}Z,${code}`;
    const log = await told(`time,epc\n${row(1)}\r\n${row(2)}\n${row(3)}`);
    expect(log.text).toMatchObject({
      lineEnds: { lf: 2, crlf: 1, cr: 0 },
      finalNewline: false,
      encoding: "ASCII",
    });
    expect(log.read?.rows).toBe(3);
  });

  it("begin behind a byte-order mark, which is told", async () => {
    const log = await told(`\ufefftime,epc,place\n2026-05-21T08:00:00Z,${code},T\u00fcr\n`);
    expect(log.text).toMatchObject({ byteOrderMark: true, encoding: "UTF-8" });
    expect(log.columns.map(({ name }) => name)).toEqual(["time", "epc", "place"]);
  });
});
