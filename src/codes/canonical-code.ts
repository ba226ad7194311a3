import { type EpcForm, epcForms } from "../model/facility.ts";
import { unwrappedEpc } from "./air-interface.ts";

/** A code as everything else compares and shows it, or why there is none. */
export type CanonicalCode =
  /** Upper-case hexadecimal digits of the EPC alone. */
  | { kind: "hex"; code: string; remarks: CodeRemark[] }
  /** A label that is not a hexadecimal code, as it was written. */
  | { kind: "text"; code: string }
  | CodeRefusal;

/** Something to report about a code that is used nevertheless. */
interface CodeRemark {
  fault: "crc-mismatch" | "padding" | "part-word";
  text: string;
}

/** Why a cell gives no code: what was expected in its place, and what to do. */
interface CodeRefusal {
  kind: "refused";
  fault:
    | "empty"
    | "spreadsheet-number"
    | "odd-digits"
    | "byte-escapes"
    | "not-hex"
    | "not-base64"
    | "not-ascii"
    | "not-decimal"
    | "no-protocol-word"
    | "no-epc"
    | "length-mismatch";
  expected: string;
  advice: string;
}

function refusal(fault: CodeRefusal["fault"], expected: string, advice: string): CodeRefusal {
  return { kind: "refused", fault, expected, advice };
}

/** The shortest EPCs are the 64-bit codes of GS1 Tag Data Translation 1.6 and before (read). */
export const fewestEpcDigits = 16;

/**
 * Brings a code from the way a reader log writes it to the one way in which codes are compared.
 *
 * @param written the cell's text; it never passes through a number, so leading zeros, `30E1` and 24 decimal digits stay
 * @param form how the log writes codes: the EPC in hexadecimal, or with the PC word in front, or with the PC word in front
 *   and the CRC-16 behind; or the EPC's bytes in base64; or the characters of a code in hexadecimal (`ascii-hex`, which zero
 *   bytes may fill up); or the EPC as a decimal number; or its bytes from the last to the first (`hex-reversed`)
 *
 * Hexadecimal may be in either case, behind `0x`, inside `b'...'`, with blanks anywhere, and with hyphens or colons between
 * whole bytes of codes of 64 bits and more (a shorter one, `10-20`, is a label). In the form `hex`, what is not hexadecimal is
 * a label and stays as it is but for blanks and `b'...'` around it; so does an odd run of fewer than 16 digits, such as
 * `101`, since no EPC is that short. An odd run of 16 and more, or behind `0x`, has lost a digit and is refused. The other
 * forms have no labels.
 *
 * Edges: an empty cell and exponent notation (3.08E+23) are refused. A CRC that does not match, and an EPC that is not a whole
 * number of 16-bit words, are remarks. Zeros at the end stay in the form `hex`: they may be the code's own. A decimal number
 * has lost the zeros in front: it is filled up to 64 bits, else to 96, else to whole words.
 *
 * Source: how middleware writes codes is common practice, no source; the air interface's words are ISO/IEC 18000-63 (see
 * `unwrappedEpc`); base64 is RFC 4648.
 * Worked example: `0x3034 257b f40c 0e40 000f 4245` and `b'3034257BF40C0E40000F4245'` are both 3034257BF40C0E40000F4245.
 */
export function canonicalCode(written: string, form: EpcForm = "hex"): CanonicalCode {
  if (form === "base64") return fromBase64(written);
  if (form === "decimal") return fromDecimal(written);
  const bare = bareHex(written);
  if (bare.kind === "refused") return bare;
  if (form === "hex")
    return bare.kind === "hex" ? canonical(bare.digits, []) : { kind: "text", code: bare.text };
  if (bare.kind === "text") {
    return refusal(
      "not-hex",
      `${parts[form]} in hexadecimal digits`,
      `State the epc_form that the log is written in: ${epcForms.slice(0, -1).join(", ")} or ${epcForms.at(-1)}.`,
    );
  }
  if (form === "ascii-hex") return fromAsciiHex(bare.digits);
  if (form === "hex-reversed") return canonical(reversed(bare.digits), []);
  return fromAirInterface(bare.digits, form);
}

