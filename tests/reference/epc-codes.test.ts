import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { codeUri } from "../../src/codes/code-uri.ts";
import {
  codingTables,
  encoded,
  fieldBits,
  hexWords,
  serialCharacters,
  sixBits,
} from "./epc-codes/encoder.ts";
import { fixtureRows } from "./epc-codes/fixture-rows.ts";

// Source and provenance stand in each row of the CSV files.
const encodings = fixtureRows<{ hex: string; uri: string; scheme: string }>("encodings.csv");
const rejects = fixtureRows<{ hex: string; expect: string; why: string }>("rejects.csv");
const expecting = (expectation: string) => rejects.filter((row) => row.expect === expectation);

/** Tag URIs name the filter too, and the length of the code: pure identity URIs are made of the rest. */
function identityOf(tagUri: string): string {
  const [scheme, ...parts] = tagUri.replace("urn:epc:tag:", "").split(/[:.]/);
  const identity = scheme!.replace(/-(?:\d+|var)$/, "");
  return `urn:epc:id:${identity}:${parts.slice(identity === "gid" ? 0 : 1).join(".")}`;
}

/** Codes of 170 and 202 bits are printed with an odd count of digits; a tag's memory fills up its last word of 16 bits. */
function asRead(hex: string): string {
  return hex.padEnd(Math.ceil(hex.length / 4) * 4, "0");
}

describe("a GS1 code", () => {
  it.each(encodings)("$hex is the thing that $uri names", ({ hex, uri, scheme }) => {
    expect(uri.startsWith(`urn:epc:tag:${scheme.toLowerCase()}:`)).toBe(true);
    expect(codeUri(asRead(hex))).toBe(identityOf(uri));
  });

  it("is the same in either case of its letters", () => {
    for (const { hex } of encodings) expect(codeUri(asRead(hex).toLowerCase())).toBe(codeUri(asRead(hex)));
  });

  it("names the thing without filter and length", () => {
    // Computed from the tag URIs above by the grammar of pure identity URIs in the GS1 EPC Tag Data Standard.
    expect(codeUri("3034257BF40C0E40000F4245")).toBe("urn:epc:id:sgtin:0614141.012345.1000005");
    expect(codeUri("3666C4409047E159B2C2BF100000000000000000000000000000")).toBe(
      "urn:epc:id:sgtin:95060001343.05.32a%2Fb",
    );
    expect(codeUri("311BA1B300CE0A6A83000000")).toBe("urn:epc:id:sscc:952012.03456789123");
    expect(codeUri("3276451FD46072000000162E")).toBe("urn:epc:id:sgln:9521141.12345.5678");
    expect(codeUri("3300393243F164000000002A")).toBe("urn:epc:id:grai:061414112345..42");
    expect(codeUri("3776451FD40C0E59B2C2BF1000000000000000000000")).toBe(
      "urn:epc:id:grai:9521141.12345.32a%2Fb",
    );
    expect(codeUri("3400393243F167FFFFFFFFFF")).toBe("urn:epc:id:giai:061414112345.4398046511103");
    expect(codeUri("2D00393243F164007B000000")).toBe("urn:epc:id:gsrn:061414112345.00123");
    expect(codeUri("3500E86F8000A9E000000586")).toBe("urn:epc:id:gid:952056.2718.1414");
  });

  it("of a thing is one identity, whatever the filter", () => {
    const pallet = "3034257BF40C0E40000F4245";
    const loose = "3074257BF40C0E40000F4245";
    expect(codeUri(loose)).toBe(codeUri(pallet));
  });

  it("read back is what the coding tables made of its parts", () => {
    const upTo = (bits: bigint) => fc.bigInt({ min: 0n, max: 2n ** bits - 1n });
    const parts = fc.record({
      filter: fc.integer({ min: 0, max: 7 }),
      partition: fc.integer({ min: 0, max: 6 }),
      prefix: upTo(44n),
      reference: upTo(40n),
      serial: fc.oneof(upTo(8n), upTo(64n)),
      characters: fc.array(fc.constantFrom(...serialCharacters.keys()), { minLength: 1, maxLength: 24 }),
      digits: fc.stringMatching(/^\d{1,20}$/),
    });
    fc.assert(
      fc.property(fc.constantFrom(...codingTables), parts, (table, values) => {
        const { hex, identityUri } = encoded(table, values);
        expect(codeUri(hex)).toBe(identityUri);
      }),
      { numRuns: 1000 },
    );
  });

  it("of the general identifier is three whole numbers", () => {
    const upTo = (bits: number) => fc.bigInt({ min: 0n, max: 2n ** BigInt(bits) - 1n });
    fc.assert(
      fc.property(upTo(28), upTo(24), upTo(36), (manager, kind, serial) => {
        const code = (((0x35n << 28n) + manager) << 60n) + (kind << 36n) + serial;
        expect(codeUri(code.toString(16))).toBe(`urn:epc:id:gid:${manager}.${kind}.${serial}`);
      }),
    );
  });
});

