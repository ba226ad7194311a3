import { expect, test } from "vitest";
import { rules } from "../../src/intake/pass-log/rules.ts";
import { problemCards } from "../../src/intake/problems/index.ts";

test("each rule reports problems of the catalogue, and no two rules the same", () => {
  const known = problemCards.map(({ code }) => code);
  const codes = rules.flatMap((rule) => rule.codes);
  expect(codes.filter((code) => !known.includes(code))).toEqual([]);
  expect(codes).toEqual([...new Set(codes)]);
});
