import { writeFile } from "node:fs/promises";
import { join } from "node:path";
import { parse } from "csv-parse/sync";
import fc from "fast-check";
import { beforeAll, describe, expect, it } from "vitest";
import { openFacility } from "../../../src/intake/facility/facility.ts";
import { readFacility } from "../../../src/intake/read-facility-folder.ts";
import { logFiles } from "../../../src/pages/aisle/log-files.ts";
import type { LoggedPass } from "../../../src/pages/aisle/pass.ts";
import { fieldsOf, recordOf } from "../../../src/pages/aisle/record.ts";

import { type WalkData, walkData } from "../../../src/pages/aisle/walk-data.ts";
import { stampOf } from "../../../src/pages/browser/clock.ts";
import { cage, judged, walkFacility } from "./walk-facility.ts";

const noon = Date.UTC(2026, 4, 21, 12);

const hostile = [
  '=HYPERLINK("x:y";"z")+cmd|\' /C calc\'!A0',
  "+1 too many",
  "-the strap hung out",
  "@dock",
  `"quoted", and; parted`,
  "two\nlines\r\nand a third",
  `<img src=x onerror="globalThis.struck=1">`,
  "\u202Eright to left\u202C \u05E9\u05DC\u05D5\u05DD",
  "l\u00F6ng".repeat(75),
];

function passes(count: number, listed: boolean, text: (i: number) => string): LoggedPass[] {
  return Array.from({ length: count }, (_, i): LoggedPass => {
    const missed = cage.slice(0, i % 3);
    return {
      readPoint: "dock-1",
      round: "as-left",
      pass: `w${String(i + 1).padStart(2, "0")}`,
      planned: null,
      conditions: { speed_m_s: "0.5", orientation: "flat" },
      manifest: listed ? "cage" : null,
      tagsPerPass: 20,
      columns: [],
      needed: [],
      varied: [],
      startedAt: stampOf(noon + i * 60_000, 60),
      endedAt: stampOf(noon + i * 60_000 + 8999, 60),
      missed: listed ? missed : null,
      missedCount: missed.length,
      presented: 20,
      strays:
        i % 2 === 0
          ? null
          : { codes: listed && i % 4 === 1 ? ["=S1", "S2"] : [], count: listed ? (i % 4 === 1 ? 2 : 0) : i },
      voidReason: i % 5 === 4 ? text(i) : "",
      note: text(i),
      walkedBy: text(i + 1),
    };
  });
}

const plans = new Map<boolean, WalkData>();
beforeAll(async () => {
  for (const load of [true, false]) {
    const result = await judged(await walkFacility({ load }));
    plans.set(load, walkData(result, result.plan!));
  }
});

/** Puts the file where the page says it belongs; a log that the tool refuses fails the test. */
async function folderWith(load: boolean, walked: LoggedPass[]) {
  const data = await walkFacility({ load });
  for (const { name, text } of logFiles(plans.get(load)!, { walk: "mark" }, walked)) {
    await writeFile(join(data, "yard", "passes", name), text);
  }
  const { input, problems } = await readFacility(await openFacility(join(data, "yard")));
  expect(problems.filter(({ severity }) => severity === "error")).toEqual([]);
  return { data, log: input!.log };
}

describe.each([
  ["listed", true],
  ["counted", false],
] as const)("the pass log of a walk whose tags were %s", (_form, listed) => {
  it("is read back by the tool as it was typed, whatever was typed", async () => {
    const walked = passes(hostile.length, listed, (i) => hostile[i % hostile.length]!);
    const { data } = await folderWith(listed, walked);
    const result = await judged(data);
    const back = result.readPoints.find(({ id }) => id === "dock-1")!.rounds[1]!.passList;
    expect(back).toHaveLength(walked.length);
    back.forEach((pass, i) => {
      const { note, walkedBy, voidReason, missedCount, missed, strays, startedAt, endedAt } = walked[i]!;
      expect(pass.notes).toEqual([note]);
      expect(pass.walkedBy).toEqual([walkedBy]);
      expect(pass.voidReason).toBe(voidReason === "" ? null : voidReason);
      expect(pass.tagsPresented - pass.tagsRead).toBe(missedCount);
      expect(pass.missedTags).toEqual(missed);
      expect(pass.strays).toBe(strays === null ? null : strays.count);
      expect([pass.startedAt, pass.endedAt]).toEqual(
        [startedAt, endedAt].map(({ text }) => new Date(text).toISOString().replace(".000Z", "Z")),
      );
      expect(pass.conditions).toEqual({ speed_m_s: ["0 to 1"], orientation: ["flat"], cover: [] });
    });
  });

  it("means the same to the tool for any text at all", async () => {
    const texts = fc.sample(fc.string({ unit: "binary", maxLength: 30 }), { numRuns: 300, seed: 7 });
    const typed = ["\u0000nul", ...texts];
    // What stands in the note of a pass is any text; the reason of a void pass has to be one.
    const walked = passes(typed.length, listed, () => "").map((pass, i) => {
      const { note } = recordOf(pass, { ...fieldsOf(pass), note: typed[i]! });
      return { ...pass, note, voidReason: "" };
    });
    expect(walked[0]!.note).toBe("nul");
    const { passes: back } = (await folderWith(listed, walked)).log;
    const notes = walked.map(({ note }) => (note === "" ? [] : [note]));
    expect(back.map((pass) => pass.notes)).toEqual(notes);
  });
});

