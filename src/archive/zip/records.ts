/*
 * The records of a zip file whose entries are stored as they are; source: PKWARE's APPNOTE.TXT 6.3.10, sections 4.3.7, 4.3.12
 * and 4.3.14 to 4.3.16. No entry has a time, so that equal files make equal zips.
 */

export interface ZipEntry {
  /** With `/`. */
  name: string;
  bytes: number;
  crc32: number;
  /** Where its local header begins. */
  offset: number;
}

/** From here on a size or an offset stands in a field of 64 bits. */
const most32 = 0xffffffff;
/** 1 January 1980, the first day that the format knows. */
const firstDay = 0x0021;
/** Names are UTF-8. */
const utf8Names = 0x0800;

const plainVersion = 20;
const wideVersion = 45;

/** What stands before the bytes of a member: the local file header of PKWARE's APPNOTE, 4.3.7; from 4 GB on with the Zip64 field. */
export function localHeader({ name, bytes, crc32 }: Omit<ZipEntry, "offset">): Buffer {
  const isWide = bytes >= most32;
  const wide = isWide ? wideField([bytes, bytes]) : Buffer.alloc(0);
  const head = Buffer.alloc(30);
  head.writeUInt32LE(0x04034b50, 0);
  head.writeUInt16LE(isWide ? wideVersion : plainVersion, 4);
  head.writeUInt16LE(utf8Names, 6);
  head.writeUInt16LE(firstDay, 12);
  head.writeUInt32LE(crc32, 14);
  head.writeUInt32LE(isWide ? most32 : bytes, 18);
  head.writeUInt32LE(isWide ? most32 : bytes, 22);
  const encoded = Buffer.from(name);
  head.writeUInt16LE(encoded.length, 26);
  head.writeUInt16LE(wide.length, 28);
  return Buffer.concat([head, encoded, wide]);
}

/** The member's record in the central directory: APPNOTE 4.3.12. */
export function directoryRecord({ name, bytes, crc32, offset }: ZipEntry): Buffer {
  const wideNumbers = [...(bytes >= most32 ? [bytes, bytes] : []), ...(offset >= most32 ? [offset] : [])];
  const wide = wideNumbers.length > 0 ? wideField(wideNumbers) : Buffer.alloc(0);
  const version = wideNumbers.length > 0 ? wideVersion : plainVersion;
  const head = Buffer.alloc(46);
  head.writeUInt32LE(0x02014b50, 0);
  head.writeUInt16LE(version, 4);
  head.writeUInt16LE(version, 6);
  head.writeUInt16LE(utf8Names, 8);
  head.writeUInt16LE(firstDay, 14);
  head.writeUInt32LE(crc32, 16);
  head.writeUInt32LE(Math.min(bytes, most32), 20);
  head.writeUInt32LE(Math.min(bytes, most32), 24);
  const encoded = Buffer.from(name);
  head.writeUInt16LE(encoded.length, 28);
  head.writeUInt16LE(wide.length, 30);
  head.writeUInt32LE(Math.min(offset, most32), 42);
  return Buffer.concat([head, encoded, wide]);
}

export interface DirectoryPlace {
  entries: number;
  bytes: number;
  offset: number;
}

const most16 = 0xffff;
export const endBytes = 22;
const wideEndBytes = 56 + 20;

/** What stands behind the directory: where it is, in fields of 64 bits too where those of 32 are too small. */
export function endRecords(place: DirectoryPlace): Buffer {
  const { entries, bytes, offset } = place;
  const end = Buffer.alloc(endBytes);
  end.writeUInt32LE(0x06054b50, 0);
  end.writeUInt16LE(Math.min(entries, most16), 8);
  end.writeUInt16LE(Math.min(entries, most16), 10);
  end.writeUInt32LE(Math.min(bytes, most32), 12);
  end.writeUInt32LE(Math.min(offset, most32), 16);
  return isWideEnd(place) ? Buffer.concat([wideEnd(place), end]) : end;
}

function isWideEnd({ entries, bytes, offset }: DirectoryPlace): boolean {
  return entries >= most16 || bytes >= most32 || offset >= most32;
}

function wideEnd({ entries, bytes, offset }: DirectoryPlace): Buffer {
  const wide = Buffer.alloc(wideEndBytes);
  wide.writeUInt32LE(0x06064b50, 0);
  wide.writeBigUInt64LE(44n, 4);
  wide.writeUInt16LE(wideVersion, 12);
  wide.writeUInt16LE(wideVersion, 14);
  wide.writeBigUInt64LE(BigInt(entries), 24);
  wide.writeBigUInt64LE(BigInt(entries), 32);
  wide.writeBigUInt64LE(BigInt(bytes), 40);
  wide.writeBigUInt64LE(BigInt(offset), 48);
  wide.writeUInt32LE(0x07064b50, 56);
  wide.writeBigUInt64LE(BigInt(offset + bytes), 64);
  wide.writeUInt32LE(1, 72);
  return wide;
}

function wideField(numbers: number[]): Buffer {
  const field = Buffer.alloc(4 + 8 * numbers.length);
  field.writeUInt16LE(1, 0);
  field.writeUInt16LE(8 * numbers.length, 2);
  for (const [i, number] of numbers.entries()) field.writeBigUInt64LE(BigInt(number), 4 + 8 * i);
  return field;
}

/** The entries of a directory and where it lies, or null; whether every byte is as it is written here is for the reader to ask. */
export function readDirectory(
  tail: Buffer,
  fileBytes: number,
): { place: DirectoryPlace; names: { name: string; bytes: number; crc32: number }[] } | null {
  const place = readEnd(tail);
  if (place === null || place.offset + place.bytes > fileBytes) return null;
  const start = tail.length - (fileBytes - place.offset);
  if (start < 0) return { place, names: [] };
  const names: { name: string; bytes: number; crc32: number }[] = [];
  for (let at = start, i = 0; i < place.entries; i += 1) {
    if (at + 46 > tail.length || tail.readUInt32LE(at) !== 0x02014b50) return null;
    const nameEnd = at + 46 + tail.readUInt16LE(at + 28);
    const fieldEnd = nameEnd + tail.readUInt16LE(at + 30);
    if (fieldEnd > tail.length) return null;
    const narrow = tail.readUInt32LE(at + 24);
    if (narrow === most32 && fieldEnd < nameEnd + 12) return null;
    const bytes = narrow === most32 ? Number(tail.readBigUInt64LE(nameEnd + 4)) : narrow;
    names.push({ name: tail.toString("utf8", at + 46, nameEnd), bytes, crc32: tail.readUInt32LE(at + 16) });
    at = fieldEnd;
  }
  return { place, names };
}

function readEnd(tail: Buffer): DirectoryPlace | null {
  const at = tail.length - endBytes;
  if (at < 0 || tail.readUInt32LE(at) !== 0x06054b50) return null;
  const narrow = {
    entries: tail.readUInt16LE(at + 10),
    bytes: tail.readUInt32LE(at + 12),
    offset: tail.readUInt32LE(at + 16),
  };
  if (!isWideEnd(narrow)) return narrow;
  const wide = at - wideEndBytes;
  if (wide < 0 || tail.readUInt32LE(wide) !== 0x06064b50) return null;
  return {
    entries: Number(tail.readBigUInt64LE(wide + 32)),
    bytes: Number(tail.readBigUInt64LE(wide + 40)),
    offset: Number(tail.readBigUInt64LE(wide + 48)),
  };
}
