import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { readTimeStamp } from "../../src/archive/time-stamp.ts";

/* The service's answer over SHA-512 and the bare token over SHA-256 were made with `openssl ts -reply`; `openssl ts -reply -text` gives their times. */
const read = (name: string) => readFileSync(`tests/archive/signatures/${name}`);
const message = read("message.txt");

test.each([
  ["answer.tsr", "2026-11-28T08:24:15Z"],
  ["token.tst", "2026-11-28T08:24:15Z"],
])("%s of a time-stamping service tells when it was made, and of which bytes", (name, at) => {
  expect(readTimeStamp(read(name), message)).toEqual({ at, isOver: true });
  expect(readTimeStamp(read(name), Buffer.from("other"))).toEqual({ at, isOver: false });
});

test("a token over a hash that is not known, one cut off anywhere, and other files tell nothing", () => {
  const token = read("token.tst");
  const sha256 = Buffer.from("608648016503040201", "hex");
  const odd = Buffer.from(token);
  // The first is among the digests of the signature, the second is that of the message.
  odd[odd.indexOf(sha256, odd.indexOf(sha256) + 1) + sha256.length - 1] = 0x7f;
  expect(readTimeStamp(odd, message)?.isOver).toBeNull();
  for (let length = 0; length < token.length; length += 1)
    expect(readTimeStamp(token.subarray(0, length), message), `${length} bytes`).toBeNull();
  expect(readTimeStamp(message, message)).toBeNull();
  expect(readTimeStamp(read("rsa-3072.sig"), message)).toBeNull();
});
