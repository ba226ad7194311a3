import { type CodeRefusal, refusal } from "./code-refusal.ts";

/** Upper-case hexadecimal digits, whole bytes of them; or a label; or why it is neither. */
export type BareHex = { kind: "hex"; digits: string } | { kind: "text"; text: string } | CodeRefusal;

/** The shortest EPCs are the 64-bit codes of GS1 Tag Data Translation 1.6 and before (read). */
export const fewestEpcDigits = 16;

export const emptyCell = refusal(
  "empty",
  "a tag's code",
  "Look whether the column named for the code is the right one.",
);
const spreadsheetNumber = refusal(
  "spreadsheet-number",
  "the code's own digits",
  "A spreadsheet or a script took the code for a number and its digits are lost: export the log anew with the column as text.",
);
const byteEscapes = refusal(
  "byte-escapes",
  "hexadecimal digits",
  "The log holds the code's bytes with escapes: have it write them in hexadecimal.",
);

/**
 * Takes the dress off a hexadecimal code: `0x` before it, `b'...'` around it, blanks, hyphens and colons inside it.
 *
 * Blanks go wherever the rest is hexadecimal; hyphens and colons only from between whole bytes of a code that is long enough to be an
 * EPC, so that the label `10-20` stays itself.
 */
export function bareHex(written: string): BareHex {
  const cell = written.trim();
  if (cell === "") return emptyCell;
  if (isSpreadsheetNumber(cell) || /^\d{16,}[.,]0+$/.test(cell)) return spreadsheetNumber;
  const quoted = /^b(["'])(.*)\1$/s.exec(cell);
  const inner = quoted === null ? cell : quoted[2]!.trim();
  if (inner === "") return emptyCell;
  if (quoted !== null && inner.includes("\\")) return byteEscapes;
  const marked = /^0x/i.test(inner);
  const digits = joined(marked ? inner.slice(2) : inner);
  if (digits === null) {
    return marked
      ? refusal(
          "not-hex",
          "hexadecimal digits after 0x",
          "Look whether the code was cut off or written over.",
        )
      : { kind: "text", text: inner };
  }
  if (digits.length % 2 === 0) return { kind: "hex", digits };
  if (!marked && digits.length < fewestEpcDigits) return { kind: "text", text: inner };
  return refusal(
    "odd-digits",
    `an even number of hexadecimal digits, found ${digits.length}`,
    "A digit is missing: a zero in front that was dropped, or the end of a line that was cut off.",
  );
}

/** The digits without what parts them, in upper case; null where the text is no hexadecimal code. */
function joined(text: string): string | null {
  const close = text.replace(/\s+/g, "");
  if (/^[0-9A-Fa-f]+$/.test(close)) return close.toUpperCase();
  const bytes = text.split(/[\s:-]+/);
  if (!bytes.every((group) => /^(?:[0-9A-Fa-f]{2})+$/.test(group))) return null;
  const digits = bytes.join("").toUpperCase();
  return digits.length >= fewestEpcDigits ? digits : null;
}

/** What a spreadsheet makes of a long code that it took for a number: 3.08E+23. Hexadecimal 30E1 is none. */
export function isSpreadsheetNumber(code: string): boolean {
  return /^[-+]?\d+(?:[.,]\d*)?[eE][-+]\d+$/.test(code) || /^[-+]?\d+[.,]\d+[eE]\d+$/.test(code);
}
