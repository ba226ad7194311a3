/**
 * Encodes GS1 codes from the coding tables written out in full, so that the decoder's shortcuts are not repeated here.
 *
 * Source: GS1 Tag Data Translation 2.0 scheme files (read); GS1 EPC Tag Data Standard 1.13, coding tables: those of GSRNP, GDTI,
 * SGCN, SGLN-195, ITIP, CPI, USDOD and ADI from memory, in agreement with the quoted codes in encodings.csv.
 */
const prefixBits = [40, 37, 34, 30, 27, 24, 20];
const prefixDigits = [12, 11, 10, 9, 8, 7, 6];

interface Reference {
  bits: number[];
  digits: number[];
}

const item: Reference = { bits: [4, 7, 10, 14, 17, 20, 24], digits: [1, 2, 3, 4, 5, 6, 7] };
const asset: Reference = { bits: [4, 7, 10, 14, 17, 20, 24], digits: [0, 1, 2, 3, 4, 5, 6] };
const location: Reference = { bits: [1, 4, 7, 11, 14, 17, 21], digits: [0, 1, 2, 3, 4, 5, 6] };
const serial: Reference = { bits: [18, 21, 24, 28, 31, 34, 38], digits: [5, 6, 7, 8, 9, 10, 11] };
const assetNumberBits = [42, 45, 48, 52, 55, 58, 62];
const assetTextBits = [148, 151, 154, 158, 161, 164, 168];
const assetCharacters = [18, 19, 20, 21, 22, 23, 24];

export interface CodingTable {
  name: string;
  header: number;
  reference: Reference | null;
  tail: (partition: number) => {
    kind: "number" | "text" | "digits" | "zeros";
    bits: number;
    characters: number;
  };
}

const number = (bits: number) => () => ({ kind: "number" as const, bits, characters: 0 });
const text = (bits: number, characters: number) => () => ({ kind: "text" as const, bits, characters });
const digits = (bits: number, characters: number) => () => ({ kind: "digits" as const, bits, characters });
const zeros = () => ({ kind: "zeros" as const, bits: 24, characters: 0 });

export const codingTables: CodingTable[] = [
  { name: "sgtin-96", header: 0x30, reference: item, tail: number(38) },
  { name: "sscc-96", header: 0x31, reference: serial, tail: zeros },
  { name: "sgln-96", header: 0x32, reference: location, tail: number(41) },
  { name: "grai-96", header: 0x33, reference: asset, tail: number(38) },
  { name: "giai-96", header: 0x34, reference: null, tail: (p) => number(assetNumberBits[p]!)() },
  { name: "gsrn-96", header: 0x2d, reference: serial, tail: zeros },
  { name: "gsrnp-96", header: 0x2e, reference: serial, tail: zeros },
  { name: "gdti-96", header: 0x2c, reference: location, tail: number(41) },
  { name: "gdti-113", header: 0x3a, reference: location, tail: digits(58, 17) },
  { name: "gdti-174", header: 0x3e, reference: location, tail: text(119, 17) },
  { name: "sgcn-96", header: 0x3f, reference: location, tail: digits(41, 12) },
  { name: "sgln-195", header: 0x39, reference: location, tail: text(140, 20) },
  { name: "sgtin-198", header: 0x36, reference: item, tail: text(140, 20) },
  { name: "grai-170", header: 0x37, reference: asset, tail: text(112, 16) },
  {
    name: "giai-202",
    header: 0x38,
    reference: null,
    tail: (p) => text(assetTextBits[p]!, assetCharacters[p]!)(),
  },
];

/** The 82 characters of GS1 serial numbers (from memory), each with its form in a URI. */
export const serialCharacters: ReadonlyMap<string, string> = new Map([
  ...[..."!'()*+,-.0123456789:;=ABCDEFGHIJKLMNOPQRSTUVWXYZ_abcdefghijklmnopqrstuvwxyz"].map(
    (character): [string, string] => [character, character],
  ),
  ['"', "%22"],
  ["%", "%25"],
  ["&", "%26"],
  ["/", "%2F"],
  ["<", "%3C"],
  [">", "%3E"],
  ["?", "%3F"],
]);

export interface Parts {
  filter: number;
  partition: number;
  /** Reduced to the digits that the partition leaves. */
  prefix: bigint;
  reference: bigint;
  serial: bigint;
  characters: string[];
  digits: string;
}

/** The code and the pure identity URI that these parts make. */
export function encoded(table: CodingTable, parts: Parts): { hex: string; identityUri: string } {
  const { partition } = parts;
  let bits = binary(BigInt(table.header), 8) + binary(BigInt(parts.filter), 3) + binary(BigInt(partition), 3);
  const words: string[] = [];
  const put = (value: bigint, width: number, digits: number) => {
    const kept = value % 10n ** BigInt(digits);
    bits += binary(kept, width);
    words.push(digits === 0 ? "" : kept.toString().padStart(digits, "0"));
  };
  put(parts.prefix, prefixBits[partition]!, prefixDigits[partition]!);
  if (table.reference !== null) {
    put(parts.reference, table.reference.bits[partition]!, table.reference.digits[partition]!);
  }
  const tail = table.tail(partition);
  if (tail.kind === "zeros") bits += "0".repeat(tail.bits);
  if (tail.kind === "number") {
    const kept = parts.serial % 2n ** BigInt(tail.bits);
    bits += binary(kept, tail.bits);
    words.push(kept.toString());
  }
  if (tail.kind === "digits") {
    const kept = parts.digits.slice(0, tail.characters);
    bits += binary(BigInt(`1${kept}`), tail.bits);
    words.push(kept);
  }
  if (tail.kind === "text") {
    const kept = parts.characters.slice(0, tail.characters);
    const written = kept.map((character) => binary(BigInt(character.charCodeAt(0)), 7)).join("");
    bits += written.padEnd(tail.bits, "0");
    words.push(kept.map((character) => serialCharacters.get(character)!).join(""));
  }
  const identity = table.name.replace(/-\d+$/, "");
  return {
    hex: hexWords(bits),
    identityUri: `urn:epc:id:${identity}:${words.join(".")}`,
  };
}

/** Bits of a code that is written field by field, each in as many bits as it says. */
export function fieldBits(...fields: [value: bigint | number, width: number][]): string {
  return fields.map(([value, width]) => binary(BigInt(value), width)).join("");
}

/** Characters of six bits each, and the six zero bits that end them. */
export function sixBits(text: string): string {
  return `${[...text].map((character) => binary(BigInt(character.charCodeAt(0) & 0x3f), 6)).join("")}000000`;
}

function binary(value: bigint, width: number): string {
  return value.toString(2).padStart(width, "0");
}

/** Filled with zeros to whole words of 16 bits, as tag memory is. */
export function hexWords(bits: string): string {
  const words = Math.ceil(bits.length / 16);
  return BigInt(`0b${bits.padEnd(words * 16, "0")}`)
    .toString(16)
    .toUpperCase()
    .padStart(words * 4, "0");
}
