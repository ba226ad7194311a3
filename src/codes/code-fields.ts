/** A part of a code after its header, and what it may hold. */
export type Field =
  /** A number of a fixed count of decimal digits, leading zeros kept; without digits it must be zero. */
  | { kind: "digits"; bits: number; digits: number }
  /** A number without leading zeros, perhaps of at most so many digits. */
  | { kind: "number"; bits: number; mostDigits?: number | undefined }
  /** A text of digits, leading zeros kept: a number with a 1 written in front of it. */
  | { kind: "digit-text"; bits: number; mostDigits: number }
  /** Characters of seven bits, ended by seven zero bits where they do not fill the field. */
  | { kind: "text"; bits: number; mostCharacters: number }
  /** Characters of six bits, ended by six zero bits always. */
  | { kind: "short-text"; mostCharacters: number; allowed: RegExp }
  /** The six characters that name a company or an office to the US Department of Defense; five have a blank in front. */
  | { kind: "office"; bitsPerCharacter: 6 | 8 }
  /** Bits that say how the code is used, and do not name the thing. */
  | { kind: "filter"; bits: number }
  /** Bits that must be zero and stand for nothing. */
  | { kind: "reserved"; bits: number };

/** What a field holds, as a URI writes it, and where the next field begins. */
interface FieldText {
  /** Null for a field that a URI leaves out. */
  text: string | null;
  end: number;
}

/**
 * Reads one field of a code.
 *
 * @param bits the whole code in binary digits
 * @param at where the field begins
 * @returns null where the bits break the rules of the field, or end before it does
 */
export function readField(field: Field, bits: string, at: number): FieldText | null {
  if (field.kind === "short-text") return shortText(field, bits, at);
  const end = at + (field.kind === "office" ? officeCharacters * field.bitsPerCharacter : field.bits);
  if (end > bits.length) return null;
  const own = bits.slice(at, end);
  switch (field.kind) {
    case "filter":
      return { text: null, end };
    case "reserved":
      return own.includes("1") ? null : { text: null, end };
    case "text":
      return ended(charactersText(own, field.mostCharacters), end);
    case "office":
      return ended(officeText(own, field.bitsPerCharacter), end);
    default:
      // Fields reach 62 bits, which only a BigInt holds exactly.
      return ended(numberText(field, BigInt(`0b${own}`)), end);
  }
}

function ended(text: string | null, end: number): FieldText | null {
  return text === null ? null : { text, end };
}

type NumberField = Extract<Field, { kind: "digits" | "number" | "digit-text" }>;

/** Worked example: the digit-text 1006847 is 006847. */
function numberText(field: NumberField, value: bigint): string | null {
  const written = value.toString();
  switch (field.kind) {
    case "digits":
      if (field.digits === 0) return value === 0n ? "" : null;
      return written.length > field.digits ? null : written.padStart(field.digits, "0");
    case "number":
      return written.length > (field.mostDigits ?? Number.POSITIVE_INFINITY) ? null : written;
    case "digit-text":
      return /^1\d+$/.test(written) && written.length <= field.mostDigits + 1 ? written.slice(1) : null;
  }
}

/** The 82 characters that a serial may hold (from memory), and all those that a URI percent-escapes (quoted). */
const serialCharacters = /^[!"%&'()*+,\-./0-9:;<=>?A-Z_a-z]+$/;
const escaped = /["#%&/<>?]/g;

function percentEscaped(text: string): string {
  return text.replace(escaped, (character) => `%${character.charCodeAt(0).toString(16).toUpperCase()}`);
}

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
  if (!serialCharacters.test(text) || text.length > mostCharacters) return null;
  return percentEscaped(text);
}

/** The character of ASCII whose six lower bits these are: of its two halves, letters come from the upper one. */
function sixBitCharacter(bits: string): string {
  const code = Number.parseInt(bits, 2);
  return String.fromCharCode(code < 0x20 ? code + 0x40 : code);
}

/** Worked example: 110101 010000 010001 110111 101111 and 000000 make `5PQ7%2F`. */
function shortText(
  { mostCharacters, allowed }: Extract<Field, { kind: "short-text" }>,
  bits: string,
  at: number,
): FieldText | null {
  let text = "";
  let next = at;
  for (; bits.slice(next, next + 6) !== "000000"; next += 6) {
    if (next + 6 > bits.length || text.length === mostCharacters) return null;
    text += sixBitCharacter(bits.slice(next, next + 6));
  }
  return allowed.test(text) ? { text: percentEscaped(text), end: next + 6 } : null;
}

const officeCharacters = 6;

/** Worked example: in eight bits each, ` CAGEY` is `CAGEY`. */
function officeText(bits: string, bitsPerCharacter: 6 | 8): string | null {
  let text = "";
  for (let at = 0; at < bits.length; at += bitsPerCharacter) {
    const own = bits.slice(at, at + bitsPerCharacter);
    text += bitsPerCharacter === 6 ? sixBitCharacter(own) : String.fromCharCode(Number.parseInt(own, 2));
  }
  // The letters I and O are not used, since they look like digits.
  return /^[ 0-9A-HJ-NP-Z][0-9A-HJ-NP-Z]{5}$/.test(text) ? text.trimStart() : null;
}
