import { type FieldText, fieldText } from "./gs1-field.ts";
import {
  type Gs1Field,
  type Gs1Scheme,
  type Gs1SchemeName,
  prefixWidths,
  schemeByHeader,
} from "./gs1-schemes.ts";

/** What a tag's code says about itself. */
export type TagIdentity =
  | {
      kind: "gs1";
      scheme: Gs1SchemeName;
      /** `urn:epc:tag:...`: everything on the tag, the filter value too. */
      tagUri: string;
      /** `urn:epc:id:...`: the thing that is tagged, whatever filter and scheme length the tag uses. */
      identityUri: string;
      /** What a person should know of how the code was written; null where there is nothing. */
      note: string | null;
    }
  | {
      /** Bits that are no GS1 code, as most tags in the field carry them: nothing wrong with that. */
      kind: "raw";
      /** `urn:epc:raw:LENGTH.xHEX`, LENGTH in bits. */
      uri: string;
      reason: string;
    }
  /** Not hexadecimal at all, such as a label typed by hand: there are no bits to name. */
  | { kind: "text"; reason: string };

/**
 * Decodes a tag's EPC by the GS1 EPC Tag Data Standard.
 *
 * @param code the EPC bits, from the header on, as hexadecimal text (`canonicalCode` makes it); either case, any length
 *
 * Never throws and never refuses: a code with the header of a GS1 scheme and a body that breaks the scheme's rules is raw
 * too, and `reason` says which rule. Edges: bits after the scheme's length must be zero, and are left off, with a note where
 * they are more than fill the last 16-bit word (a reader reported a longer length than the code has); a code shorter than its
 * scheme is raw; the header alone proves nothing, so random bits may decode.
 *
 * Source: GS1 EPC Tag Data Standard, EPC binary coding table and Annex E.3 (quoted by public test suites); GS1 Tag Data
 * Translation 2.0 scheme files (read).
 * Worked example: 3034257BF40C0E40000F4245 is urn:epc:tag:sgtin-96:1.0614141.012345.1000005, of the thing
 * urn:epc:id:sgtin:0614141.012345.1000005.
 */
export function tagIdentity(code: string): TagIdentity {
  if (!/^[0-9A-Fa-f]+$/.test(code)) return { kind: "text", reason: "not hexadecimal" };
  const hex = code.toUpperCase();
  const raw = (reason: string): TagIdentity => ({
    kind: "raw",
    uri: `urn:epc:raw:${hex.length * 4}.x${hex}`,
    reason,
  });
  const scheme = schemeByHeader.get(hex.slice(0, 2));
  if (scheme === undefined) {
    return raw(headerReason(hex));
  }
  const bits = bitsOf(hex);
  const surplus = bits.slice(scheme.bits);
  if (bits.length < scheme.bits) {
    return raw(`${scheme.name} takes ${scheme.bits} bits, the code has ${bits.length}`);
  }
  if (surplus.includes("1")) {
    return raw(`${scheme.name} takes ${scheme.bits} bits, and those after them are not all zero`);
  }
  const body = bodyTexts(scheme, bits.slice(8, scheme.bits));
  if (body.fault !== null) return raw(`not ${scheme.name}: ${body.fault}`);
  return {
    kind: "gs1",
    scheme: scheme.name,
    tagUri: `urn:epc:tag:${scheme.name.toLowerCase()}:${body.texts.join(".")}`,
    identityUri: `urn:epc:id:${scheme.identity}:${body.texts.slice(scheme.partitioned ? 1 : 0).join(".")}`,
    note: surplusNote(scheme, bits.length),
  };
}

function headerReason(hex: string): string {
  if (hex.length < 2) return "too short for a header";
  if (hex.startsWith("00")) return "header 00h marks a tag without a code of its own";
  return `header ${hex.slice(0, 2)}h is none of the GS1 schemes that are decoded`;
}

function bitsOf(hex: string): string {
  let bits = "";
  for (const digit of hex) bits += Number.parseInt(digit, 16).toString(2).padStart(4, "0");
  return bits;
}

/** Tag memory comes in words of 16 bits, so that a scheme's last word is rightly filled with zeros. */
function surplusNote(scheme: Gs1Scheme, length: number): string | null {
  if (length <= Math.ceil(scheme.bits / 16) * 16) return null;
  const left = length - scheme.bits;
  return `${scheme.name} takes ${scheme.bits} bits, the reader reported ${length}; ${left} zero bits were left off`;
}

type BodyTexts = { fault: null; texts: string[] } | { fault: string };

/** The parts of a URI, from the filter on where the scheme has one. */
function bodyTexts(scheme: Gs1Scheme, body: string): BodyTexts {
  if (!scheme.partitioned) return joinedTexts(scheme.fields({ bits: 0, digits: 0 }), body, []);
  const filter = Number.parseInt(body.slice(0, 3), 2);
  const partition = Number.parseInt(body.slice(3, 6), 2);
  const prefix = prefixWidths[partition];
  if (prefix === undefined) return { fault: `partition ${partition} is reserved` };
  const prefixField: Gs1Field = { kind: "digits", name: "company prefix", ...prefix };
  return joinedTexts([prefixField, ...scheme.fields(prefix)], body.slice(6), [String(filter)]);
}

function joinedTexts(fields: readonly Gs1Field[], bits: string, before: readonly string[]): BodyTexts {
  const texts = [...before];
  let at = 0;
  for (const field of fields) {
    const read: FieldText = fieldText(field, bits.slice(at, at + field.bits));
    if (read.fault !== null) return { fault: read.fault };
    if (read.text !== null) texts.push(read.text);
    at += field.bits;
  }
  return { fault: null, texts };
}
