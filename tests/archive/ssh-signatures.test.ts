import { createHash, generateKeyPairSync, type KeyObject, sign } from "node:crypto";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { readAllowedSigners, whyNotAllowed } from "../../src/archive/ssh/allowed-signers.ts";
import { fingerprintOf, signedData } from "../../src/archive/ssh/public-key.ts";
import { checkSshSignature } from "../../src/archive/ssh/signature.ts";
import { wireString } from "../../src/archive/ssh/wire.ts";

/*
 * Made with ssh-keygen of OpenSSH 9.2p1, with keys that were thrown away:
 * ssh-keygen -Y sign -n proofwalk-seal -f KEY < message.txt, and once with -n file.
 */
const folder = join(import.meta.dirname, "signatures");
const message = readFileSync(join(folder, "message.txt"));
const textOf = (name: string) => readFileSync(join(folder, name), "latin1");
const check = (text: string, over = message) => checkSshSignature(text, over, "proofwalk-seal");

const kinds: [name: string, kind: string, fingerprint: string][] = [
  ["ed25519", "ssh-ed25519", "SHA256:2EIZsR2SJUHD2VIt2RwnXatp2nLw5boikYmT1PXKYOE"],
  ["ecdsa-256", "ecdsa-sha2-nistp256", ""],
  ["ecdsa-384", "ecdsa-sha2-nistp384", ""],
  ["ecdsa-521", "ecdsa-sha2-nistp521", ""],
  ["rsa-3072", "ssh-rsa", "SHA256:r7Ak2nuLn2Mp+rbvY1D4B+nW8jNZVJT7vvDjpEOzrmY"],
];

describe("a signature made by ssh-keygen", () => {
  it.each(kinds)("holds with a key of %s, and names it as ssh-keygen does", (name, kind, fingerprint) => {
    const [, base64] = textOf(`${name}.pub`).split(" ");
    const key = Buffer.from(base64!, "base64");
    expect(check(textOf(`${name}.sig`))).toEqual({ key, kind, fingerprint: fingerprintOf(key) });
    // As ssh-keygen -l printed it.
    if (fingerprint !== "") expect(fingerprintOf(key)).toBe(fingerprint);
  });

  it.each(kinds)("of %s does not hold over other bytes", (name) => {
    expect(check(textOf(`${name}.sig`), Buffer.from("a line of texts\n"))).toBe(
      "it was made over other bytes, or by another key than it names",
    );
  });

  it("does not hold when it was made for another use", () => {
    expect(check(textOf("other-use.sig"))).toBe('it was made for "file" and not for "proofwalk-seal"');
  });

  it("does not hold with any of its bytes changed", () => {
    for (const name of ["ed25519", "ecdsa-256"]) {
      const bytes = Buffer.from(textOf(`${name}.sig`), "latin1");
      for (let i = 0; i < bytes.length; i += 1)
        for (const change of i % 2 === 0 ? [0x01] : [0x20]) {
          const changed = Buffer.from(bytes);
          changed[i] = changed[i]! ^ change;
          expect(check(changed.toString("latin1")), `byte ${i} of ${name}`).toBeTypeOf("string");
        }
    }
  });

  it("does not hold where it is cut off, wrapped otherwise, or no signature at all", () => {
    const whole = textOf("ed25519.sig");
    for (const text of ["", whole.slice(0, -1), whole.replace("\n", "\r\n"), `${whole}\n`, whole.slice(40)])
      expect(check(text)).toBe("it is not written as ssh-keygen -Y sign writes signatures");
    expect(check(armoured(Buffer.from("SSHSIG\0\0\0\u0001")))).toBe("it is cut off, or not an SSH signature");
    expect(check(armoured(Buffer.from("SSHSIG\0\0\0\u0002")))).toBe(
      "it is not of version 1 of SSH signatures",
    );
  });
});

