import { expect, it } from "vitest";
import { clockSentence } from "../../../src/intake/reader-log/clock-sentence.ts";

const fit = { insideNow: 12, insideShifted: 8900, total: 9000 };

it("a clock that runs ahead is told with what to subtract and what to write", () => {
  const said = clockSentence({ ...fit, shiftS: -32 });
  expect(said.found).toBe(
    "12 of 9000 reads fall inside passes; 8900 would if 32.0 s were subtracted from the reader's clock",
  );
  expect(said.advice).toContain("clock_offset_s: -32.0 ");
  expect(said.advice).toContain("Nothing was shifted.");
  expect(said.advice).not.toContain("zone");
});

it("a clock that runs behind is told with what to add", () => {
  expect(clockSentence({ ...fit, shiftS: 4.5 }).found).toContain("if 4.5 s were added to the reader's clock");
});

it("whole and half hours are said to look like a time zone", () => {
  expect(clockSentence({ ...fit, shiftS: 3602.3 }).advice).toContain("so near to 1 h");
  expect(clockSentence({ ...fit, shiftS: -19800 }).advice).toContain("so near to 5.5 h");
});
