import fc from "fast-check";
import { expect, it } from "vitest";
import { RepeatedRows } from "../../../src/intake/reader-log/describe/repeated-rows.ts";

it("rows that occurred before are counted as a set of texts counts them", () => {
  fc.assert(
    fc.property(fc.array(fc.oneof(fc.string({ maxLength: 3 }), fc.string())), (rows) => {
      const repeats = new RepeatedRows();
      for (const row of rows) repeats.add(row);
      expect(repeats.repeated).toBe(rows.length - new Set(rows).size);
      expect(repeats.lookedAt).toBe(rows.length);
    }),
  );
});

it("two hundred thousand rows that differ in little are all told apart", () => {
  const repeats = new RepeatedRows();
  for (let i = 0; i < 200_000; i += 1) repeats.add(`3034257BF40C0E4000000001,1,-60,${1_779_350_400_000 + i}`);
  expect(repeats.repeated).toBe(0);
});
