/** A reader of the SSH wire format (RFC 4251, section 5). Every read throws a RangeError where there are too few bytes. */
export class WireReader {
  private readonly bytes: Buffer;
  private at = 0;

  constructor(bytes: Buffer) {
    this.bytes = bytes;
  }

  take(count: number): Buffer {
    if (count > this.bytes.length - this.at) throw new RangeError("Too few bytes.");
    this.at += count;
    return this.bytes.subarray(this.at - count, this.at);
  }

  number(): number {
    return this.take(4).readUInt32BE();
  }

  string(): Buffer {
    return this.take(this.number());
  }

  text(): string {
    return this.string().toString("latin1");
  }

  /** A number of any size, not negative, without its leading zeros. */
  wholeNumber(): Buffer {
    const bytes = this.string();
    let start = 0;
    while (start < bytes.length && bytes[start] === 0) start += 1;
    return bytes.subarray(start);
  }

  /** Throws where bytes are left. */
  end(): void {
    if (this.at < this.bytes.length) throw new RangeError("Too many bytes.");
  }
}

/** A string with its length in front. */
export function wireString(bytes: Uint8Array): Buffer {
  const length = Buffer.alloc(4);
  length.writeUInt32BE(bytes.length);
  return Buffer.concat([length, bytes]);
}
