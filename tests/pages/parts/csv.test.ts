import { parse } from "csv-parse/sync";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { tableText } from "../../../src/pages/parts/csv.ts";
import type { Cell } from "../../../src/pages/parts/csv-text.ts";

function oneColumn(cells: Cell[]): string {
  return tableText([{ header: "cell", value: (cell: Cell) => cell }], cells);
}

describe("a table as CSV", () => {
  it("ends every line, the last one too, in CR and LF", () => {
    expect(oneColumn(["a", 1])).toBe("cell\r\na\r\n1\r\n");
  });

  it("guards texts that a spreadsheet would run, and never a number", () => {
    const texts = ['=HYPERLINK("x")', "+1", "-2", "@x", "\tx"];
    const rows = parse(oneColumn(texts), { bom: true }) as string[][];
    expect(rows.slice(1).flat()).toEqual(texts.map((text) => `'${text}`));
    expect(oneColumn([-67.25])).toBe("cell\r\n-67.25\r\n");
  });

  it("writes numbers in full, so that they come back the same", () => {
    expect(Number(oneColumn([2 / 3]).split("\r\n")[1])).toBe(2 / 3);
  });

  it("leaves a cell empty where there is no figure", () => {
    expect(oneColumn([null])).toBe("cell\r\n\r\n");
  });

  it("starts with a byte order mark only where something is beyond ASCII", () => {
    expect(oneColumn(["plain"]).startsWith("\uFEFF")).toBe(false);
    expect(oneColumn(["Tür"]).startsWith("\uFEFF")).toBe(true);
  });

  it("keeps headers apart that the client's own columns repeat", () => {
    const columns = ["pass", "note", "pass"].map((header) => ({ header, value: () => null }));
    expect(tableText(columns, [])).toBe("pass,note,pass (2)\r\n");
  });

  it("gives back every text that is no formula, whatever is in it", () => {
    const plain = fc
      .string({ unit: "grapheme", minLength: 1 })
      .filter((text) => !/^[=+\-@\t\r\uFEFF]/.test(text));
    fc.assert(
      fc.property(fc.array(fc.tuple(plain, plain), { minLength: 1 }), (rows) => {
        const text = tableText(
          [
            { header: "a", value: (row: [string, string]) => row[0] },
            { header: "b", value: (row: [string, string]) => row[1] },
          ],
          rows,
        );
        const read = parse(text, { bom: true, record_delimiter: "\r\n" }) as string[][];
        expect(read.slice(1)).toEqual(rows);
      }),
      { numRuns: 50 },
    );
  });
});
