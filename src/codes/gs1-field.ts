import type { Gs1Field } from "./gs1-schemes.ts";

/** What a field holds as a URI writes it (null for a part that no URI shows), or what is wrong with it. */
export type FieldText = { fault: null; text: string | null } | { fault: string };

/** Characters that a serial may hold (82 of them) and, of these, those that a URI percent-escapes. */
const allowed = /^[!"%&'()*+,\-./0-9:;<=>?A-Z_a-z]$/;
const escaped = /["%&/<>?]/g;

/**
 * Reads one field of a GS1 code.
 *
 * @param bits exactly `field.bits` characters, each 0 or 1
 *
 * Edges: a number of no digits must be zero and is the empty text; a number that fits its bits but not its digits is a
 * fault; a text may not be empty, hold a character outside the 82 of GS1, go on after its terminating NUL, or be
 * longer than the key allows even where bits are left.
 *
 * Source: GS1 EPC Tag Data Standard, decoding methods "Integer", "String" and "Partition table", and the table of
 * characters of serial numbers with their URI forms (the escapes quoted by public test suites, the 82 from memory).
 * Worked example: 0110011 0110010 1100001 0100101 0101111 1100010 and zeros make `32a%25%2Fb`.
 */
export function fieldText(field: Gs1Field, bits: string): FieldText {
  switch (field.kind) {
    case "reserved":
      return bits.includes("1")
        ? { fault: `the ${field.name} of ${field.bits} bits is not all zero` }
        : { fault: null, text: null };
    case "number":
      return { fault: null, text: integerOf(bits).toString() };
    case "digits":
      return digitsText(field, integerOf(bits));
    case "text":
      return charactersText(field, bits);
  }
}

/** Fields reach 62 bits, which only a BigInt holds exactly. */
function integerOf(bits: string): bigint {
  return BigInt(`0b${bits}`);
}

function digitsText(field: Gs1Field & { kind: "digits" }, value: bigint): FieldText {
  if (value >= 10n ** BigInt(field.digits)) {
    const room = field.digits === 0 ? "must be zero here" : `has more than ${field.digits} digits`;
    return { fault: `${field.name} ${value} ${room}` };
  }
  return { fault: null, text: field.digits === 0 ? "" : value.toString().padStart(field.digits, "0") };
}

function charactersText(field: Gs1Field & { kind: "text" }, bits: string): FieldText {
  let text = "";
  for (let at = 0; at + 7 <= bits.length; at += 7) {
    const code = Number.parseInt(bits.slice(at, at + 7), 2);
    if (code === 0) {
      if (bits.includes("1", at)) return { fault: `the ${field.name} goes on after its end` };
      break;
    }
    const character = String.fromCharCode(code);
    if (!allowed.test(character)) {
      const shown = code.toString(16).toUpperCase().padStart(2, "0");
      return { fault: `the ${field.name} holds character ${shown}h, which GS1 does not allow` };
    }
    text += character;
  }
  if (text === "") return { fault: `the ${field.name} is empty` };
  if (text.length > field.mostCharacters) {
    return { fault: `the ${field.name} has more than ${field.mostCharacters} characters` };
  }
  return { fault: null, text: text.replace(escaped, escapedForm) };
}

function escapedForm(character: string): string {
  return `%${character.charCodeAt(0).toString(16).toUpperCase().padStart(2, "0")}`;
}