describe("a signature made with a key in a token", () => {
  it("holds where the token was touched, and not otherwise", () => {
    const { publicKey, privateKey } = generateKeyPairSync("ed25519");
    const point = Buffer.from((publicKey.export({ format: "jwk" }) as { x: string }).x, "base64url");
    const made = (flags: number) => tokenSignature({ point, privateKey, flags });
    expect(check(made(1))).toMatchObject({ kind: "sk-ssh-ed25519@openssh.com" });
    expect(check(made(5))).toMatchObject({ kind: "sk-ssh-ed25519@openssh.com" });
    expect(check(made(0))).toBe("it was made over other bytes, or by another key than it names");
  });
});

/** A signature as OpenSSH lets a token make it; from memory of PROTOCOL.u2f. */
function tokenSignature(token: { point: Buffer; privateKey: KeyObject; flags: number }): string {
  const kind = wireString(Buffer.from("sk-ssh-ed25519@openssh.com"));
  const key = Buffer.concat([kind, wireString(token.point), wireString(Buffer.from("ssh:"))]);
  const digest = createHash("sha512").update(message).digest();
  const data = signedData({ namespace: "proofwalk-seal", hash: "sha512", digest });
  const sha256 = (bytes: Buffer) => createHash("sha256").update(bytes).digest();
  const flagsAndCounter = Buffer.from([token.flags, 0, 0, 0, 7]);
  const raw = sign(
    null,
    Buffer.concat([sha256(Buffer.from("ssh:")), flagsAndCounter, sha256(data)]),
    token.privateKey,
  );
  const signature = Buffer.concat([kind, wireString(raw), flagsAndCounter]);
  const strings = [key, Buffer.from("proofwalk-seal"), Buffer.alloc(0), Buffer.from("sha512"), signature];
  return armoured(Buffer.concat([Buffer.from("SSHSIG\0\0\0\u0001"), ...strings.map(wireString)]));
}

function armoured(blob: Buffer): string {
  const lines = blob.toString("base64").match(/.{1,70}/g)!;
  return `-----BEGIN SSH SIGNATURE-----\n${lines.join("\n")}\n-----END SSH SIGNATURE-----\n`;
}

describe("a list of allowed signers", () => {
  const pub = textOf("ed25519.pub").trim();
  const key = Buffer.from(pub.split(" ")[1]!, "base64");
  const now = new Date("2026-11-28T00:00:00Z");
  const why = (line: string, name = "ada@example.org") =>
    whyNotAllowed(readAllowedSigners(`# who may sign\n\n${line}\n`, "signers"), {
      name,
      key,
      namespace: "proofwalk-seal",
      now,
    });

  it.each([
    ["the name", `ada@example.org ${pub} of Ada`],
    ["a pattern", `*@example.org,!eve@example.org ${pub}`],
    ["a name in quotes", `"Ada Example,ada@example.org" ${pub}`],
    ["the use", `ada@example.org namespaces="file,proofwalk-*" ${pub}`],
    ["a time that lasts", `ada@example.org valid-after="20260101",valid-before="203001010000Z" ${pub}`],
  ])("allows a key by %s", (_, line) => expect(why(line)).toBeNull());

  it.each([
    ["its key is not in the list", `ada@example.org ${textOf("rsa-3072.pub").trim()}`],
    ["the list has its key for ben@example.org", `ben@example.org ${pub}`],
    ["the list has its key for *@example.org,!ada@*", `*@example.org,!ada@* ${pub}`],
    ["the list has its key for other uses than proofwalk-seal", `* namespaces="file" ${pub}`],
    ["the list has its key for another time than now", `* valid-before="20260101Z" ${pub}`],
    ["the list has its key for another time than now", `* valid-after="20270101Z" ${pub}`],
    ["its key is not in the list", `* cert-authority ${pub}`],
  ])("does not allow one where %s", (says, line) => expect(why(line)).toBe(says));

  it.each([
    ["there is no key", "ada@example.org"],
    ["the key is not in base64", "ada@example.org ssh-ed25519 AAA!"],
    ["the option colour is not known", `ada@example.org colour="red" ${pub}`],
    ["the option valid-before needs a value in quotes", `ada@example.org valid-before=20300101 ${pub}`],
    ["the time soon is not written", `ada@example.org valid-before="soon" ${pub}`],
  ])("is refused with its line where %s", (says, line) =>
    expect(() => why(line)).toThrow(`"signers", line 3: ${says}`),
  );
});
