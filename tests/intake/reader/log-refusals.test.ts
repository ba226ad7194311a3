import { describe, expect, test } from "vitest";
import {
  bothTags,
  codeA,
  codeB,
  columns,
  counts,
  header,
  heard,
  lines,
  readFiles,
  row,
  spec,
  startUs,
  told,
} from "./log-folder.ts";

describe("a reader log", () => {
  test("with a quote that does not close loses that line alone", async () => {
    const sound = Array.from({ length: 20 }, (_, index) => row(13 + index / 10, codeB, "1", "-61.5"));
    const log = lines(header, row(11), `${startUs},"${codeA},1,-61.5,1`, row(12), ...sound);
    const outcome = await readFiles({ "log.csv": log });
    expect(counts(outcome)).toEqual(["23 = 22 + 0 + 0 + 1"]);
    expect(told(outcome)).toEqual(["warning reader-log-line-refused 3", "warning reader-log-lines-refused"]);
  });

  test("with lines of every kind that cannot be read lists each with its number and reason", async () => {
    const sound = Array.from({ length: 100 }, (_, index) => row(11 + index / 100));
    const bad = [
      `${row(11)},9,9`,
      "soon,30340789000C0E42DFDC1C35,1,-61.5,1",
      row(11, ""),
      row(11, codeA, "1", "loud"),
      row(11, codeA, "1", "-61.5", "0"),
      row(11, "3.08E+23"),
      `17793504,${codeA},1,-61.5,1`,
    ];
    const outcome = await readFiles({ "log.csv": lines(header, ...sound, ...bad) });
    expect(counts(outcome)).toEqual(["107 = 100 + 0 + 0 + 7"]);
    expect(outcome.problems.map(({ line, found }) => `${line} ${found.split(":")[0]}`)).toEqual([
      "102 too many columns",
      "103 a time that cannot be read",
      "104 no code",
      "105 an RSSI that is not a number",
      "106 a count that is not a whole number from 1 up",
      "107 a code that cannot be read",
      "108 a time outside 1990 to 2100",
      "null 7 of 107 lines cannot be used",
    ]);
    expect(outcome.problems.every(({ severity }) => severity === "warning")).toBe(true);
  });

  test("of which more than a tenth cannot be read is an error", async () => {
    const outcome = await readFiles({ "log.csv": lines(header, row(11), row(12)) }, [
      spec({ time: { unit: "s", zone: null, format: null } }),
    ]);
    expect(counts(outcome)).toEqual(["2 = 0 + 0 + 0 + 2"]);
    const last = outcome.problems.at(-1)!;
    expect([last.severity, last.code, last.advice]).toEqual([
      "error",
      "reader-log-mostly-refused",
      "State time.unit as the log counts: s, ms, us or ns.",
    ]);
  });

  test("lists twenty lines of a kind and counts the rest", async () => {
    const bad = Array.from({ length: 60 }, (_, index) => row(11, codeA, "1", `n${index}`));
    const sound = Array.from({ length: 600 }, (_, index) => row(11 + index / 100));
    const outcome = await readFiles({ "log.csv": lines(header, ...sound, ...bad) });
    expect(outcome.problems.length).toBe(21);
    expect(outcome.problems.at(-1)!.found).toBe(
      "60 of 660 lines cannot be used: 60 with an RSSI that is not a number",
    );
  });

  test("with levels in hundredths of a dBm is an error that names the unit", async () => {
    const log = lines(header, row(11, codeA, "1", "-6150"), row(12, codeA, "1", "-5825"));
    const outcome = await readFiles({ "log.csv": log });
    const unit = outcome.problems.find(({ code }) => code === "reader-log-rssi-unit")!;
    expect([unit.severity, unit.line]).toEqual(["error", 2]);
    expect(unit.advice).toContain("rssi_unit: cdBm");
    const told = await readFiles({ "log.csv": log }, [spec({ rssiUnit: "cdBm" })]);
    expect(heard(told)).toEqual([`0 ${codeA} 1 2 -5825 11 12`]);
  });

  test("with levels in dBm that are declared as hundredths is an error that names the unit", async () => {
    const log = lines(header, row(11, codeA, "1", "-63.5"), row(12, codeA, "1", "-58.25"));
    const outcome = await readFiles({ "log.csv": log }, [spec({ rssiUnit: "cdBm" })]);
    expect(told(outcome)).toEqual(["error reader-log-rssi-unit"]);
    expect(outcome.problems[0]!.found).toBe("every RSSI from -0.64 to -0.58 dBm when read as hundredths");
    expect(outcome.problems[0]!.advice).toContain("rssi_unit: dBm");
  });

  test("with most levels above 0 dBm is an error", async () => {
    const odd = [row(11, codeA, "1", "187"), row(12, codeA, "1", "191")];
    const outcome = await readFiles({ "log.csv": lines(header, ...odd, row(13), row(14, codeA, "1", "")) });
    expect(told(outcome)).toContain("error reader-log-rssi-unit 2");
    expect(counts(outcome)).toEqual(["4 = 2 + 0 + 0 + 2"]);
  });

  test.each(["12", "3.5", "-6150"])(
    "with a single level of %s loses that line and no more",
    async (level) => {
      const sound = Array.from({ length: 30 }, (_, index) => row(11 + index / 10));
      const outcome = await readFiles({
        "log.csv": lines(header, ...sound, row(15, codeB, "1", level), row(16)),
      });
      expect(counts(outcome)).toEqual(["32 = 31 + 0 + 0 + 1"]);
      expect(told(outcome)).toEqual([
        "warning reader-log-line-refused 32",
        "warning reader-log-lines-refused",
      ]);
      const [line] = outcome.problems;
      expect(line!.found).toBe(`an RSSI that cannot be dBm: ${JSON.stringify(row(15, codeB, "1", level))}`);
      expect(line!.expected).toBe("a level from -200 to 0 dBm");
    },
  );

  test("of a reader that no read point claims counts as elsewhere", async () => {
    const withReader = (name: string, text: string) => `${text},${name}`;
    const log = lines(
      `${header},reader`,
      withReader("R-1", row(11)),
      withReader("R-9", row(11)),
      withReader(" R-1 ", row(12)),
      withReader("R-9", row(12)),
      withReader("R-2", row(13, codeB)),
    );
    const readPoint = {
      kind: "column" as const,
      column: "reader",
      values: { "R-1": "dock-1", "R-2": "dock-2" },
    };
    const outcome = await readFiles({ "log.csv": log }, [spec({ readPoint })]);
    expect(heard(outcome)).toEqual([`0 ${codeA} 1 2 -6150 11 12`]);
    expect(counts(outcome)).toEqual(["5 = 3 + 0 + 2 + 0"]);
    expect(outcome.problems.map(({ found }) => found)).toEqual(['2 rows of the reader "R-9"']);
    expect(outcome.logs.idle.map(({ session }) => session)).toEqual([1]);
    expect(outcome.logs.spans.map(({ readPoint }) => readPoint)).toEqual(["dock-1", "dock-2"]);
  });

  test("that lacks a column is an error that names the nearest", async () => {
    const outcome = await readFiles({ "log.csv": lines(header, row(11)) }, [
      spec({ columns: { ...columns, rssi: "rsi" } }),
    ]);
    expect(told(outcome)).toEqual(["error reader-log-column-missing"]);
    expect(outcome.problems[0]!.advice).toContain('Did you mean "rssi"?');
    expect(counts(outcome)).toEqual(["0 = 0 + 0 + 0 + 0"]);
  });

  test("that is not there, or of an unknown kind, is an error", async () => {
    const outcome = await readFiles({ "log.xlsx": "x" }, [
      spec({ files: ["log.xlsx", "reads/*.csv", "../x.csv"] }),
    ]);
    expect(told(outcome)).toEqual([
      "error reader-log-missing",
      "error reader-log-kind",
      "error reader-log-missing",
    ]);
  });

  test("that two entries name is an error, and is read by the first", async () => {
    const outcome = await readFiles({ "log.csv": lines(header, row(11)) }, [
      spec(),
      spec({ files: ["*.csv"] }),
    ]);
    expect(told(outcome)).toEqual(["error reader-log-claimed-twice"]);
    expect(outcome.problems[0]!.found).toBe("entries 1 and 2 of reader_logs both name this file");
    expect(counts(outcome)).toEqual(["1 = 1 + 0 + 0 + 0"]);
  });

  test("whose path would be a pattern to the database is an error", async () => {
    const outcome = await readFiles({ "log[1].csv": lines(header, row(11)) }, [
      spec({ files: ["log[1].csv"] }),
    ]);
    expect(told(outcome)).toEqual(["error reader-log-name"]);
  });

  test("with no header in its comments is an error that names the nearest one", async () => {
    const log = lines("# power, 30", "# time, epc, rsi", row(11));
    const outcome = await readFiles({ "log.csv": log }, [spec({ header: "commented" })]);
    expect(told(outcome)).toEqual(["error reader-log-header-missing"]);
    expect(outcome.problems[0]!.found).toBe(
      'comment lines, the nearest to a header with "time", "epc", "rsi"',
    );
  });

  test("of damaged Parquet is an error in which no path of this machine stands", async () => {
    const outcome = await readFiles({ "log.parquet": `PAR1${"x".repeat(40)}PAR1` }, [
      spec({ files: ["log.parquet"] }),
    ]);
    expect(told(outcome)).toEqual(["error reader-log-unreadable"]);
    expect(outcome.problems[0]!.found).not.toContain("proofwalk-reader-");
  });

  test("with a checksum that does not match is used, with a remark", async () => {
    const log = lines(header, row(11, `3000${codeA}0000`));
    const outcome = await readFiles({ "log.csv": log }, [spec({ epcForm: "pc-epc-crc" })]);
    expect(told(outcome)).toEqual(["warning reader-log-code-remark"]);
    expect(heard(outcome)).toEqual([`0 ${codeA} 1 1 -6150 11 11`]);
  });

  test("that holds a header alone is empty, with a remark", async () => {
    const outcome = await readFiles({ "log.csv": `${header}\n` });
    expect(told(outcome)).toEqual(["warning reader-log-empty"]);
  });

  test("with bytes that are not UTF-8 loses those lines", async () => {
    const rows = Array.from({ length: 20 }, (_, index) => row(11 + index / 10));
    const bytes = Buffer.concat([
      Buffer.from(`${lines(header, ...rows)}${row(12).slice(0, -1)}`),
      Buffer.from([0xe9, 10]),
    ]);
    const outcome = await readFiles({ "log.csv": bytes });
    expect(counts(outcome)).toEqual(["21 = 20 + 0 + 0 + 1"]);
    expect(told(outcome)).toEqual(["warning reader-log-line-refused 22", "warning reader-log-lines-refused"]);
  });

  test("with a clock that is off is put right by its offset", async () => {
    const outcome = await readFiles(
      { "log.csv": lines(header, row(11 + 32.5), row(12 + 32.5), row(13 + 32.5, codeB)) },
      [spec({ clockOffsetS: -32.5 })],
    );
    expect(heard(outcome)).toEqual(bothTags);
  });
});
