import { base64Hex, canonicalCode, isSpreadsheetNumber } from "../../../codes/canonical-code.ts";
import type { EpcForm } from "../../../model/facility.ts";
import { counted } from "../../../model/number-words.ts";
import { byCodePoint } from "../../../model/order.ts";
import { quoted } from "../../problems/card/wording.ts";

export interface FormGuess {
  form: EpcForm;
  /** Why the form is a guess; null where nothing else fits. */
  doubt: string | null;
}

/** Of all codes, how many must fit a form. */
const mostShare = 0.95;

/** Guesses which form nearly all codes have: the words around an EPC give themselves away by their length and checksum. */
export function guessForm(codes: ReadonlySet<string>): FormGuess {
  const share = (test: (code: string) => boolean) => [...codes].filter(test).length / Math.max(1, codes.size);
  if (share(isAsciiHex) >= mostShare)
    return { form: "ascii-hex", doubt: "every byte is the character of a hexadecimal digit" };
  if (share(isDecimal) >= mostShare) {
    return {
      form: "decimal",
      doubt: "as many decimal digits as a 96-bit number has, and none that is only hexadecimal",
    };
  }
  const withCrc = share((code) => isEpc(code, "pc-epc-crc", ["crc-mismatch"]));
  const crcFits = share((code) => isEpc(code, "pc-epc-crc"));
  if (withCrc >= mostShare) {
    if (crcFits >= mostShare) return { form: "pc-epc-crc", doubt: null };
    return crcFits >= withCrc / 2
      ? { form: "pc-epc-crc", doubt: "some of the checksums do not match" }
      : {
          form: "hex",
          doubt:
            "the lengths would fit a PC word before and a CRC behind, but the checksums do not match: pc-epc-crc if they are there",
        };
  }
  if (share((code) => isEpc(code, "pc-epc")) >= mostShare) {
    return {
      form: "pc-epc",
      doubt: "the first 16 bits of every code count the words behind them, as a PC word does",
    };
  }
  const isBase64 = (code: string) => canonicalCode(code).kind !== "hex" && isEpc(code, "base64");
  const base64 = share(isBase64);
  if (base64 > 0.5 && share((code) => isBase64(code) || canonicalCode(code).kind === "hex") >= mostShare)
    return { form: "base64", doubt: "not hexadecimal, and all of them are sound base64" };
  return { form: "hex", doubt: null };
}

/** Whether each byte of a code is the character of a hexadecimal digit, and the characters make an EPC. */
function isAsciiHex(code: string): boolean {
  return /^(?:3[0-9]|[46][1-6])+(?:00)*$/.test(code.replace(/^0x|\s/gi, "")) && isEpc(code, "ascii-hex");
}

/** A 96-bit code with a header from 10h up, as the open standard's schemes have, is a number of 28 or 29 digits: as hexadecimal it would be odd. */
function isDecimal(code: string): boolean {
  return /^\d{28,29}$/.test(code) && isEpc(code, "decimal");
}

/** Whether a text holds, in a form, an EPC of at least 64 bits about which there is nothing else to remark. */
function isEpc(text: string, form: EpcForm, allowed: readonly string[] = []): boolean {
  const code = canonicalCode(text, form);
  return (
    code.kind === "hex" &&
    code.code.length >= 16 &&
    code.remarks.every(({ fault }) => allowed.includes(fault))
  );
}

export interface TagFacts {
  /** Distinct codes as they are compared. */
  distinct: number;
  form: EpcForm;
  /** How they are written, for instance `24 hexadecimal digits`: distinct codes of each way, most first. */
  shapes: { shape: string; codes: number }[];
}

/** What the distinct codes of a log look like, and what to remark about them. */
export function describeCodes(
  codes: ReadonlySet<string>,
  form: EpcForm,
): { facts: TagFacts; remarks: string[] } {
  const shapes = new Map<string, number>();
  for (const code of codes) shapes.set(shapeOf(code), (shapes.get(shapeOf(code)) ?? 0) + 1);
  const compared = new Set<string>();
  const refused: string[] = [];
  const labels: string[] = [];
  for (const code of codes) {
    const canonical = canonicalCode(code, form);
    if (canonical.kind === "refused") refused.push(code);
    else compared.add(canonical.code);
    if (canonical.kind === "text" && !isUri(code)) labels.push(code);
  }
  const count = (test: (code: string) => boolean) => [...codes].filter(test).length;
  const [spoilt, lists, uris] = [
    count(isSpreadsheetNumber),
    count((code) => /^\[|[,;|]/.test(code)),
    count(isUri),
  ];
  const remarks = [
    spoilt > 0 &&
      `${counted(spoilt, "code is", "codes are")} in exponent notation: a spreadsheet took codes for numbers and their digits are lost. Export the log anew, codes as text.`,
    lists > 0 &&
      `${counted(lists, "code looks like a list", "codes look like lists")}: a row must hold one code; have the log write one row a tag.`,
    refused.length > spoilt &&
      `${counted(refused.length, "distinct code", "distinct codes")} will be refused as ${refused.length === 1 ? "it stands" : "they stand"}, ${quoted(refused[0]!)} for one.`,
    labels.length > 0 &&
      `${counted(labels.length, "code is not a run", "codes are not runs")} of hexadecimal digits, ${quoted(labels[0]!)} for one: such labels are compared with the manifests as they are written.`,
    uris > 0 &&
      `${counted(uris, "code is a URI", "codes are URIs")}, compared as text: write them into the manifests in the same form, or have the log write hexadecimal.`,
    compared.size + refused.length < codes.size &&
      `Some codes are written in more than one way (case, 0x, blanks): ${codes.size} spellings stand for ${compared.size} tags.`,
  ].filter((remark) => remark !== false);
  const byCount = [...shapes].map(([shape, number]) => ({ shape, codes: number }));
  byCount.sort((a, b) => b.codes - a.codes || byCodePoint(a.shape, b.shape));
  return {
    facts: { distinct: compared.size, form, shapes: byCount },
    remarks,
  };
}

function isUri(code: string): boolean {
  return /^urn:/i.test(code);
}

/** In words, how one code is written. */
function shapeOf(code: string): string {
  if (isSpreadsheetNumber(code)) return "numbers in exponent notation";
  if (isUri(code)) return "URNs, kept as labels";
  if (code.startsWith("[")) return "lists of codes";
  const inner = /^b(["'])(.*)\1$/.exec(code)?.[2];
  const text = inner ?? code;
  const isMarked = /^0x/i.test(text);
  const written = isMarked ? text.slice(2) : text;
  const digits = written.replace(/[\s:-]/g, "");
  if (!/^[0-9A-Fa-f]+$/.test(digits))
    return code.length >= 11 && base64Hex(text) !== null
      ? "not hexadecimal, could be base64"
      : "not hexadecimal";
  const kind =
    /^\d+$/.test(digits) && digits.length >= 16
      ? "digits, all decimal (text all the same)"
      : "hexadecimal digits";
  return [
    `${digits.length} ${kind}`,
    ...(inner === undefined ? [] : ["inside b'...'"]),
    ...(isMarked ? ["after 0x"] : []),
    ...(digits.length < written.length ? ["with blanks or marks between"] : []),
    ...(/[a-f]/.test(digits) ? ["lower case"] : []),
  ].join(", ");
}
