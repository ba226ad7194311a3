import { createHash, createPublicKey, type KeyObject, verify } from "node:crypto";
import { WireReader, wireString } from "./wire.ts";

/** A public key of SSH that signatures can be checked with. */
export interface SshKey {
  /** `ssh-ed25519`. */
  kind: string;
  /** `SHA256:...`, as ssh-keygen prints it. */
  fingerprint: string;
  /** Whether a signature in the SSH wire format is this key's over the data. */
  signed(data: Buffer, signature: Buffer): boolean;
}

/** Curves of RFC 5656, with the hash that goes with each and the length of a coordinate in bytes. */
const curves: Record<string, { crv: string; hash: string; bytes: number }> = {
  nistp256: { crv: "P-256", hash: "sha256", bytes: 32 },
  nistp384: { crv: "P-384", hash: "sha384", bytes: 48 },
  nistp521: { crv: "P-521", hash: "sha512", bytes: 66 },
};

/** RSA with SHA-1 (`ssh-rsa`) is refused, as ssh-keygen does. */
const rsaHashes: Record<string, string> = { "rsa-sha2-256": "sha256", "rsa-sha2-512": "sha512" };
const fewestRsaBits = 2048;

/** The key in a blob of the SSH wire format; null where it is of a kind that is not known here, or no sound key. */
export function readSshKey(blob: Buffer): SshKey | null {
  try {
    const reader = new WireReader(blob);
    const kind = reader.text();
    const signed = checkerOf(kind, reader);
    reader.end();
    return { kind, fingerprint: fingerprintOf(blob), signed };
  } catch {
    // Too few bytes, too many, a kind without a checker, or a point that is not on its curve.
    return null;
  }
}

/** As `ssh-keygen -l` prints it: the SHA-256 of the key's bytes in base64, without padding. */
export function fingerprintOf(blob: Buffer): string {
  return `SHA256:${createHash("sha256").update(blob).digest("base64").replace(/=+$/, "")}`;
}

function checkerOf(kind: string, reader: WireReader): SshKey["signed"] {
  if (kind === "ssh-ed25519") return plain(kind, ed25519(reader));
  if (kind === "ssh-rsa") return rsa(reader);
  if (kind.startsWith("ecdsa-sha2-")) return plain(kind, ecdsa(reader));
  if (kind === "sk-ssh-ed25519@openssh.com") return hardware(kind, ed25519(reader), reader.string());
  if (kind === "sk-ecdsa-sha2-nistp256@openssh.com") return hardware(kind, ecdsa(reader), reader.string());
  throw new RangeError("A kind of key that is not known.");
}

/** Checks the inner blob of a signature. */
type RawCheck = (data: Buffer, raw: Buffer) => boolean;

function ed25519(reader: WireReader): RawCheck {
  const key = fromJwk({ kty: "OKP", crv: "Ed25519", x: base64url(reader.string()) });
  return (data, raw) => verify(null, data, key, raw);
}

function ecdsa(reader: WireReader): RawCheck {
  const curve = curves[reader.text()];
  const point = reader.string();
  // Only points that are not compressed are in use (RFC 5656, section 3.1).
  if (curve === undefined || point.length !== 1 + 2 * curve.bytes || point[0] !== 4)
    throw new RangeError("No point of a known curve.");
  const [x, y] = [point.subarray(1, 1 + curve.bytes), point.subarray(1 + curve.bytes)];
  const key = fromJwk({ kty: "EC", crv: curve.crv, x: base64url(x), y: base64url(y) });
  return (data, raw) => {
    const numbers = new WireReader(raw);
    const [r, s] = [numbers.wholeNumber(), numbers.wholeNumber()];
    numbers.end();
    if (r.length > curve.bytes || s.length > curve.bytes) return false;
    const padded = [r, s].map((part) => Buffer.concat([Buffer.alloc(curve.bytes - part.length), part]));
    return verify(curve.hash, data, { key, dsaEncoding: "ieee-p1363" }, Buffer.concat(padded));
  };
}

function rsa(reader: WireReader): SshKey["signed"] {
  const [e, n] = [reader.wholeNumber(), reader.wholeNumber()];
  if (n.length * 8 < fewestRsaBits) throw new RangeError("Too short a key.");
  const key = fromJwk({ kty: "RSA", e: base64url(e), n: base64url(n) });
  return withInner(({ kind, raw, rest, data }) => {
    rest.end();
    const hash = rsaHashes[kind];
    return hash !== undefined && verify(hash, data, key, raw);
  });
}

function plain(kind: string, check: RawCheck): SshKey["signed"] {
  return withInner(({ kind: signedWith, raw, rest, data }) => {
    rest.end();
    return signedWith === kind && check(data, raw);
  });
}

/** A key in a token (PROTOCOL.u2f of OpenSSH): it signs a hash of its application, flags, a counter and a hash of the data. */
function hardware(kind: string, check: RawCheck, application: Buffer): SshKey["signed"] {
  const sha256 = (bytes: Buffer) => createHash("sha256").update(bytes).digest();
  return withInner(({ kind: signedWith, raw, rest, data }) => {
    const flagsAndCounter = rest.take(5);
    rest.end();
    const isTouched = (flagsAndCounter[0]! & 1) === 1;
    const whole = Buffer.concat([sha256(application), flagsAndCounter, sha256(data)]);
    return signedWith === kind && isTouched && check(whole, raw);
  });
}

/** A signature taken apart. */
interface InnerSignature {
  /** The algorithm that it names. */
  kind: string;
  raw: Buffer;
  /** What stands behind the raw signature. */
  rest: WireReader;
  /** What was signed. */
  data: Buffer;
}

function withInner(check: (inner: InnerSignature) => boolean): SshKey["signed"] {
  return (data, signature) => {
    try {
      const rest = new WireReader(signature);
      return check({ kind: rest.text(), raw: rest.string(), rest, data });
    } catch {
      return false;
    }
  };
}

function fromJwk(key: Record<string, string>): KeyObject {
  return createPublicKey({ key, format: "jwk" });
}

function base64url(bytes: Buffer): string {
  return bytes.toString("base64url");
}

/** The data that an SSH signature of a file is over; source: PROTOCOL.sshsig of OpenSSH, "Signed Data". */
export function signedData(parts: { namespace: string; hash: string; digest: Buffer }): Buffer {
  const { namespace, hash, digest } = parts;
  const strings = [Buffer.from(namespace), Buffer.alloc(0), Buffer.from(hash), digest].map(wireString);
  return Buffer.concat([Buffer.from("SSHSIG"), ...strings]);
}
