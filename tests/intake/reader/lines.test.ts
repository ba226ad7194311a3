import fc from "fast-check";
import { expect, test } from "vitest";
import {
  hasBlankOrComment,
  isBlankOrComment,
  lineEndsIn,
  linesOf,
} from "../../../src/intake/reader-log/forms/lines.ts";
import { draws } from "../../draws.ts";

/** Texts of whole lines. */
const texts = fc
  .array(fc.constantFrom("a", " ", "\t", "\u00a0", "#", "/", "//", "\n", "\r\n", "\r"), { maxLength: 12 })
  .map((parts) => `${parts.join("")}\n`);

test("as many line ends are counted as there are lines, in whichever ways they end", () => {
  expect(lineEndsIn("a\r\nb\rc\n\r\n")).toEqual({ lf: 1, crlf: 2, cr: 1 });
  fc.assert(
    fc.property(texts, (text) => {
      const { lf, crlf, cr } = lineEndsIn(text);
      expect(lf + crlf + cr).toBe(linesOf(text).length);
    }),
    { numRuns: draws(300), seed: 3 },
  );
});

test("a text has a blank line or a comment where one of its lines is one", () => {
  fc.assert(
    fc.property(texts, (text) => {
      expect(hasBlankOrComment(text)).toBe(linesOf(text).some(isBlankOrComment));
    }),
    { numRuns: draws(1000), seed: 3 },
  );
});
