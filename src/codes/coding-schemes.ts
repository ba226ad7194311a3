import type { Field } from "./code-fields.ts";

/** How wide the company prefix is. */
interface PrefixWidth {
  bits: number;
  digits: number;
}

/** A binary coding scheme such as SGTIN-96: what a code holds after its header of eight bits. */
export interface CodingScheme {
  /** `sgtin`. */
  identity: string;
  /** The fields after the partition, where the scheme has one; all of them where it has none. */
  fields: readonly ((prefix: PrefixWidth) => Field)[];
  /** Whether filter (3 bits), partition (3 bits) and company prefix stand before the fields. */
  isPartitioned: boolean;
}

export const filterBits = 3;
export const partitionBits = 3;

/** Company prefix by partition value 0 to 6; partition 7 is reserved. */
export const prefixWidths: readonly PrefixWidth[] = [
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
/** Of locations, documents and coupons alike. */
const shortReference = reference(41, 12);
const serialReference = reference(58, 17);
const partNumber = (prefix: PrefixWidth): Field => ({
  kind: "number",
  bits: 51 - prefix.bits,
  mostDigits: 15 - prefix.digits,
});

const always = (field: Field) => () => field;
const number = (bits: number, mostDigits?: number) => always({ kind: "number", bits, mostDigits });
const text = (bits: number, mostCharacters: number) => always({ kind: "text", bits, mostCharacters });
const digitText = (bits: number, mostDigits: number) => always({ kind: "digit-text", bits, mostDigits });
const pieceOfTotal = always({ kind: "digits", bits: 7, digits: 2 });
const reserved = always({ kind: "reserved", bits: 24 });

const partitioned = (identity: string, ...fields: CodingScheme["fields"]): CodingScheme => ({
  identity,
  fields,
  isPartitioned: true,
});
const unpartitioned = (identity: string, ...fields: CodingScheme["fields"]): CodingScheme => ({
  identity,
  fields,
  isPartitioned: false,
});

/**
 * The schemes by header, their first eight bits.
 *
 * Source: GS1 EPC Tag Data Standard 1.13, EPC binary coding tables. Schemes 2D and 30 to 38: GS1 Tag Data Translation 2.0
 * scheme files (read). The others, and the most characters of each key (serial of a GTIN 20, of a GRAI 16, of a GDTI 17, a
 * GIAI 30 with its prefix): from memory, in agreement with the codes that public test suites quote from Annex E.3.
 */
export const codingSchemes: ReadonlyMap<string, CodingScheme> = new Map([
  ["2C", partitioned("gdti", shortReference, number(41))],
  ["2D", partitioned("gsrn", serialReference, reserved)],
  ["2E", partitioned("gsrnp", serialReference, reserved)],
  [
    "2F",
    unpartitioned(
      "usdod",
      always({ kind: "filter", bits: 4 }),
      always({ kind: "office", bitsPerCharacter: 8 }),
      number(36),
    ),
  ],
  ["30", partitioned("sgtin", itemReference, number(38))],
  ["31", partitioned("sscc", serialReference, reserved)],
  ["32", partitioned("sgln", shortReference, number(41))],
  ["33", partitioned("grai", assetType, number(38))],
  ["34", partitioned("giai", (prefix) => ({ kind: "number", bits: 82 - prefix.bits }))],
  ["35", unpartitioned("gid", number(28), number(24), number(36))],
  ["36", partitioned("sgtin", itemReference, text(140, 20))],
  ["37", partitioned("grai", assetType, text(112, 16))],
  [
    "38",
    partitioned("giai", (prefix) => ({
      kind: "text",
      bits: 188 - prefix.bits,
      mostCharacters: 30 - prefix.digits,
    })),
  ],
  ["39", partitioned("sgln", shortReference, text(140, 20))],
  ["3A", partitioned("gdti", shortReference, digitText(58, 17))],
  [
    "3B",
    unpartitioned(
      "adi",
      always({ kind: "filter", bits: 6 }),
      always({ kind: "office", bitsPerCharacter: 6 }),
      always({ kind: "short-text", mostCharacters: 32, allowed: /^[-/0-9A-Z]*$/ }),
      always({ kind: "short-text", mostCharacters: 30, allowed: /^#?[-/0-9A-Z]+$/ }),
    ),
  ],
  ["3C", partitioned("cpi", partNumber, number(31))],
  [
    "3D",
    partitioned(
      "cpi",
      (prefix) => ({
        kind: "short-text",
        mostCharacters: 30 - prefix.digits,
        allowed: /^[-#/0-9A-Z]+$/,
      }),
      number(40, 12),
    ),
  ],
  ["3E", partitioned("gdti", shortReference, text(119, 17))],
  ["3F", partitioned("sgcn", shortReference, digitText(41, 12))],
  ["40", partitioned("itip", itemReference, pieceOfTotal, pieceOfTotal, number(38))],
  ["41", partitioned("itip", itemReference, pieceOfTotal, pieceOfTotal, text(140, 20))],
]);
