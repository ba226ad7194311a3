/**
 * Bits of the company prefix by partition 0 to 6 (12 down to 6 digits), and bits of the asset type (0 to 6 digits).
 * GS1 EPC Tag Data Standard, GRAI-96 partition table.
 */
const prefixBits = [40, 37, 34, 30, 27, 24, 20] as const;
const assetTypeBits = [4, 7, 10, 14, 17, 20, 24] as const;

const header = 0x33n;
const largestSerial = (1n << 38n) - 1n;

export interface Grai {
  /** 0 to 7. */
  filter: number;
  /** 6 to 12 digits. */
  companyPrefix: string;
  /** The digits that fill the company prefix up to 12; empty beside a prefix of 12. */
  assetType: string;
  /** 0 to 2^38 - 1. */
  serial: bigint;
}

/** A returnable asset's identifier in the 96 bits of a GRAI-96 tag, as 24 hexadecimal digits. */
export function encodeGrai96(grai: Grai): string {
  const partition = 12 - grai.companyPrefix.length;
  const ofPrefix = prefixBits[partition];
  const ofAssetType = assetTypeBits[partition];
  if (ofPrefix === undefined || ofAssetType === undefined || !/^\d+$/.test(grai.companyPrefix))
    throw new RangeError(`A company prefix has 6 to 12 digits, not "${grai.companyPrefix}".`);
  if (grai.assetType.length !== partition || !/^\d*$/.test(grai.assetType))
    throw new RangeError(
      `Beside this prefix an asset type has ${partition} digits, not "${grai.assetType}".`,
    );
  if (!Number.isInteger(grai.filter) || grai.filter < 0 || grai.filter > 7)
    throw new RangeError(`A filter value is 0 to 7, not ${grai.filter}.`);
  if (grai.serial < 0n || grai.serial > largestSerial)
    throw new RangeError(`A GRAI-96 serial is 0 to 274877906943, not ${grai.serial}.`);

  let bits = header;
  bits = (bits << 3n) | BigInt(grai.filter);
  bits = (bits << 3n) | BigInt(partition);
  bits = (bits << BigInt(ofPrefix)) | BigInt(grai.companyPrefix);
  bits = (bits << BigInt(ofAssetType)) | BigInt(grai.assetType === "" ? "0" : grai.assetType);
  bits = (bits << 38n) | grai.serial;
  return bits.toString(16).toUpperCase().padStart(24, "0");
}
