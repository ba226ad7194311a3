/** Unpacked, of all parts of a workbook together. A log of some 150 000 rows is as large. */
export const mostUnpackedBytes = 100_000_000;

const endOfDirectory = 0x06054b50;
const directoryEntry = 0x02014b50;
const endBytes = 22;
const entryBytes = 46;
const longestComment = 0xffff;

/**
 * Whether a file is a zip archive that may be unpacked, told by its directory alone. What unpacks it goes by the sizes in the
 * directory and stops where a part is larger, so that an archive cannot grow beyond what it declares.
 */
export function zipKind(bytes: Buffer): "fine" | "too large" | "not a zip archive" {
  const end = endRecord(bytes);
  if (end < 0) return "not a zip archive";
  let at = bytes.readUInt32LE(end + 16);
  let unpacked = 0;
  for (let left = bytes.readUInt16LE(end + 10); left > 0; left -= 1) {
    if (at + entryBytes > bytes.length || bytes.readUInt32LE(at) !== directoryEntry)
      return "not a zip archive";
    const packed = bytes.readUInt32LE(at + 20);
    const size = bytes.readUInt32LE(at + 24);
    // A part that packs something and declares nothing would be unpacked without a bound.
    if (size === 0 && packed > 2) return "not a zip archive";
    unpacked += size;
    if (unpacked > mostUnpackedBytes) return "too large";
    at +=
      entryBytes + bytes.readUInt16LE(at + 28) + bytes.readUInt16LE(at + 30) + bytes.readUInt16LE(at + 32);
  }
  return "fine";
}

function endRecord(bytes: Buffer): number {
  const lowest = Math.max(0, bytes.length - endBytes - longestComment);
  for (let at = bytes.length - endBytes; at >= lowest; at -= 1)
    if (bytes.readUInt32LE(at) === endOfDirectory) return at;
  return -1;
}
