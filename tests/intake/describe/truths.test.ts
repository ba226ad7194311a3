import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { describeLog } from "../../../src/intake/reader-log/describe/describe.ts";
import { descriptionText } from "../../../src/intake/reader-log/describe/text.ts";
import { demonstrationSite } from "../../browser/demonstration-site.ts";

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "proofwalk-truths-"));
});
afterAll(() => rmSync(folder, { recursive: true }));

function describeText(text: string, name = "log.csv") {
  writeFileSync(join(folder, name), text);
  return describeLog(join(folder, name));
}

const code = (i: number) =>
  `30340789000C0E42DFDC1C${(10 + (i % 5)).toString(16).padStart(2, "0").toUpperCase()}`;
const time = (i: number) => new Date(Date.UTC(2026, 4, 21, 8, 0, i)).toISOString();
const log = (header: string, row: (i: number) => string) =>
  `${[header, ...Array.from({ length: 30 }, (_, i) => row(i))].join("\n")}\n`;

describe("describe", () => {
  test("takes no running counter for a count of reads, be it of the log or of each tag", async () => {
    for (const counter of [(i: number) => i + 1, (i: number) => Math.floor(i / 5) + 1]) {
      const { entry, remarks } = await describeText(
        log("time,epc,count", (i) => `${time(i)},${code(i)},${counter(i)}`),
      );
      expect(entry).not.toContain("count:");
      expect(remarks.join("\n")).toContain('"count" counts on from row to row');
    }
    const { entry } = await describeText(
      log("time,epc,count", (i) => `${time(i)},${code(i)},${1 + ((i * 7) % 4)}`),
    );
    expect(entry).toContain("count: count");
  });

  test("names a second clock and how far it is from the one that the entry goes by", async () => {
    const { entry, remarks } = await describeText(
      log("ReaderTime,epc,HostTime", (i) => `${time(i)},${code(i)},${time(i + 32)}`),
    );
    expect(remarks.join("\n")).toMatch(/"\w+Time" is a second clock, 32 s (?:ahead of|behind) "\w+Time"/);
    expect(entry).toMatch(/time: \w+Time/);
  });

  test("names relative times for what they are", async () => {
    const { entry, remarks } = await describeText(
      log("timestamp,epc", (i) => `${(i * 0.25).toFixed(3)},${code(i)}`),
    );
    expect(entry).toBe("");
    expect(remarks.join("\n")).toContain('"timestamp" holds relative times, from "0.000" to "7.250"');
  });

  test("shows the reader's settings whole, and where another log of the folder has others", async () => {
    const long =
      "antennas = 1 and 2 at thirty dBm, 3 and 4 at twenty-seven dBm, in the mode for many readers at once";
    const with_ = (power: number) =>
      `# power_cdbm = ${power}\n# ${long}\n${log("time,epc", (i) => `${time(i)},${code(i)}`)}`;
    await describeText(with_(2700), "dock-2.csv");
    const described = await describeText(with_(3000), "dock-1.csv");
    expect(descriptionText(described)).toContain(`"${long}"`);
    expect(described.remarks.join("\n")).toContain('"power_cdbm" is "3000" here and "2700" in dock-2.csv');
    await describeText(with_(3000), "dock-2.csv");
    expect((await describeText(with_(3000), "dock-1.csv")).remarks.join("\n")).not.toContain("settings");
  });

  test("counts a refused line once, and takes for repeats only rows that have a time", async () => {
    const rows = ["soon,", ",", ","].map((at) => `${at}${code(1)}`);
    const text = log("time,epc", (i) => `${time(i)},${code(i)}`);
    const { read } = await describeText(`${text}${rows.join("\n")}\n${time(29)},${code(29)}\n`);
    expect(read).toMatchObject({ rows: 34, refused: 3, repeated: 1 });
    expect(read!.odd.reduce((sum, { count }) => sum + count, 0)).toBe(3);
  });

  test("foretells of each log of the demonstration what check then counts", async () => {
    const { results } = await demonstrationSite();
    expect(results.length).toBeGreaterThan(1);
    for (const { facility, inputs } of results) {
      for (const { path, rows, reader } of inputs) {
        if (reader == null) continue;
        const { read } = await describeLog(join("data", facility.id, path));
        expect([path, read!.rows, read!.refused]).toEqual([path, rows, reader.refused]);
        expect(read!.repeated).toBeLessThanOrEqual(reader.repeated);
      }
    }
  });
});
