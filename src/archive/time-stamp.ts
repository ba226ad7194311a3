import { createHash } from "node:crypto";

/*
 * Tokens of time-stamping services: RFC 3161, sections 2.4.1 and 2.4.2, in the SignedData of RFC 5652, sections 3 and 5. Read is what a token
 * is of and when it was made; whether its signature is the service's needs the service's certificates, and is not asked here.
 */

/** What a token says. */
export interface TimeStamp {
  /** ISO 8601 in UTC. */
  at: string;
  /** Whether it is of the bytes that were given; null where it is of a hash that is not known here. */
  isOver: boolean | null;
}

const object = 0x06;
const octets = 0x04;
const sequence = 0x30;
const set = 0x31;
const whole = 0x02;
const time = 0x18;
const tagged0 = 0xa0;

/** Object identifiers in DER, as hexadecimal digits. */
const signedData = "2a864886f70d010702";
const timeStampInfo = "2a864886f70d0109100104";
const hashes: Record<string, string> = {
  "608648016503040201": "sha256",
  "608648016503040202": "sha384",
  "608648016503040203": "sha512",
};

/** Null for what is neither a token nor a service's answer with one in it. */
export function readTimeStamp(bytes: Buffer, message: Buffer): TimeStamp | null {
  try {
    const [first, second] = parts(only(bytes, sequence));
    // An answer has a status in front of its token.
    const token = first?.tag === sequence && second !== undefined ? second.content : only(bytes, sequence);
    const [kind, content] = shaped(token, [object, tagged0]);
    if (hex(kind) !== signedData) return null;
    const [, , held] = shaped(only(content, sequence), [whole, set, sequence]);
    const [type, info] = shaped(held, [object, tagged0]);
    if (hex(type) !== timeStampInfo) return null;
    const told = only(only(info, octets), sequence);
    const [, , imprint, , at] = shaped(told, [whole, object, sequence, whole, time]);
    const [algorithm, digest] = shaped(imprint, [sequence, octets]);
    const hash = hashes[hex(shaped(algorithm, [object])[0])];
    const instant = instantOf(at.toString("latin1"));
    if (instant === null) return null;
    const isOver = hash === undefined ? null : createHash(hash).update(message).digest().equals(digest);
    return { at: instant, isOver };
  } catch (fault) {
    if (fault instanceof RangeError) return null;
    throw fault;
  }
}

interface Part {
  tag: number;
  content: Buffer;
}

/** The values one after the other; a RangeError where the bytes are not DER. */
function parts(bytes: Buffer): Part[] {
  const found: Part[] = [];
  for (let at = 0; at < bytes.length; ) {
    const tag = bytes.readUInt8(at);
    const short = bytes.readUInt8(at + 1);
    const more = short < 0x80 ? 0 : short - 0x80;
    if (more > 4 || short === 0x80) throw new RangeError("A length that DER does not have.");
    const start = at + 2 + more;
    const length = more === 0 ? short : bytes.readUIntBE(at + 2, more);
    if (start + length > bytes.length) throw new RangeError("Too few bytes.");
    found.push({ tag, content: bytes.subarray(start, start + length) });
    at = start + length;
  }
  return found;
}

/** The contents of the first values, which must be of these tags. */
function shaped<const Tags extends readonly number[]>(
  bytes: Buffer,
  tags: Tags,
): { [Key in keyof Tags]: Buffer } {
  const found = parts(bytes);
  return tags.map((tag, i) => {
    const part = found[i];
    if (part?.tag !== tag) throw new RangeError("Another value than was expected.");
    return part.content;
  }) as { [Key in keyof Tags]: Buffer };
}

function only(bytes: Buffer, tag: number): Buffer {
  return shaped(bytes, [tag])[0];
}

const hex = (bytes: Buffer) => bytes.toString("hex");

function instantOf(text: string): string | null {
  const read = /^(\d{4})(\d\d)(\d\d)(\d\d)(\d\d)(\d\d(?:\.\d+)?)Z$/.exec(text);
  if (read === null) return null;
  const [, year, month, day, hour, minute, second] = read;
  return `${year}-${month}-${day}T${hour}:${minute}:${second}Z`;
}