describe("a cell of the log", () => {
  const cellsOf = (notes: string[]) => {
    const data = { key: "", fileStem: "s", title: "", load: null, tagsPerPass: 1, columns: [], routes: [] };
    const [file] = logFiles(
      data,
      { walk: "mark" },
      passes(notes.length, false, (i) => notes[i % notes.length]!),
    );
    return { text: file!.text, records: parse(file!.text, { bom: true }) as string[][] };
  };

  it("is no formula to a spreadsheet, wherever it stands", () => {
    const { records } = cellsOf(hostile);
    for (const cell of records.flat()) expect(cell).not.toMatch(/^[=+@\t\r]|^-(?!\d)/);
  });

  it("keeps every row as wide as the header, and ends each with CRLF", () => {
    const { records, text } = cellsOf(hostile);
    expect(new Set(records.map(({ length }) => length)).size).toBe(1);
    expect(text.endsWith("\r\n")).toBe(true);
    expect(cellsOf(["plain"]).text.split("\r\n")).toHaveLength(3);
  });

  it("brings a byte order mark only where something beyond ASCII stands in the log", () => {
    expect(cellsOf(["plain"]).text.startsWith("round,")).toBe(true);
    expect(cellsOf(["gr\u00FCn"]).text.startsWith("\uFEFFround,")).toBe(true);
  });

  it("is a number where it is one, a minus included", () => {
    const cold = passes(1, false, () => "").map((pass) => ({ ...pass, conditions: { cold_c: "-18.5" } }));
    const data = { key: "", fileStem: "s", title: "", load: null, tagsPerPass: 1, columns: [], routes: [] };
    expect(logFiles(data, { walk: "mark" }, cold)[0]!.text).toContain(",-18.5,");
  });
});

describe("a log that holds both, since the plan was changed on the way", () => {
  it("is two files of different names", () => {
    const data = { key: "", fileStem: "s", title: "", load: null, tagsPerPass: 1, columns: [], routes: [] };
    const both = [...passes(2, true, () => ""), ...passes(3, false, () => "")];
    const files = logFiles(data, { walk: "mark" }, both);
    expect(files.map(({ name }) => name)).toEqual(["s-mark.csv", "s-mark-counted.csv"]);
    expect(files.map(({ text }) => text.split("\r\n").length - 2)).toEqual([2, 3]);
  });
});

describe("the device's clock", () => {
  it("is written as RFC 3339 with its offset, whole hours or not, ahead or behind", () => {
    const stamp = (minutes: number) => stampOf(noon + 999, minutes).text;
    expect([0, 60, -210, 345, -720].map(stamp)).toEqual([
      "2026-05-21T12:00:00+00:00",
      "2026-05-21T13:00:00+01:00",
      "2026-05-21T08:30:00-03:30",
      "2026-05-21T17:45:00+05:45",
      "2026-05-21T00:00:00-12:00",
    ]);
  });

  it("names the same moment whatever the offset", () => {
    fc.assert(
      fc.property(fc.integer({ min: -840, max: 840 }), fc.integer({ min: 0, max: 4e12 }), (minutes, ms) => {
        expect(Date.parse(stampOf(ms, minutes).text)).toBe(Math.floor(ms / 1000) * 1000);
      }),
    );
  });
});
