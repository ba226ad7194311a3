import type { EpcForm } from "../model/facility.ts";
import { bareHex, emptyCell, fewestEpcDigits } from "./bare-hex.ts";
import { base64Hex } from "./base64-hex.ts";
import { type CodeRefusal, refusal } from "./code-refusal.ts";
import { unwrappedEpc } from "./protocol-words.ts";

/** A code as everything else compares and shows it, or why there is none. */
export type CanonicalCode =
  /** Upper-case hexadecimal digits of the EPC alone. */
  | { kind: "hex"; code: string; remarks: CodeRemark[] }
  /** A label that is no hexadecimal code, as it was written. */
  | { kind: "text"; code: string }
  | CodeRefusal;

/** Something to tell about a code that is used nevertheless. */
interface CodeRemark {
  fault: "crc-mismatch" | "padding" | "part-word";
  text: string;
}

/**
 * Brings a code from the way a reader log writes it to the one way in which codes are compared.
 *
 * @param written the cell's text; it never passes through a number, so leading zeros, `30E1` and 24 decimal digits stay
 * @param form what the log was said to write: the EPC in hexadecimal, or with the PC word before it, or with PC word before
 *   and CRC-16 after it, or the EPC's bytes in base64
 *
 * Hexadecimal may be in either case, behind `0x`, inside `b'...'`, with blanks anywhere, and with hyphens or colons between
 * whole bytes of codes of 64 bits and more (a shorter one, `10-20`, is a label). In the form `hex`, what is not hexadecimal is
 * a label and stays as it is but for blanks and `b'...'` around it; so does an odd run of fewer than 16 digits, such as
 * `101`, since no EPC is that short. An odd run of 16 and more, or behind `0x`, has lost a digit and is refused. The other
 * forms know no labels.
 *
 * Edges: an empty cell and exponent notation (3.08E+23) are refused. A CRC that does not match, and an EPC of no whole number
 * of 16-bit words, are remarks. Zeros at the end stay in the form `hex`: they may be the code's own.
 *
 * Source: how middleware writes codes is common practice, no source; the air interface's words are ISO/IEC 18000-63 (see
 * `unwrappedEpc`); base64 is RFC 4648.
 * Worked example: `0x3034 257b f40c 0e40 000f 4245` and `b'3034257BF40C0E40000F4245'` are both 3034257BF40C0E40000F4245.
 */
export function canonicalCode(written: string, form: EpcForm = "hex"): CanonicalCode {
  if (form === "base64") return fromBase64(written);
  const bare = bareHex(written);
  if (bare.kind === "refused") return bare;
  if (form === "hex")
    return bare.kind === "hex" ? canonical(bare.digits, []) : { kind: "text", code: bare.text };
  if (bare.kind === "hex") return fromAirInterface(bare.digits, form);
  return refusal(
    "not-hex",
    `${parts[form]} in hexadecimal digits`,
    "State the epc_form that the log is written in: hex, pc-epc, pc-epc-crc or base64.",
  );
}

const parts = { "pc-epc": "a PC word and an EPC", "pc-epc-crc": "a PC word, an EPC and a CRC" };

function canonical(code: string, remarks: readonly CodeRemark[]): CanonicalCode {
  const partWord: CodeRemark[] =
    code.length >= fewestEpcDigits && code.length % 4 !== 0
      ? [{ fault: "part-word", text: `${code.length} digits are no whole number of 16-bit words` }]
      : [];
  return { kind: "hex", code, remarks: [...remarks, ...partWord] };
}

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
        "The tag was heard without an EPC, or the log writes the EPC alone (epc_form: hex).",
      );
    case "length":
      return refusal(
        "length-mismatch",
        `${found.expectedDigits} digits, as the PC word counts ${found.statedWords} words of EPC, found ${digits.length}`,
        "State the epc_form that the log is written in, or look whether the line was cut off.",
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
      text: `CRC ${written} stands where PC word and EPC make ${computed}`,
    });
  }
  if (paddingDigits > 0) {
    remarks.push({ fault: "padding", text: `${paddingDigits} zero digits after the EPC were left off` });
  }
  return remarks;
}

function fromBase64(written: string): CanonicalCode {
  const cell = written.trim();
  const inner = /^b(["'])(.*)\1$/s.exec(cell)?.[2] ?? cell;
  if (inner.trim() === "") return emptyCell;
  const hex = base64Hex(inner.trim());
  if (hex !== null && hex !== "") return canonical(hex, []);
  return refusal(
    "not-base64",
    "the EPC's bytes in base64",
    "State epc_form: hex where the log writes hexadecimal digits, or look whether the line was cut off.",
  );
}
