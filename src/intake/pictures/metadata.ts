import readExif from "exif-reader";
import type { Besides } from "./found.ts";

/*
 * What photographs tell besides the picture. Names of Exif tags are those of CIPA DC-008; of XMP properties those of ISO 16684-1 and
 * of the IPTC photo metadata standard; numbers of IIM records those of IPTC IIM 4.2. From memory.
 */

/** Exif blocks are small: a larger one is damaged or hides something else. */
const mostBytes = 1 << 20;

const personTags = ["Artist", "Copyright", "CameraOwnerName", "XPAuthor", "HostComputer"];
const deviceTags = [
  "BodySerialNumber",
  "LensSerialNumber",
  "CameraSerialNumber",
  "ImageUniqueID",
  "MakerNote",
];
const textTags = [
  "ImageDescription",
  "UserComment",
  "XPTitle",
  "XPComment",
  "XPKeywords",
  "XPSubject",
  "DocumentName",
];

/**
 * @param block Exif, with or without its leading name
 * @returns how the picture is stored, 1 to 8; 1 where the block does not say
 */
export function readExifBlock(block: Buffer, besides: Besides): number {
  let exif: ReturnType<typeof readExif>;
  try {
    if (block.length > mostBytes) throw new Error("too large");
    exif = readExif(block);
  } catch {
    // Nobody knows what a damaged block holds.
    besides.add("text");
    return 1;
  }
  const tags: Record<string, unknown> = { ...exif.Image, ...exif.Photo };
  const has = (names: string[]) => names.some((name) => isFilled(tags[name]));
  if (exif.GPSInfo !== undefined && Object.keys(exif.GPSInfo).some((name) => name !== "GPSVersionID"))
    besides.add("place");
  if (has(personTags)) besides.add("person");
  if (has(deviceTags)) besides.add("device");
  if (has(textTags)) besides.add("text");
  if (exif.Thumbnail !== undefined) besides.add("preview");
  const orientation = tags.Orientation;
  return typeof orientation === "number" && orientation >= 1 && orientation <= 8 ? orientation : 1;
}

function isFilled(value: unknown): boolean {
  if (value === undefined || value === null) return false;
  if (typeof value === "string") return value.replace(/[\0\s]/g, "") !== "";
  return Buffer.isBuffer(value) ? value.some((byte) => byte !== 0 && byte !== 0x20) : true;
}

/** XMP, as text. */
export function readXmp(text: string, besides: Besides): void {
  besides.add("text");
  if (/GPSL(?:at|ong)itude|photoshop:City|Iptc4xmpCore:Location|LocationCreated|LocationShown/.test(text))
    besides.add("place");
  if (/dc:creator|photoshop:AuthorsPosition|CreatorContactInfo|PersonInImage|dc:rights/.test(text))
    besides.add("person");
  if (/SerialNumber/.test(text)) besides.add("device");
}

/** The records of IPTC IIM that name people and places. */
const persons = new Set([80, 85, 110, 116, 118, 122]);
const places = new Set([26, 27, 90, 92, 95, 100, 101]);

/** A block of an image editor, in which IPTC records stand: 1C, record, number, length in two bytes. */
export function readIptc(block: Buffer, besides: Besides): void {
  for (let at = block.indexOf(0x1c); at >= 0 && at + 5 <= block.length; at = block.indexOf(0x1c, at + 1)) {
    if (block[at + 1] !== 2 || block.readUInt16BE(at + 3) === 0) continue;
    const number = block[at + 2]!;
    if (persons.has(number)) besides.add("person");
    else if (places.has(number)) besides.add("place");
    else if (number !== 0) besides.add("text");
  }
}
