import { canonicalCode, fewestEpcDigits } from "./canonical-code.ts";

/**
 * The URI of a tag's code: the pure identity URI of a GS1 code, which names the thing whatever filter and length its tag
 * uses; the raw URI of any other hexadecimal code; null for a label. Never an error: most tags in the field carry no GS1
 * code.
 *
 * Edges: a code with the header of a GS1 scheme and a body that breaks the scheme's rules is raw; so is one that is shorter
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

/** A part of a GS1 code, as wide as the partition leaves it. */
type Field =
  /** A number of a fixed count of decimal digits, leading zeros kept; without digits it must be zero. */
  | { kind: "digits"; bits: number; digits: number }
  /** A number without leading zeros. */
  | { kind: "number"; bits: number }
  /** Characters of seven bits, ended by seven zero bits where they do not fill the field. */
  | { kind: "text"; bits: number; mostCharacters: number }
  /** Bits that must be zero and stand for nothing. */
  | { kind: "reserved"; bits: number };

/** How wide the company prefix is. */
interface PrefixWidth {
  bits: number;
  digits: number;
}

/** A binary coding scheme such as SGTIN-96, of the identity `sgtin` in 96 bits. */
interface Scheme {
  identity: string;
  bits: number;
  /** Filter (3 bits), partition (3 bits) and company prefix stand before these fields; not so in a general identifier. */
  fields: (prefix: PrefixWidth) => Field[];
}

/** Company prefix by partition value 0 to 6; partition 7 is reserved. */
const prefixWidths: readonly PrefixWidth[] = [
  { bits: 40, digits: 12 },
  { bits: 37, digits: 11 },
  { bits: 34, digits: 10 },
  { bits: 30, digits: 9 },
  { bits: 27, digits: 8 },
  { bits: 24, digits: 7 },
  { bits: 20, digits: 6 },
];

/** Company prefix and the reference after it share a fixed room in every partition, in bits and in digits. */
const reference =
  (sharedBits: number, sharedDigits: number) =>
  (prefix: PrefixWidth): Field => ({
    kind: "digits",
    bits: sharedBits - prefix.bits,
    digits: sharedDigits - prefix.digits,
  });
const itemReference = reference(44, 13);
const assetType = reference(44, 12);
const locationReference = reference(41, 12);
const serialReference = reference(58, 17);
const number = (bits: number): Field => ({ kind: "number", bits });
const text = (bits: number, mostCharacters: number): Field => ({ kind: "text", bits, mostCharacters });
const reserved: Field = { kind: "reserved", bits: 24 };

const generalIdentifier = "35";

/**
 * The schemes by header, their first eight bits. The most characters are those of the GS1 keys: serial of a GTIN 20, of a
 * GRAI 16, a GIAI 30 with its prefix (from memory).
 */
const schemes = new Map<string, Scheme>([
  ["2D", { identity: "gsrn", bits: 96, fields: (prefix) => [serialReference(prefix), reserved] }],
  ["30", { identity: "sgtin", bits: 96, fields: (prefix) => [itemReference(prefix), number(38)] }],
  ["31", { identity: "sscc", bits: 96, fields: (prefix) => [serialReference(prefix), reserved] }],
  ["32", { identity: "sgln", bits: 96, fields: (prefix) => [locationReference(prefix), number(41)] }],
  ["33", { identity: "grai", bits: 96, fields: (prefix) => [assetType(prefix), number(38)] }],
  ["34", { identity: "giai", bits: 96, fields: (prefix) => [number(82 - prefix.bits)] }],
  [generalIdentifier, { identity: "gid", bits: 96, fields: () => [number(28), number(24), number(36)] }],
  ["36", { identity: "sgtin", bits: 198, fields: (prefix) => [itemReference(prefix), text(140, 20)] }],
  ["37", { identity: "grai", bits: 170, fields: (prefix) => [assetType(prefix), text(112, 16)] }],
  ["38", { identity: "giai", bits: 202, fields: (prefix) => [text(188 - prefix.bits, 30 - prefix.digits)] }],
]);

/** The pure identity URI of a GS1 code in upper-case hexadecimal; null where it is not one. */
function identityUri(hex: string): string | null {
  const header = hex.slice(0, 2);
  const scheme = schemes.get(header);
  if (scheme === undefined) return null;
  const bits = [...hex].map((digit) => Number.parseInt(digit, 16).toString(2).padStart(4, "0")).join("");
  if (bits.length < scheme.bits || bits.includes("1", scheme.bits)) return null;
  const partition = Number.parseInt(bits.slice(11, 14), 2);
  const isPartitioned = header !== generalIdentifier;
  const prefix = isPartitioned ? prefixWidths[partition] : { bits: 0, digits: 0 };
  if (prefix === undefined) return null;
  const fields: Field[] = isPartitioned ? [{ kind: "digits", ...prefix }] : [];
  const parts: string[] = [];
  let at = isPartitioned ? 14 : 8;
  for (const field of [...fields, ...scheme.fields(prefix)]) {
    const part = fieldText(field, bits.slice(at, at + field.bits));
    if (part === null) return null;
    if (field.kind !== "reserved") parts.push(part);
    at += field.bits;
  }
  return `urn:epc:id:${scheme.identity}:${parts.join(".")}`;
}

/** What a field holds as a URI writes it; null where its bits break the rules of the field. */
function fieldText(field: Field, bits: string): string | null {
  // Fields reach 62 bits, which only a BigInt holds exactly.
  const integer = BigInt(`0b${bits}`);
  switch (field.kind) {
    case "reserved":
      return integer === 0n ? "" : null;
    case "number":
      return integer.toString();
    case "digits":
      if (integer >= 10n ** BigInt(field.digits)) return null;
      return field.digits === 0 ? "" : integer.toString().padStart(field.digits, "0");
    case "text":
      return charactersText(bits, field.mostCharacters);
  }
}

/** The 82 characters that a serial may hold (from memory) and, of these, those that a URI percent-escapes (quoted). */
const allowed = /^[!"%&'()*+,\-./0-9:;<=>?A-Z_a-z]+$/;
const escaped = /["%&/<>?]/g;

/** Worked example: 0110011 0110010 1100001 0100101 0101111 1100010 and zeros make `32a%25%2Fb`. */
function charactersText(bits: string, mostCharacters: number): string | null {
  let text = "";
  for (let at = 0; at + 7 <= bits.length; at += 7) {
    const code = Number.parseInt(bits.slice(at, at + 7), 2);
    if (code !== 0) text += String.fromCharCode(code);
    // A text ends with its first zero character: nothing may follow.
    else if (bits.includes("1", at)) return null;
    else break;
  }
  if (!allowed.test(text) || text.length > mostCharacters) return null;
  return text.replace(escaped, (character) => `%${character.charCodeAt(0).toString(16).toUpperCase()}`);
}
