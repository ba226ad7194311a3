import { encodeGrai96 } from "./grai.ts";

/**
 * The cooperative's company prefix. GS1 keeps the prefix 952 for demonstrations and examples (from memory; the examples of
 * the EPC Tag Data Standard 2.3 are numbered under 9521141), so no firm can own it.
 */
const companyPrefix = "9529999";

const assetTypes = { crate: "00101", cage: "00202", badge: "00303" } as const;

export type AssetKind = keyof typeof assetTypes;

/** Codes of `count` assets of one kind with serials counting from `firstSerial`. */
export function assetTags(kind: AssetKind, firstSerial: number, count: number): string[] {
  return Array.from({ length: count }, (_, i) =>
    encodeGrai96({ filter: 0, companyPrefix, assetType: assetTypes[kind], serial: BigInt(firstSerial + i) }),
  );
}