const parts = {
  "pc-epc": "a PC word and an EPC",
  "pc-epc-crc": "a PC word, an EPC and a CRC",
  "ascii-hex": "the characters of a code",
  "hex-reversed": "the bytes of an EPC",
};

function canonical(code: string, remarks: readonly CodeRemark[]): CanonicalCode {
  const partWord: CodeRemark[] =
    code.length >= fewestEpcDigits && code.length % 4 !== 0
      ? [{ fault: "part-word", text: `${code.length} digits are not a whole number of 16-bit words` }]
      : [];
  return { kind: "hex", code, remarks: [...remarks, ...partWord] };
}

// Hexadecimal digits by themselves.

/** Upper-case hexadecimal digits, whole bytes of them; or a label; or why it is neither. */
type BareHex = { kind: "hex"; digits: string } | { kind: "text"; text: string } | CodeRefusal;

const emptyCell = refusal(
  "empty",
  "a tag's code",
  "Check whether the column named for the code is the right one.",
);
const spreadsheetNumber = refusal(
  "spreadsheet-number",
  "the code's own digits",
  "A spreadsheet or a script took the code for a number and its digits are lost: export the log again with the column as text.",
);
const byteEscapes = refusal(
  "byte-escapes",
  "hexadecimal digits",
  "The log holds the code's bytes with escapes: have it write them in hexadecimal.",
);

/**
 * Removes what a log writes around and between the digits: `0x` in front, `b'...'` around them, blanks, hyphens and colons.
 *
 * Blanks go wherever the rest is hexadecimal; hyphens and colons only between whole bytes of a code that is long enough to be
 * an EPC, so that the label `10-20` stays itself.
 */
