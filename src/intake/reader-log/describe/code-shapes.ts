import { airInterfaceCrc } from "../../../codes/air-interface.ts";
import { base64Hex, canonicalCode, isSpreadsheetNumber } from "../../../codes/canonical-code.ts";
import { counted } from "../../../model/number-words.ts";
import { byCodePoint } from "../../../model/order.ts";
import { quoted } from "../../quotation.ts";
import type { TagFacts } from "./log-description.ts";

/** What the distinct codes of a log look like. */
export interface CodeShapes extends Omit<TagFacts, "column"> {
  /** Why the form is a guess; null where nothing else fits. */
  formDoubt: string | null;
  remarks: string[];
}

/** Looks at the distinct codes of a log as written. */
export function codeShapes(codes: ReadonlySet<string>): CodeShapes {
  const shapes = new Map<string, number>();
  let spoilt = 0;
  let lists = 0;
  let uris = 0;
  for (const code of codes) {
    const shape = shapeOf(code);
    shapes.set(shape, (shapes.get(shape) ?? 0) + 1);
    if (isSpreadsheetNumber(code)) spoilt += 1;
    if (/^\[|[,;|]/.test(code)) lists += 1;
    if (/^urn:/i.test(code)) uris += 1;
  }
  const { form, doubt } = formOf(codes);
  const compared = new Set<string>();
  const refused: string[] = [];
  const labels: string[] = [];
  for (const code of codes) {
    const canonical = canonicalCode(code, form);
    if (canonical.kind === "refused") refused.push(code);
    else {
      compared.add(canonical.code);
      if (canonical.kind === "text" && !/^urn:/i.test(code)) labels.push(code);
    }
  }
  const remarks: string[] = [];
  if (spoilt > 0) {
    remarks.push(
      `${counted(spoilt, "code is", "codes are")} in exponent notation: a spreadsheet took codes for numbers and their digits are lost. Export the log anew, codes as text.`,
    );
  }
  if (lists > 0) {
    remarks.push(
      `${counted(lists, "code looks like a list", "codes look like lists")}: a row must hold one code; have the log write one row a tag.`,
    );
  }
  if (refused.length > spoilt) {
    remarks.push(
      `${counted(refused.length, "distinct code", "distinct codes")} will be refused as ${refused.length === 1 ? "it stands" : "they stand"}, ${quoted(refused[0]!)} for one.`,
    );
  }
  if (labels.length > 0) {
    remarks.push(
      `${counted(labels.length, "code is no run", "codes are no runs")} of hexadecimal digits, ${quoted(labels[0]!)} for one: such labels are compared with the manifests as they are written.`,
    );
  }
  if (uris > 0) {
    remarks.push(
      `${counted(uris, "code is a URI", "codes are URIs")}, compared as text: write them into the manifests in the same form, or have the log write hexadecimal.`,
    );
  }
  if (compared.size + refused.length < codes.size) {
    remarks.push(
      `Some codes are written in more than one way (case, 0x, blanks): ${codes.size} spellings stand for ${compared.size} tags.`,
    );
  }
  const inOrder = [...shapes].map(([shape, count]) => ({ shape, codes: count }));
  inOrder.sort((a, b) => b.codes - a.codes || byCodePoint(a.shape, b.shape));
  return {
    distinct: compared.size,
    distinctWritten: codes.size,
    form,
    shapes: inOrder,
    formDoubt: doubt,
    remarks,
  };
}

/** In words, how one code is written. */
function shapeOf(code: string): string {
  if (isSpreadsheetNumber(code)) return "numbers in exponent notation";
  if (/^urn:/i.test(code)) return "URNs, kept as labels";
  if (/^\[/.test(code)) return "lists of codes";
  const bytes = /^b(["'])(.*)\1$/.exec(code);
  const inner = bytes?.[2] ?? code;
  const marked = /^0x/i.test(inner);
  const digits = (marked ? inner.slice(2) : inner).replace(/[\s:-]/g, "");
  if (!/^[0-9A-Fa-f]+$/.test(digits))
    return base64Length(code) === null ? "not hexadecimal" : "not hexadecimal, could be base64";
  const parted = digits.length < (marked ? inner.length - 2 : inner.length);
  const dress = [
    bytes === null ? "" : "inside b'...'",
    marked ? "after 0x" : "",
    parted ? "with blanks or marks between" : "",
    /[a-f]/.test(digits) ? "lower case" : "",
  ].filter((part) => part !== "");
  const kind =
    /^\d+$/.test(digits) && digits.length >= 16
      ? "digits, all decimal (text all the same)"
      : "hexadecimal digits";
  return `${digits.length} ${kind}${dress.length > 0 ? `, ${dress.join(", ")}` : ""}`;
}

function base64Length(code: string): number | null {
  if (code.length < 11) return null;
  const hex = base64Hex(code.replace(/^b(["'])(.*)\1$/, "$2"));
  return hex === null ? null : hex.length;
}

function bareDigits(code: string): string | null {
  const bare = code
    .replace(/^b(["'])(.*)\1$/, "$2")
    .replace(/^0x/i, "")
    .replace(/[\s:-]/g, "");
  return /^[0-9A-Fa-f]+$/.test(bare) ? bare.toUpperCase() : null;
}

/** Which form nearly all codes fit: the words around an EPC give themselves away by their length and checksum. */
function formOf(codes: ReadonlySet<string>): { form: TagFacts["form"]; doubt: string | null } {
  let hex = 0;
  let base64 = 0;
  let counted = 0;
  let withCrc = 0;
  let crcFits = 0;
  for (const code of codes) {
    const digits = bareDigits(code);
    if (digits === null || digits.length % 2 !== 0) {
      // EPCs are whole words of 16 bits, and no shorter than 64 bits.
      const length = base64Length(code);
      if (length !== null && length >= 16 && length % 4 === 0) base64 += 1;
      continue;
    }
    hex += 1;
    const words = Number.parseInt(digits.slice(0, 4), 16) >> 11;
    if (words >= 4 && digits.length === 4 + 4 * words) counted += 1;
    if (words >= 4 && digits.length === 8 + 4 * words) {
      withCrc += 1;
      if (airInterfaceCrc(digits.slice(0, -4)) === digits.slice(-4)) crcFits += 1;
    }
  }
  const nearly = (part: number) => part > 0 && part >= 0.95 * codes.size;
  if (nearly(crcFits)) return { form: "pc-epc-crc", doubt: null };
  if (nearly(withCrc)) {
    return crcFits >= withCrc / 2
      ? { form: "pc-epc-crc", doubt: "some of the checksums do not match" }
      : {
          form: "hex",
          doubt:
            "the lengths would fit a PC word before and a CRC behind, but the checksums do not match: pc-epc-crc if they are there",
        };
  }
  if (nearly(counted)) {
    return {
      form: "pc-epc",
      doubt: "the first 16 bits of every code count the words behind them, as a PC word does",
    };
  }
  if (base64 > hex && nearly(base64 + hex))
    return { form: "base64", doubt: "not hexadecimal, and all of them are sound base64" };
  return { form: "hex", doubt: null };
}