const raw = (hex: string) => `urn:epc:raw:${hex.length * 4}.x${hex.toUpperCase()}`;

describe("a code of a scheme with fields of its own", () => {
  const upTo = (most: number) => fc.integer({ min: 0, max: most });
  const office = fc.stringMatching(/^[0-9A-HJ-NP-Z]{5,6}$/);
  const uriText = (text: string) => text.replaceAll("#", "%23").replaceAll("/", "%2F");

  it("ITIP names the piece and how many there are", () => {
    fc.assert(
      fc.property(
        upTo(9_999_999),
        upTo(999_999),
        upTo(99),
        upTo(99),
        upTo(2 ** 38 - 1),
        (prefix, item, piece, total, serial) => {
          const bits = fieldBits(
            [0x40, 8],
            [1, 3],
            [5, 3],
            [prefix, 24],
            [item, 20],
            [piece, 7],
            [total, 7],
            [serial, 38],
          );
          const padded = (value: number, digits: number) => String(value).padStart(digits, "0");
          expect(codeUri(hexWords(bits))).toBe(
            `urn:epc:id:itip:${padded(prefix, 7)}.${padded(item, 6)}.${padded(piece, 2)}.${padded(total, 2)}.${serial}`,
          );
        },
      ),
    );
  });

  it("CPI-96 names the part by a number", () => {
    fc.assert(
      fc.property(upTo(999_999_999_999), upTo(999), upTo(2 ** 31 - 1), (prefix, part, serial) => {
        const bits = fieldBits([0x3c, 8], [0, 3], [0, 3], [prefix, 40], [part, 11], [serial, 31]);
        const company = String(prefix).padStart(12, "0");
        expect(codeUri(hexWords(bits))).toBe(`urn:epc:id:cpi:${company}.${part}.${serial}`);
      }),
    );
  });

  it("CPI-var names it by a text", () => {
    fc.assert(
      fc.property(
        upTo(999_999),
        fc.stringMatching(/^[-#/0-9A-Z]{1,24}$/),
        upTo(999_999_999_999),
        (prefix, part, serial) => {
          const bits =
            fieldBits([0x3d, 8], [7, 3], [6, 3], [prefix, 20]) + sixBits(part) + fieldBits([serial, 40]);
          const company = String(prefix).padStart(6, "0");
          expect(codeUri(hexWords(bits))).toBe(`urn:epc:id:cpi:${company}.${uriText(part)}.${serial}`);
        },
      ),
    );
  });

  it("USDOD names the office and a number", () => {
    fc.assert(
      fc.property(upTo(15), office, fc.bigInt({ min: 0n, max: 2n ** 36n - 1n }), (filter, who, serial) => {
        const characters = [...who.padStart(6, " ")].map((each): [number, number] => [each.charCodeAt(0), 8]);
        const bits = fieldBits([0x2f, 8], [filter, 4], ...characters, [serial, 36]);
        expect(codeUri(hexWords(bits))).toBe(`urn:epc:id:usdod:${who}.${serial}`);
      }),
    );
  });

  it("ADI names the office, the part, if any, and a serial that may begin with a number sign", () => {
    const part = fc.stringMatching(/^[-/0-9A-Z]{0,32}$/);
    const serial = fc.stringMatching(/^#?[-/0-9A-Z]{1,29}$/);
    fc.assert(
      fc.property(upTo(63), office, part, serial, (filter, who, partNumber, number) => {
        const six = sixBits(who.padStart(6, " ")).slice(0, 36);
        const bits = fieldBits([0x3b, 8], [filter, 6]) + six + sixBits(partNumber) + sixBits(number);
        expect(codeUri(hexWords(bits))).toBe(
          `urn:epc:id:adi:${who}.${uriText(partNumber)}.${uriText(number)}`,
        );
      }),
    );
  });

  // Computed from the coding tables; the rules of each field from memory.
  it.each([
    ["a partition of 7", hexWords(fieldBits([0x2c, 8], [3, 3], [7, 3], [0, 82]))],
    [
      "a GDTI-113 whose serial does not begin with a 1",
      hexWords(fieldBits([0x3a, 8], [3, 3], [5, 3], [614141, 24], [12345, 17], [6847, 58])),
    ],
    [
      "a GDTI-113 without a serial",
      hexWords(fieldBits([0x3a, 8], [3, 3], [5, 3], [614141, 24], [12345, 17], [1, 58])),
    ],
    [
      "an SGCN whose serial has 13 digits",
      hexWords(fieldBits([0x3f, 8], [3, 3], [5, 3], [614141, 24], [12345, 17], [2_000_000_000_000, 41])),
    ],
    [
      "a CPI-96 whose part has a digit too many",
      hexWords(fieldBits([0x3c, 8], [3, 3], [0, 3], [1, 40], [1000, 11], [1, 31])),
    ],
    [
      "a CPI-var whose serial has 13 digits",
      hexWords(
        fieldBits([0x3d, 8], [3, 3], [6, 3], [1, 20]) + sixBits("A") + fieldBits([1_000_000_000_000, 40]),
      ),
    ],
    [
      "a CPI-var without a part",
      hexWords(fieldBits([0x3d, 8], [3, 3], [6, 3], [1, 20]) + sixBits("") + fieldBits([1, 40])),
    ],
    [
      "a CPI-var whose part has a character too many",
      hexWords(fieldBits([0x3d, 8], [3, 3], [6, 3], [1, 20]) + sixBits("A".repeat(25)) + fieldBits([1, 40])),
    ],
    [
      "a CPI-var whose part holds a full stop",
      hexWords(fieldBits([0x3d, 8], [3, 3], [6, 3], [1, 20]) + sixBits("A.B") + fieldBits([1, 40])),
    ],
    [
      "a CPI-var that ends within its part",
      hexWords(fieldBits([0x3d, 8], [3, 3], [6, 3], [1, 20]) + sixBits("ABCDEF").slice(0, 30)),
    ],
    [
      "an ITIP with piece 100",
      hexWords(fieldBits([0x40, 8], [1, 3], [5, 3], [614141, 24], [12345, 20], [100, 7], [2, 7], [1, 38])),
    ],
    ["a USDOD with the letter O", hexWords(fieldBits([0x2f, 8], [3, 4], [0x20434f474559, 48], [1, 36]))],
    ["a USDOD with a blank inside", hexWords(fieldBits([0x2f, 8], [3, 4], [0x432041474559, 48], [1, 36]))],
    [
      "an ADI without a serial",
      hexWords(fieldBits([0x3b, 8], [3, 6]) + sixBits(" 35962").slice(0, 36) + sixBits("PQ") + sixBits("")),
    ],
    [
      "an ADI with a number sign in its part",
      hexWords(fieldBits([0x3b, 8], [3, 6]) + sixBits(" 35962").slice(0, 36) + sixBits("#Q") + sixBits("1")),
    ],
    [
      "an ADI with a number sign within its serial",
      hexWords(fieldBits([0x3b, 8], [3, 6]) + sixBits(" 35962").slice(0, 36) + sixBits("Q") + sixBits("1#2")),
    ],
    [
      "an ADI with bits after its serial",
      hexWords(
        `${fieldBits([0x3b, 8], [3, 6])}${sixBits(" 35962").slice(0, 36)}${sixBits("Q")}${sixBits("1")}1`,
      ),
    ],
    ["a GSRNP whose reserved part is not zero", "2E74257BF4499602D2000001"],
  ])("%s is shown raw", (_, hex) => {
    expect(codeUri(hex)).toBe(raw(hex));
  });
});

describe("a code that breaks the rules of its scheme", () => {
  const broken = expecting("reject").filter(({ hex }) => /^[0-9A-F]+$/.test(hex));
  it.each(broken)("$hex is shown raw: $why", ({ hex }) => {
    expect(codeUri(hex)).toBe(raw(hex));
  });

  it.each([
    ["307C257BF7194E4000001A85", "partition 7 is reserved"],
    ["3077FFFFFF194E4000001A85", "company prefix 16777215 has more than 7 digits"],
    ["3074257BF7FFFFC000001A85", "item reference 1048575 has more than 6 digits"],
    ["3174257BF4499602D2000001", "the reserved part of 24 bits is not all zero"],
    ["3174257BF7FFFFFFFF000000", "serial reference 17179869183 has more than 10 digits"],
    ["2D74257BF4499602D2000001", "the reserved part of 24 bits is not all zero"],
    ["3300393243F164400000002A", "asset type 1 must be zero here"],
    ["3674257BF6B7A659B2C2BF1000000000000000000000000001", "those after them are not all zero"],
    ["3674257BF6B7A659B2C2BF1000000000000000000000000004", "the serial number goes on after its end"],
    ["3674257BF6B7A640000000000000000000000000000000000000", "the serial number is empty"],
    ["3674257BF6B7A650000000000000000000000000000000000000", "the serial number holds character 20h"],
    ["3074257BF7194E400000", "SGTIN-96 takes 96 bits, the code has 80"],
    ["3074257BF7194E4000001A850001", "the bits after the 96 are not all zero"],
  ])("%s is shown raw: %s", (hex) => {
    expect(codeUri(hex)).toBe(raw(hex));
  });

  it("may hold more characters than its key allows", () => {
    // A GIAI has 30 characters at the most: 18 after a company prefix of 12 digits.
    const giai = (characters: number) => {
      const bits = `0011100000000${"0".repeat(41)}${"1000001".repeat(characters).padEnd(148, "0")}`;
      return BigInt(`0b${bits.padEnd(208, "0")}`)
        .toString(16)
        .toUpperCase();
    };
    expect(codeUri(giai(18))).toBe(`urn:epc:id:giai:000000000000.${"A".repeat(18)}`);
    expect(codeUri(giai(19))).toBe(raw(giai(19)));
  });
});

describe("a code of a longer reported length", () => {
  it.each(expecting("policy"))("$hex is decoded without its surplus", ({ hex }) => {
    expect(codeUri(hex)).toBe(codeUri(hex.slice(0, 24)));
    expect(codeUri(hex)).toMatch(/^urn:epc:id:sgtin:/);
  });

  it("is the same however many zeros fill it up", () => {
    const uris = ["", "00", "00000000"].map((end) =>
      codeUri(`3674257BF6B7A659B2C2BF1000000000000000000000000000${end}`),
    );
    expect(uris[0]).toMatch(/^urn:epc:id:sgtin:/);
    expect(new Set(uris).size).toBe(1);
  });
});

describe("a code that is not of GS1", () => {
  it.each(expecting("raw"))("$hex is shown raw: $why", ({ hex }) => {
    expect(codeUri(hex)).toBe(raw(hex));
  });

  it("has no bits to name where it is not hexadecimal", () => {
    const labels = expecting("reject").filter(({ hex }) => !/^[0-9A-F]+$/.test(hex));
    expect(labels).toHaveLength(1);
    for (const { hex } of labels) expect(codeUri(hex)).toBeNull();
    expect(codeUri("")).toBeNull();
  });

  it("has no bits to name where it is shorter than any EPC", () => {
    expect(codeUri("3034257BF40C0E4")).toBeNull();
    expect(codeUri("3034257BF40C0E")).toBeNull();
  });

  it("never makes the decoder fall over, nor lose a digit", () => {
    const known = encodings.map(({ hex }) => hex.slice(0, 2));
    const headers = [...new Set(known), "E2", "00", ""];
    const bytes = fc.array(
      fc.string({ unit: fc.constantFrom(..."0123456789ABCDEF"), minLength: 2, maxLength: 2 }),
      {
        minLength: 8,
        maxLength: 30,
      },
    );
    fc.assert(
      fc.property(fc.constantFrom(...headers), bytes, (header, body) => {
        const hex = header + body.join("");
        const uri = codeUri(hex)!;
        if (!uri.startsWith("urn:epc:id:")) expect(uri).toBe(raw(hex));
      }),
      { numRuns: 1000 },
    );
    fc.assert(
      fc.property(fc.string(), (text) => {
        expect(codeUri(text) ?? "urn:epc:raw:").toMatch(/^urn:epc:(id|raw):/);
      }),
    );
  });
});

describe("the list of codes", () => {
  it("has a code of every binary scheme of the EPC Tag Data Standard 1.13", () => {
    const schemes = new Set(encodings.map(({ scheme }) => scheme));
    // The list of schemes by header is from memory.
    expect([...schemes].sort()).toEqual(
      `ADI-VAR CPI-96 CPI-VAR GDTI-113 GDTI-174 GDTI-96 GIAI-202 GIAI-96 GID-96 GRAI-170 GRAI-96 GSRN-96 GSRNP-96 ITIP-110
      ITIP-212 SGCN-96 SGLN-195 SGLN-96 SGTIN-198 SGTIN-96 SSCC-96 USDOD-96`.split(/\s+/),
    );
  });

  it("leaves no row unlooked at", () => {
    expect(encodings).toHaveLength(73);
    const looked = ["reject", "raw", "policy", "decode filter 0"].flatMap(expecting);
    expect(looked).toHaveLength(rejects.length);
    // The standard's Annex E.3 of 1.6 to 1.13 prints this code beside another filter, which an identity does not show.
    for (const { hex } of expecting("decode filter 0"))
      expect(codeUri(hex)).toBe("urn:epc:id:gsrn:0614141.1234567890");
  });
});