function bareHex(written: string): BareHex {
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
          "Check whether the code was cut off or overwritten.",
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

/** The digits without the marks between them, in upper case; null where the text is not a hexadecimal code. */
function joined(text: string): string | null {
  const close = text.replace(/\s+/g, "");
  if (/^[0-9A-Fa-f]+$/.test(close)) return close.toUpperCase();
  const bytes = text.split(/[\s:-]+/);
  if (!bytes.every((group) => /^(?:[0-9A-Fa-f]{2})+$/.test(group))) return null;
  const digits = bytes.join("").toUpperCase();
  return digits.length >= fewestEpcDigits ? digits : null;
}

/** Whether a spreadsheet took a long code for a number and wrote 3.08E+23; the hexadecimal code 30E1 is not such a number. */
export function isSpreadsheetNumber(code: string): boolean {
  return /^[-+]?\d+(?:[.,]\d*)?[eE][-+]\d+$/.test(code) || /^[-+]?\d+[.,]\d+[eE]\d+$/.test(code);
}

/** The bytes of whole-byte digits, the last one first. */
function reversed(digits: string): string {
  return digits.match(/../g)!.reverse().join("");
}

/** Reads the characters that whole-byte digits stand for as a code or a label. */
function fromAsciiHex(digits: string): CanonicalCode {
  const characters = digits.replace(/(?:00)+$/, "");
  const isPrintable = /^(?:[2-6][0-9A-F]|7[0-9A-E])+$/.test(characters);
  if (isPrintable)
    return canonicalCode(
      characters.replace(/../g, (byte) => String.fromCharCode(Number.parseInt(byte, 16))),
      "hex",
    );
  return refusal(
    "not-ascii",
    "the characters of a code, each as two hexadecimal digits",
    "State epc_form: hex where the log writes the EPC itself.",
  );
}

// Decimal numbers.

/** The decimal digits of the longest EPC, 31 words of 16 bits. */
const mostDecimalDigits = 150;

function fromDecimal(written: string): CanonicalCode {
  const cell = written.trim();
  if (cell === "") return emptyCell;
  if (isSpreadsheetNumber(cell) || /^\d{16,}[.,]0+$/.test(cell)) return spreadsheetNumber;
  if (!/^\d+$/.test(cell) || cell.length > mostDecimalDigits) {
    return refusal(
      "not-decimal",
      `an EPC as a decimal number of at most ${mostDecimalDigits} digits`,
      "State epc_form: hex where the log writes hexadecimal digits.",
    );
  }
  const digits = BigInt(cell).toString(16).toUpperCase();
  const filled = [16, 24].find((length) => digits.length <= length) ?? 4 * Math.ceil(digits.length / 4);
  return canonical(digits.padStart(filled, "0"), []);
}

// The words of the air interface around the EPC.

function fromAirInterface(digits: string, form: "pc-epc" | "pc-epc-crc"): CanonicalCode {
  const found = unwrappedEpc(digits, form === "pc-epc-crc");
  switch (found.fault) {
    case "too-short":
      return refusal(
        "no-protocol-word",
        parts[form],
        "State epc_form: hex where the log writes the EPC alone.",
      );
    case "no-epc":
      return refusal(
        "no-epc",
        "a PC word that counts at least one word of EPC",
        "The tag was read without an EPC, or the log writes the EPC alone (epc_form: hex).",
      );
    case "length":
      return refusal(
        "length-mismatch",
        `${found.expectedDigits} digits, as the PC word counts ${found.statedWords} words of EPC, found ${digits.length}`,
        "State the epc_form that the log is written in, or check whether the line was cut off.",
      );
    case null:
      return canonical(found.epc, airInterfaceRemarks(found.crcMismatch, found.paddingDigits));
  }
}

function airInterfaceRemarks(
  mismatch: { written: string; computed: string } | null,
  paddingDigits: number,
): CodeRemark[] {
  const remarks: CodeRemark[] = [];
  if (mismatch !== null) {
    const { written, computed } = mismatch;
    remarks.push({
      fault: "crc-mismatch",
      text: `the CRC is ${written}, but PC word and EPC make ${computed}`,
    });
  }
  if (paddingDigits > 0) {
    remarks.push({ fault: "padding", text: `${paddingDigits} zero digits after the EPC were left off` });
  }
  return remarks;
}

// Base64.

function fromBase64(written: string): CanonicalCode {
  const cell = written.trim();
  const inner = /^b(["'])(.*)\1$/s.exec(cell)?.[2] ?? cell;
  if (inner.trim() === "") return emptyCell;
  const hex = base64Hex(inner.trim());
  if (hex !== null && hex !== "") return canonical(hex, []);
  return refusal(
    "not-base64",
    "the EPC's bytes in base64",
    "State epc_form: hex where the log writes hexadecimal digits, or check whether the line was cut off.",
  );
}

/**
 * The bytes of a base64 text as upper-case hexadecimal; null where it is not base64.
 *
 * Takes the standard and the URL-safe alphabet, with `=` padding or without. Edges: wrong padding, a lone last character,
 * left-over bits that are not zero, and blanks are refused; the empty text is the empty text.
 *
 * Source: RFC 4648, sections 4, 5 and 3.5 (canonical encoding) (from memory).
 * Worked example: `MDQleQ==` is 30342579.
 */
export function base64Hex(text: string): string | null {
  const standard = text.replaceAll("-", "+").replaceAll("_", "/");
  let bytes: string;
  try {
    bytes = atob(standard);
  } catch {
    return null;
  }
  // Decoding overlooks blanks and left-over bits; encoding again brings them to light.
  const unpadded = (base64: string) => base64.replace(/=+$/, "");
  if (unpadded(btoa(bytes)) !== unpadded(standard)) return null;
  return [...bytes]
    .map((byte) => byte.charCodeAt(0).toString(16).padStart(2, "0"))
    .join("")
    .toUpperCase();
}
