/** A part of a GS1 code after its header, as wide as the partition leaves it. */
export type Gs1Field =
  /** A number of a fixed count of decimal digits, leading zeros kept; no digits at all is an empty part. */
  | { kind: "digits"; name: string; bits: number; digits: number }
  /** A number without leading zeros. */
  | { kind: "number"; name: string; bits: number }
  /** Characters of seven bits, ended by seven zero bits where they do not fill the field. */
  | { kind: "text"; name: string; bits: number; mostCharacters: number }
  /** Bits that must be zero and stand for nothing. */
  | { kind: "reserved"; name: string; bits: number };

/** How wide the company prefix is. */
export interface PrefixWidth {
  bits: number;
  digits: number;
}

/**
 * A binary coding scheme: `header` is its first eight bits as two hexadecimal digits, `bits` its whole length.
 * Where `partitioned`, filter (3 bits), partition (3 bits) and company prefix stand between header and `fields`.
 */
export interface Gs1Scheme {
  name: Gs1SchemeName;
  header: string;
  bits: number;
  /** The scheme's name in a pure identity URI. */
  identity: string;
  partitioned: boolean;
  fields: (prefix: PrefixWidth) => Gs1Field[];
}

export type Gs1SchemeName =
  | "SGTIN-96"
  | "SSCC-96"
  | "SGLN-96"
  | "GRAI-96"
  | "GIAI-96"
  | "GSRN-96"
  | "GID-96"
  | "SGTIN-198"
  | "GRAI-170"
  | "GIAI-202";

/**
 * Company prefix by partition value 0 to 6; partition 7 is reserved.
 *
 * Source: GS1 EPC Tag Data Standard, partition tables; GS1 Tag Data Translation 2.0 scheme files (read).
 */
export const prefixWidths: readonly PrefixWidth[] = [
  { bits: 40, digits: 12 },
  { bits: 37, digits: 11 },
  { bits: 34, digits: 10 },
  { bits: 30, digits: 9 },
  { bits: 27, digits: 8 },
  { bits: 24, digits: 7 },
  { bits: 20, digits: 6 },
];

// Company prefix and the reference after it share a fixed room in every partition, in bits and in digits.
const reference =
  (name: string, sharedBits: number, sharedDigits: number) =>
  (prefix: PrefixWidth): Gs1Field => ({
    kind: "digits",
    name,
    bits: sharedBits - prefix.bits,
    digits: sharedDigits - prefix.digits,
  });
const itemReference = reference("item reference", 44, 13);
const assetType = reference("asset type", 44, 12);
const locationReference = reference("location reference", 41, 12);
const serialReference = reference("serial reference", 58, 17);
const serviceReference = reference("service reference", 58, 17);
const number = (name: string, bits: number): Gs1Field => ({ kind: "number", name, bits });
const text = (name: string, bits: number, mostCharacters: number): Gs1Field => ({
  kind: "text",
  name,
  bits,
  mostCharacters,
});
const reserved: Gs1Field = { kind: "reserved", name: "reserved part", bits: 24 };

/**
 * The schemes that are decoded, in the order of their headers.
 *
 * Source: GS1 EPC Tag Data Standard, coding tables; GS1 Tag Data Translation 2.0 scheme files (read). The greatest
 * counts of characters are those of the GS1 keys: serial of a GTIN 20, of a GRAI 16, a GIAI 30 with its prefix (from memory).
 */
const all: readonly Gs1Scheme[] = [
  {
    ...{ name: "GSRN-96", header: "2D", bits: 96, identity: "gsrn", partitioned: true },
    fields: (prefix) => [serviceReference(prefix), reserved],
  },
  {
    ...{ name: "SGTIN-96", header: "30", bits: 96, identity: "sgtin", partitioned: true },
    fields: (prefix) => [itemReference(prefix), number("serial number", 38)],
  },
  {
    ...{ name: "SSCC-96", header: "31", bits: 96, identity: "sscc", partitioned: true },
    fields: (prefix) => [serialReference(prefix), reserved],
  },
  {
    ...{ name: "SGLN-96", header: "32", bits: 96, identity: "sgln", partitioned: true },
    fields: (prefix) => [locationReference(prefix), number("extension", 41)],
  },
  {
    ...{ name: "GRAI-96", header: "33", bits: 96, identity: "grai", partitioned: true },
    fields: (prefix) => [assetType(prefix), number("serial number", 38)],
  },
  {
    ...{ name: "GIAI-96", header: "34", bits: 96, identity: "giai", partitioned: true },
    fields: (prefix) => [number("asset reference", 82 - prefix.bits)],
  },
  {
    ...{ name: "GID-96", header: "35", bits: 96, identity: "gid", partitioned: false },
    fields: () => [number("manager number", 28), number("object class", 24), number("serial number", 36)],
  },
  {
    ...{ name: "SGTIN-198", header: "36", bits: 198, identity: "sgtin", partitioned: true },
    fields: (prefix) => [itemReference(prefix), text("serial number", 140, 20)],
  },
  {
    ...{ name: "GRAI-170", header: "37", bits: 170, identity: "grai", partitioned: true },
    fields: (prefix) => [assetType(prefix), text("serial number", 112, 16)],
  },
  {
    ...{ name: "GIAI-202", header: "38", bits: 202, identity: "giai", partitioned: true },
    fields: (prefix) => [text("asset reference", 188 - prefix.bits, 30 - prefix.digits)],
  },
];

/** The scheme of each header. */
export const schemeByHeader: ReadonlyMap<string, Gs1Scheme> = new Map(
  all.map((scheme) => [scheme.header, scheme]),
);
