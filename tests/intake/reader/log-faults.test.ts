import { describe, expect, test } from "vitest";
import { noHundredths } from "../../../src/intake/reader-log/reader-log.ts";
import {
  bothTags,
  codeA,
  codeB,
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
  test("gives reads, strongest level, first and last moment of each pass, tag and antenna", async () => {
    const log = lines(
      header,
      row(11, codeA, "1", "-61.5", "2"),
      row(12.000001, codeA, "1", "-58.25"),
      row(12, codeA, "2", "-70", "3"),
      row(13, codeB, "1", ""),
      row(9.999999, codeB),
      row(20.000001, codeA),
    );
    const outcome = await readFiles({ "log.csv": log });
    expect(heard(outcome)).toEqual([
      `0 ${codeA} 1 3 -5825 11 12.000001`,
      `0 ${codeA} 2 3 -7000 12 12`,
      `0 ${codeB} 1 1 ${noHundredths} 13 13`,
    ]);
    expect(counts(outcome)).toEqual(["6 = 6 + 0 + 0 + 0"]);
    expect(outcome.logs.idle).toEqual([{ session: 0, minute: startUs / 6e7, reads: 2, tags: 2 }]);
    expect(outcome.logs.spans).toEqual([
      { readPoint: "dock-1", fromUs: startUs + 9_999_999, toUs: startUs + 20_000_001 },
    ]);
    expect(told(outcome)).toEqual([]);
  });

  test("both ends of a window belong to it", async () => {
    const outcome = await readFiles({ "log.csv": lines(header, row(10), row(20)) });
    expect(heard(outcome)).toEqual([`0 ${codeA} 1 2 -6150 10 20`]);
  });

  test("may start with a byte-order mark", async () => {
    const outcome = await readFiles({
      "log.csv": `\ufeff${lines(header, row(11), row(12), row(13, codeB))}`,
    });
    expect(heard(outcome)).toEqual(bothTags);
    expect(told(outcome)).toEqual([]);
  });

  test("has fields without the blanks around them, in quotes and out, whatever parts them", async () => {
    for (const delimiter of [",", ";", "\t", " "]) {
      const inQuotes = (text: string) => `"${text}"`;
      const pads = [
        (text: string) => inQuotes(` ${text}`),
        (text: string) => inQuotes(`${text}\t `),
        (text: string) => (delimiter === " " ? inQuotes(`\t${text}`) : ` ${text}`),
        (text: string) => (delimiter === "\t" ? inQuotes(`${text}\t`) : `${text}\t`),
      ];
      const padded = [row(11), row(12), row(13, codeB)].flatMap((line, second) =>
        pads.map((pad, place) => {
          const later = String(BigInt(line.slice(0, 16)) + BigInt(place));
          const fields = [later, ...line.split(",").slice(1)];
          return fields.map((text, i) => ((i + second) % 2 === 0 ? pad(text) : text)).join(delimiter);
        }),
      );
      const log = lines(header.replaceAll(",", delimiter), ...padded);
      const outcome = await readFiles({ "log.csv": log }, [spec({ delimiter })], undefined, {
        largeBytes: 1 << 20,
      });
      expect(heard(outcome)).toEqual([
        `0 ${codeA} 1 8 -6150 11 12.000003`,
        `0 ${codeB} 1 4 -6150 13 13.000003`,
      ]);
      expect(counts(outcome)).toEqual(["12 = 12 + 0 + 0 + 0"]);
    }
  });

  test("may end its lines in two ways at once", async () => {
    const mixed = `${header}\r\n${row(11)}\n${row(12)}\r\n${row(13, codeB)}\n`;
    const outcome = await readFiles({ "log.csv": mixed });
    expect(heard(outcome)).toEqual(bothTags);
    expect(counts(outcome)).toEqual(["3 = 3 + 0 + 0 + 0"]);
  });

  test("may end its lines with CRLF throughout", async () => {
    const outcome = await readFiles({
      "log.csv": lines(header, row(11), row(12), row(13, codeB)).replaceAll("\n", "\r\n"),
    });
    expect(heard(outcome)).toEqual(bothTags);
  });

  test("may end without a line end", async () => {
    const outcome = await readFiles({ "log.csv": lines(header, row(11), row(12), row(13, codeB)).trimEnd() });
    expect(heard(outcome)).toEqual(bothTags);
    expect(counts(outcome)).toEqual(["3 = 3 + 0 + 0 + 0"]);
  });

  test("whose last line was cut off loses that line alone, and says so", async () => {
    const rows = Array.from({ length: 20 }, (_, index) => row(11 + index / 10));
    const outcome = await readFiles({ "log.csv": `${lines(header, ...rows)}1779350413000000,3034` });
    expect(counts(outcome)).toEqual(["21 = 20 + 0 + 0 + 1"]);
    expect(told(outcome)).toEqual(["warning reader-log-line-refused 22", "warning reader-log-lines-refused"]);
    expect(outcome.problems[0]!.found).toBe('too few columns: "1779350413000000,3034"');
  });

  test("may have its rows in any order", async () => {
    const outcome = await readFiles({ "log.csv": lines(header, row(13, codeB), row(12), row(11)) });
    expect(heard(outcome)).toEqual(bothTags);
  });

  test("counts exact repeats of a row once, and says so", async () => {
    const outcome = await readFiles({
      "log.csv": lines(header, row(11), row(12), row(11), row(11), row(13, codeB), row(40), row(40)),
    });
    expect(heard(outcome)).toEqual(bothTags);
    expect(counts(outcome)).toEqual(["7 = 4 + 3 + 0 + 0"]);
    expect(outcome.logs.idle).toEqual([{ session: 0, minute: startUs / 6e7, reads: 1, tags: 1 }]);
    expect(told(outcome)).toEqual(["warning reader-log-rows-repeated"]);
  });

  test("keeps rows that differ only in a column nothing is asked of", async () => {
    const log = lines(`${header},phase`, `${row(11)},17`, `${row(11)},18`, `${row(11)},18`);
    const outcome = await readFiles({ "log.csv": log });
    expect(heard(outcome)).toEqual([`0 ${codeA} 1 2 -6150 11 11`]);
    expect(counts(outcome)).toEqual(["3 = 2 + 1 + 0 + 0"]);
  });

  test("that lies there twice under two names counts once", async () => {
    const log = lines(header, row(11), row(12), row(13, codeB));
    const outcome = await readFiles({ "a.csv": log, "b.csv": log }, [spec({ files: ["*.csv"] })]);
    expect(heard(outcome)).toEqual(bothTags);
    expect(counts(outcome)).toEqual(["3 = 3 + 0 + 0 + 0", "3 = 0 + 3 + 0 + 0"]);
    expect(told(outcome)).toEqual(["warning reader-log-same-file"]);
  });

  test("that overlaps another counts the common rows once, in the first", async () => {
    const outcome = await readFiles(
      { "a.csv": lines(header, row(11), row(12)), "b.csv": lines(header, row(12), row(13, codeB)) },
      [spec({ files: ["*.csv"] })],
    );
    expect(heard(outcome)).toEqual(bothTags);
    expect(counts(outcome)).toEqual(["2 = 2 + 0 + 0 + 0", "2 = 1 + 1 + 0 + 0"]);
  });

  test("in the order of time shows a repeat among rows of one time, be they side by side or not", async () => {
    const rising = Array.from({ length: 999 }, (_, index) => row(11 + index / 200));
    const same = [row(18, codeA), row(18, codeB), row(18, codeA), row(18, codeA, "2")];
    const outcome = await readFiles({ "log.csv": lines(header, ...rising, ...same) });
    expect(counts(outcome)).toEqual(["1003 = 1002 + 1 + 0 + 0"]);
    expect(heard(outcome)).toEqual([
      `0 ${codeA} 1 1000 -6150 11 18`,
      `0 ${codeA} 2 1 -6150 18 18`,
      `0 ${codeB} 1 1 -6150 18 18`,
    ]);
    // One row out of its time, and another way finds the same.
    const falling = await readFiles({ "log.csv": lines(header, ...same, ...rising) });
    expect([counts(falling), heard(falling)]).toEqual([counts(outcome), heard(outcome)]);
  });

  test.each(["// ", "# ", "//", "#"])("may have its header in a comment, %s", async (mark) => {
    const log = lines(
      `${mark}power=30, session=1`,
      `${mark}${header}`,
      row(11),
      `${mark}antenna 2, off`,
      row(12),
      row(13, codeB),
    );
    const outcome = await readFiles({ "log.csv": log }, [spec({ header: "commented" })]);
    expect(heard(outcome)).toEqual(bothTags);
    expect(counts(outcome)).toEqual(["3 = 3 + 0 + 0 + 0"]);
    expect(told(outcome)).toEqual([]);
  });

  test("may have settings in comment lines, even with as many columns as the data", async () => {
    const log = lines(
      "# mode, a, b, c, d",
      header,
      row(11),
      "# power, 30, dBm, x, y",
      row(12),
      "",
      row(13, codeB),
      "// end",
    );
    const outcome = await readFiles({ "log.csv": log });
    expect(heard(outcome)).toEqual(bothTags);
    expect(counts(outcome)).toEqual(["3 = 3 + 0 + 0 + 0"]);
    expect(told(outcome)).toEqual([]);
  });

  test.each([
    ["lines of prose", ["Inventory of dock 1, exported 2026-05-21", "Operator: nobody", "", "a;b"]],
    ["an open quote", ['Mode "dense', "power, 30 dBm"]],
    ["as many columns as the data", ["a,b,c,d,e", "1,2,3,4,5"]],
  ])("may have %s above its header, which are no rows", async (_, above) => {
    const log = lines(...above, header, row(11), row(12), row(13, codeB));
    const outcome = await readFiles({ "log.csv": log });
    expect(heard(outcome)).toEqual(bothTags);
    expect(counts(outcome)).toEqual(["3 = 3 + 0 + 0 + 0"]);
    expect(told(outcome)).toEqual([]);
    // A level that cannot be has every line looked at on its own, and mixed line ends too.
    const odd = log.replace(`${header}\n`, `${header}\r\n${row(9, codeA, "1", "12")}\r\n`);
    expect(counts(await readFiles({ "log.csv": odd }))).toEqual(["4 = 3 + 0 + 0 + 1"]);
  });

  test("keeps its first line as the header where no line holds all the names, and misses what it lacks", async () => {
    const log = lines("Exported by hand", "time,epc,antenna,rsi,count", row(11));
    const outcome = await readFiles({ "log.csv": log });
    expect(told(outcome)).toContain("error reader-log-column-missing");
    expect(outcome.problems[0]!.found).toBe('the columns "Exported by hand"');
  });

  test("may be joined from parts that each have a header", async () => {
    const outcome = await readFiles({ "log.csv": lines(header, row(11), row(12), header, row(13, codeB)) });
    expect(heard(outcome)).toEqual(bothTags);
    expect(counts(outcome)).toEqual(["3 = 3 + 0 + 0 + 0"]);
  });

  test("may write decimal commas inside quotes", async () => {
    const log = lines(
      header,
      row(11, codeA, "1", '"-61,5"'),
      row(12, codeA, "1", '"-61,52"'),
      row(13, codeB, "1", '"-61,50"'),
    );
    const outcome = await readFiles({ "log.csv": log }, [spec({ decimal: "," })]);
    expect(heard(outcome)).toEqual(bothTags);
    expect(told(outcome)).toEqual([]);
  });

  test("may be parted by semicolons with decimal commas, or by tabs", async () => {
    const plain = lines(header, row(11), row(12), row(13, codeB));
    const semicolons = await readFiles({ "log.csv": plain.replaceAll(",", ";").replaceAll("61.5", "61,5") }, [
      spec({ delimiter: ";", decimal: "," }),
    ]);
    expect(heard(semicolons)).toEqual(bothTags);
    const tabs = await readFiles({ "log.tsv": plain.replaceAll(",", "\t") }, [spec({ files: ["log.tsv"] })]);
    expect(heard(tabs)).toEqual(bothTags);
  });

  test("may have no header: columns go by number", async () => {
    const numbers = { time: 1, date: null, lastTime: null, epc: [2], antenna: 3, rssi: 4, count: 5 };
    const outcome = await readFiles({ "log.csv": lines(row(11), row(12), row(13, codeB)) }, [
      spec({ header: "no", columns: numbers }),
    ]);
    expect(heard(outcome)).toEqual(bothTags);
    expect(counts(outcome)).toEqual(["3 = 3 + 0 + 0 + 0"]);
  });

  test("keeps a code that looks like a number as text", async () => {
    const codes = ["30E10000", "0012", "308300000000000000000012"];
    const outcome = await readFiles({ "log.csv": lines(header, ...codes.map((code) => row(11, code))) });
    expect(outcome.logs.heard.codes).toEqual(["0012", "308300000000000000000012", "30E10000"]);
  });

  test("may write one code in many ways", async () => {
    const ways = [
      codeA,
      codeA.toLowerCase(),
      `0x${codeA}`,
      `b'${codeA}'`,
      `${codeA.slice(0, 4)} ${codeA.slice(4)}`,
    ];
    const outcome = await readFiles({
      "log.csv": lines(header, ...ways.map((code, index) => row(11 + index, code))),
    });
    expect(heard(outcome)).toEqual([`0 ${codeA} 1 5 -6150 11 15`]);
  });

  test("may count many reads in one row", async () => {
    const outcome = await readFiles({
      "log.csv": lines(header, row(11, codeA, "1", "-61.5", "250"), row(12)),
    });
    expect(heard(outcome)).toEqual([`0 ${codeA} 1 251 -6150 11 12`]);
  });
});
