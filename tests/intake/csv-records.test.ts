import { CsvError, type Options, parse } from "csv-parse/sync";
import fc from "fast-check";
import { expect, test } from "vitest";
import { type CsvRecord, type CsvStyle, RecordSplitter } from "../../src/intake/csv/records.ts";
import { draws } from "../draws.ts";

const styles: CsvStyle[] = [
  { delimiter: ",", lineEnds: ["\r\n", "\n"], decimalComma: false },
  { delimiter: ";", lineEnds: ["\r\n", "\n"], decimalComma: true },
  { delimiter: ",", lineEnds: ["\r"], decimalComma: false },
];
const pieces = ["a", "bc", "é", "😀", ",", ",", ";", "\n", "\r\n", "\r", " "];
const plain = fc.array(fc.constantFrom(...pieces), { maxLength: 40 }).map((parts) => parts.join(""));
const quoted = fc
  .array(fc.constantFrom(...pieces, '"', '"', '""', ',"', '",', '"\n'), { maxLength: 30 })
  .map((parts) => parts.join(""));

/** What csv-parse makes of the whole text: records with the byte at which each starts, or how far it came. */
function reference(text: string, { delimiter, lineEnds }: CsvStyle) {
  const records: { cells: string[]; at: number }[] = [];
  let at = 0;
  const on_record: Options["on_record"] = (cells: string[], { bytes }) => {
    records.push({ cells, at });
    at = bytes;
    return null;
  };
  const options = { delimiter, record_delimiter: lineEnds, relax_column_count: true, on_record };
  try {
    parse(Buffer.from(text), options);
    return { records, fault: null };
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    return { records, fault: error.code };
  }
}

/** What is read of the text where the file comes in two pieces. */
function inTwoPieces(text: string, cut: number, style: CsvStyle) {
  const bytes = Buffer.from(text);
  const end = 1 + bytes.subarray(0, cut).lastIndexOf(style.lineEnds.at(-1)!);
  const splitter = new RecordSplitter(style, 0);
  const records: CsvRecord[] = [];
  for (const piece of [bytes.subarray(0, end), bytes.subarray(end), null]) {
    const split = splitter.split(piece);
    records.push(...split.records);
    if (split.fault !== null) return { records, fault: split.fault };
  }
  return { records, fault: null };
}

test.each([
  ["without quotes", plain],
  ["with quotes, sound or not", quoted],
])(
  "any text %s is split into the records and bytes that csv-parse finds, wherever a piece ends",
  (_, texts) => {
    fc.assert(
      fc.property(texts, fc.nat(60), fc.constantFrom(...styles), (text, cut, style) => {
        const { records, fault } = inTwoPieces(text, cut, style);
        const expected = reference(text, style);
        expect(records).toEqual(expected.records);
        expect(fault?.kind ?? null).toBe(expected.fault === null ? null : "quotes");
        if (fault?.kind === "quotes") expect(fault.isOpen).toBe(expected.fault === "CSV_QUOTE_NOT_CLOSED");
      }),
      { numRuns: draws(100), seed: 20 },
    );
  },
);

test("a cell that repeats the one above is the same text, in a row of another length too", () => {
  const { records } = new RecordSplitter(styles[0]!, 5).split(Buffer.from("a,bb,c\nx,bb\na,b,c\n"));
  expect(records).toEqual([
    { cells: ["a", "bb", "c"], at: 5 },
    { cells: ["x", "bb"], at: 12 },
    { cells: ["a", "b", "c"], at: 17 },
  ]);
});
