import fc from "fast-check";
import { expect, it } from "vitest";
import { walkLines } from "../../../src/intake/reader-log/describe/text-lines.ts";

async function* pieces(bytes: Buffer, size: number): AsyncGenerator<Buffer> {
  for (let at = 0; at < bytes.length; at += size) yield bytes.subarray(at, at + size);
}

it("lines come out the same however the bytes are parted, letters of several bytes and CRLF among them", async () => {
  const word = fc.string({ unit: fc.constantFrom("a", "é", "€", "😀", ","), maxLength: 6 });
  const end = fc.constantFrom("\n", "\r\n");
  await fc.assert(
    fc.asyncProperty(
      fc.array(fc.tuple(word, end)),
      word,
      fc.integer({ min: 1, max: 9 }),
      async (lines, last, size) => {
        const text = lines.map(([line, mark]) => line + mark).join("") + last;
        const seen: string[] = [];
        const counts = await walkLines(pieces(Buffer.from(text), size), false, (line, number) => {
          seen.push(line);
          expect(number).toBe(seen.length);
        });
        expect(seen).toEqual([...lines.map(([line]) => line), ...(last === "" ? [] : [last])]);
        expect(counts).toMatchObject({
          lf: lines.filter(([, mark]) => mark === "\n").length,
          crlf: lines.filter(([, mark]) => mark === "\r\n").length,
          finalNewline: last === "",
          broken: false,
        });
      },
    ),
  );
});

it("a byte-order mark is taken off and told, and bytes that are no UTF-8 are told", async () => {
  const seen: string[] = [];
  const marked = await walkLines(
    pieces(Buffer.from("\ufefftime\n"), 2),
    false,
    (line) => void seen.push(line),
  );
  expect(marked.byteOrderMark).toBe(true);
  expect(seen).toEqual(["time"]);
  const broken = await walkLines(pieces(Buffer.from([0x41, 0xe9, 0x0a]), 9), false, () => {});
  expect(broken.broken).toBe(true);
});
