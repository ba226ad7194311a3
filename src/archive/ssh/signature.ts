import { createHash } from "node:crypto";
import { fingerprintOf, readSshKey, signedData } from "./public-key.ts";
import { WireReader } from "./wire.ts";

/** What a file of `ssh-keygen -Y sign` shows. */
export interface SshSignature {
  /** The public key in the SSH wire format. */
  key: Buffer;
  /** `ssh-ed25519`. */
  kind: string;
  fingerprint: string;
}

const begin = "-----BEGIN SSH SIGNATURE-----\n";
const end = "-----END SSH SIGNATURE-----\n";
/** What ssh-keygen puts on a line. */
const lineLength = 70;

/**
 * Checks a signature of a file in the format of `ssh-keygen -Y sign` (PROTOCOL.sshsig of OpenSSH). It must be written exactly as
 * ssh-keygen writes it, so that not one byte of it can be changed unnoticed.
 *
 * @param text the signature's file
 * @param message the bytes that it is said to be over
 * @param namespace what `-n` was given
 * @returns who signed, or a clause on why the signature does not hold
 */
export function checkSshSignature(text: string, message: Buffer, namespace: string): SshSignature | string {
  const blob = unarmoured(text);
  if (blob === null) return "it is not written as ssh-keygen -Y sign writes signatures";
  try {
    const reader = new WireReader(blob);
    if (reader.take(6).toString("latin1") !== "SSHSIG" || reader.number() !== 1)
      return "it is not of version 1 of SSH signatures";
    const key = reader.string();
    const stated = reader.string().toString();
    const reserved = reader.string();
    const hash = reader.text();
    const signature = reader.string();
    reader.end();
    if (reserved.length > 0) return "a field that must be empty is not";
    if (stated !== namespace) return `it was made for "${stated}" and not for "${namespace}"`;
    if (hash !== "sha512" && hash !== "sha256") return `it is over a hash that is not known here, ${hash}`;
    const known = readSshKey(key);
    if (known === null) return unknownKey(new WireReader(key).text());
    const digest = createHash(hash).update(message).digest();
    if (!known.signed(signedData({ namespace, hash, digest }), signature))
      return "it was made over other bytes, or by another key than it names";
    return { key, kind: known.kind, fingerprint: fingerprintOf(key) };
  } catch {
    return "it is cut off, or not an SSH signature";
  }
}

function unknownKey(kind: string): string {
  return kind.includes("-cert-v")
    ? `it was made with a certificate (${kind}), and those are not checked here: ssh-keygen -Y verify does that`
    : `its key is of a kind that is not known here, ${kind}`;
}

/** Null where the text is not the one that ssh-keygen would write for the same bytes. */
function unarmoured(text: string): Buffer | null {
  if (!text.startsWith(begin) || !text.endsWith(end)) return null;
  const blob = Buffer.from(text.slice(begin.length, -end.length), "base64");
  const lines = blob.toString("base64").match(new RegExp(`.{1,${lineLength}}`, "g")) ?? [];
  return text === `${begin}${lines.join("\n")}\n${end}` ? blob : null;
}
