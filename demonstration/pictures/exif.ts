/* Exif as cameras write it (CIPA DC-008, from memory): a TIFF of two lists of tags. */

const ascii = 2;
const short = 3;
const long = 4;
const rational = 5;

interface Tag {
  number: number;
  type: number;
  count: number;
  /** Four bytes in the tag itself, or more beside the list. */
  bytes: Buffer;
}

const text = (number: number, value: string): Tag => {
  const bytes = Buffer.from(`${value}\0`, "latin1");
  return { number, type: ascii, count: bytes.length, bytes };
};

/** Whole degrees, as degrees, minutes and seconds. */
const degrees = (number: number, value: number): Tag => {
  const bytes = Buffer.alloc(24);
  [value, 1, 0, 1, 0, 1].forEach((part, i) => {
    bytes.writeUInt32LE(part, i * 4);
  });
  return { number, type: rational, count: 3, bytes };
};

function list(tags: Tag[], at: number): Buffer {
  const head = Buffer.alloc(2 + tags.length * 12 + 4);
  head.writeUInt16LE(tags.length, 0);
  const beside: Buffer[] = [];
  let next = at + head.length;
  tags.forEach(({ number, type, count, bytes }, i) => {
    const entry = 2 + i * 12;
    head.writeUInt16LE(number, entry);
    head.writeUInt16LE(type, entry + 2);
    head.writeUInt32LE(count, entry + 4);
    if (bytes.length <= 4) bytes.copy(head, entry + 8);
    else {
      head.writeUInt32LE(next, entry + 8);
      const even = Buffer.alloc(bytes.length + (bytes.length % 2));
      bytes.copy(even);
      beside.push(even);
      next += even.length;
    }
  });
  return Buffer.concat([head, ...beside]);
}

/** The segment of a JPEG that says how it is stored, where it was taken, and whose camera it was. */
export function exifBlock({
  orientation,
  latitude,
  longitude,
  artist,
}: {
  orientation: number;
  latitude: number;
  longitude: number;
  artist: string;
}): Buffer {
  const upright = Buffer.alloc(4);
  upright.writeUInt16LE(orientation, 0);
  const pointer = Buffer.alloc(4);
  const first = (): Tag[] => [
    { number: 0x0112, type: short, count: 1, bytes: upright },
    text(0x013b, artist),
    { number: 0x8825, type: long, count: 1, bytes: pointer },
  ];
  pointer.writeUInt32LE(8 + list(first(), 8).length, 0);
  const place = [
    text(1, latitude < 0 ? "S" : "N"),
    degrees(2, Math.abs(latitude)),
    text(3, longitude < 0 ? "W" : "E"),
    degrees(4, Math.abs(longitude)),
  ];
  const tiff = Buffer.concat([
    Buffer.from("II*\0\b\0\0\0", "latin1"),
    list(first(), 8),
    list(place, pointer.readUInt32LE(0)),
  ]);
  const body = Buffer.concat([Buffer.from("Exif\0\0", "latin1"), tiff]);
  const head = Buffer.from([0xff, 0xe1, 0, 0]);
  head.writeUInt16BE(body.length + 2, 2);
  return Buffer.concat([head, body]);
}
