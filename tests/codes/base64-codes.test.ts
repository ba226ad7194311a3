import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { canonicalCode } from "../../src/codes/canonical-code.ts";

const plain = { kind: "hex", code: "3034257BF40C0E40000F4245", remarks: [] };

describe("a code in base64", () => {
  it.each(["MDQle/QMDkAAD0JF", " MDQle/QMDkAAD0JF ", "MDQle_QMDkAAD0JF", "b'MDQle/QMDkAAD0JF'"])(
    "is its bytes: %s",
    (written) => {
      expect(canonicalCode(written, "base64")).toEqual(plain);
    },
  );

  // RFC 4648, section 10: test vectors "f", "fo", "foo", "foob" (from memory).
  it.each([
    ["Zg==", "66"],
    ["Zg", "66"],
    ["Zm8=", "666F"],
    ["Zm9v", "666F6F"],
    ["Zm9vYg==", "666F6F62"],
  ])("agrees with the standard's vector %s", (written, code) => {
    expect(canonicalCode(written, "base64")).toMatchObject({ kind: "hex", code });
  });

  it("of any bytes comes out again", () => {
    fc.assert(
      fc.property(fc.uint8Array({ minLength: 1, maxLength: 62 }), (bytes) => {
        const buffer = Buffer.from(bytes);
        const expected = { kind: "hex", code: buffer.toString("hex").toUpperCase() };
        expect(canonicalCode(buffer.toString("base64"), "base64")).toMatchObject(expected);
        expect(canonicalCode(buffer.toString("base64url"), "base64")).toMatchObject(expected);
      }),
    );
  });

  it.each(["Z", "Zg=", "Zh==", "Zm9v=", "Zm9 v", "crate 17", "===="])(
    "is refused where it is none: %s",
    (written) => {
      expect(canonicalCode(written, "base64")).toMatchObject({ kind: "refused", fault: "not-base64" });
    },
  );

  it("is refused where there is none", () => {
    expect(canonicalCode("  ", "base64")).toMatchObject({ kind: "refused", fault: "empty" });
  });
});
