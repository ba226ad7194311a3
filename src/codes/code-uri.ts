import { canonicalCode, fewestEpcDigits } from "./canonical-code.ts";
import { type Field, readField } from "./code-fields.ts";
import {
  type CodingScheme,
  codingSchemes,
  filterBits,
  partitionBits,
  prefixWidths,
} from "./coding-schemes.ts";

/**
 * The URI of a tag's code: the pure identity URI of a code of the EPC Tag Data Standard, which names the thing whatever filter
 * and length its tag uses; the raw URI of any other hexadecimal code; null for a label. Never an error: most tags in the field
 * carry no such code.
 *
 * Edges: a code with the header of a scheme and a body that breaks the scheme's rules is raw; so is one that is shorter
 * than its scheme. Zero bits after the scheme's length are left off (memory comes in words of 16 bits, and a reader may report
 * a longer length than the code has); any other bit there makes it raw. The header alone proves nothing, so random bits may
 * decode.
 *
 * Source: GS1 EPC Tag Data Standard, EPC binary coding table, decoding methods and Annex E.3 (quoted by public test suites);
 * GS1 Tag Data Translation 2.0 scheme files (read).
 * Worked example: 3034257BF40C0E40000F4245 is urn:epc:id:sgtin:0614141.012345.1000005.
 */
export function codeUri(tag: string): string | null {
  const code = canonicalCode(tag);
  if (code.kind !== "hex" || code.code.length < fewestEpcDigits) return null;
  const hex = code.code;
  return identityUri(hex) ?? `urn:epc:raw:${hex.length * 4}.x${hex}`;
}

const headerBits = 8;

/** The pure identity URI of a code in upper-case hexadecimal; null where it is of no scheme. */
function identityUri(hex: string): string | null {
  const scheme = codingSchemes.get(hex.slice(0, 2));
  if (scheme === undefined) return null;
  const bits = [...hex].map((digit) => Number.parseInt(digit, 16).toString(2).padStart(4, "0")).join("");
  const layout = fieldsOf(scheme, bits);
  if (layout === null) return null;
  const parts: string[] = [];
  let at = layout.start;
  for (const field of layout.fields) {
    const read = readField(field, bits, at);
    if (read === null) return null;
    if (read.text !== null) parts.push(read.text);
    at = read.end;
  }
  return bits.includes("1", at) ? null : `urn:epc:id:${scheme.identity}:${parts.join(".")}`;
}

/** The fields of a code and where the first one begins; null for a partition that is reserved. */
function fieldsOf(
  { fields, isPartitioned }: CodingScheme,
  bits: string,
): { fields: Field[]; start: number } | null {
  if (!isPartitioned) return { fields: fields.map((field) => field(noPrefix)), start: headerBits };
  const partitionAt = headerBits + filterBits;
  const start = partitionAt + partitionBits;
  const prefix = prefixWidths[Number.parseInt(bits.slice(partitionAt, start), 2)];
  if (prefix === undefined) return null;
  return { fields: [{ kind: "digits", ...prefix }, ...fields.map((field) => field(prefix))], start };
}

const noPrefix = { bits: 0, digits: 0 };
