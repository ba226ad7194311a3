import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { tagIdentity } from "../../src/codes/gs1-tag.ts";
import { codingTables, encoded, serialCharacters } from "./epc-codes/encoder.ts";
import { fixtureRows } from "./epc-codes/fixture-rows.ts";

// Source and provenance stand in each row of the CSV files.
const encodings = fixtureRows<{ hex: string; uri: string; scheme: string }>("encodings.csv");
const rejects = fixtureRows<{ hex: string; expect: string; why: string }>("rejects.csv");
const expecting = (expectation: string) => rejects.filter((row) => row.expect === expectation);

describe("a GS1 code", () => {
  it.each(encodings)("$hex is $uri", ({ hex, uri, scheme }) => {
    // The standard's Annex E.3 of 1.6 to 1.13 prints this code beside filter 3: an erratum, as rejects.csv says.
    expect(tagIdentity(hex)).toMatchObject({ kind: "gs1", scheme, note: null, tagUri: erratum(hex) ?? uri });
  });

  function erratum(hex: string): string | null {
    return hex === "2D14257BF4499602D2000000" ? "urn:epc:tag:gsrn-96:0.0614141.1234567890" : null;
  }

  it("is the same in either case of its letters", () => {
    for (const { hex } of encodings) expect(tagIdentity(hex.toLowerCase())).toEqual(tagIdentity(hex));
  });

  it("names the thing without filter and length", () => {
    const identity = (hex: string) => {
      const tag = tagIdentity(hex);
      return tag.kind === "gs1" ? tag.identityUri : tag;
    };
    // Computed from the tag URIs above by the grammar of pure identity URIs in the GS1 EPC Tag Data Standard.
    expect(identity("3034257BF40C0E40000F4245")).toBe("urn:epc:id:sgtin:0614141.012345.1000005");
    expect(identity("3666C4409047E159B2C2BF100000000000000000000000000000")).toBe(
      "urn:epc:id:sgtin:95060001343.05.32a%2Fb",
    );
    expect(identity("311BA1B300CE0A6A83000000")).toBe("urn:epc:id:sscc:952012.03456789123");
    expect(identity("3276451FD46072000000162E")).toBe("urn:epc:id:sgln:9521141.12345.5678");
    expect(identity("3300393243F164000000002A")).toBe("urn:epc:id:grai:061414112345..42");
    expect(identity("3776451FD40C0E59B2C2BF1000000000000000000000")).toBe(
      "urn:epc:id:grai:9521141.12345.32a%2Fb",
    );
    expect(identity("3400393243F167FFFFFFFFFF")).toBe("urn:epc:id:giai:061414112345.4398046511103");
    expect(identity("2D00393243F164007B000000")).toBe("urn:epc:id:gsrn:061414112345.00123");
    expect(identity("3500E86F8000A9E000000586")).toBe("urn:epc:id:gid:952056.2718.1414");
  });

  it("of a thing is one identity, whatever the filter", () => {
    const [pallet, loose] = [
      tagIdentity("3034257BF40C0E40000F4245"),
      tagIdentity("3074257BF40C0E40000F4245"),
    ];
    expect(pallet).toMatchObject({ tagUri: "urn:epc:tag:sgtin-96:1.0614141.012345.1000005" });
    expect(loose).toMatchObject({ tagUri: "urn:epc:tag:sgtin-96:3.0614141.012345.1000005" });
    expect(pallet.kind === "gs1" && loose.kind === "gs1" && pallet.identityUri === loose.identityUri).toBe(
      true,
    );
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
    });
    fc.assert(
      fc.property(fc.constantFrom(...codingTables), parts, (table, values) => {
        const { hex, tagUri, identityUri } = encoded(table, values);
        expect(tagIdentity(hex)).toEqual({
          kind: "gs1",
          scheme: table.name.toUpperCase(),
          tagUri,
          identityUri,
          note: null,
        });
      }),
      { numRuns: 1000 },
    );
  });

  it("of the general identifier is three whole numbers", () => {
    const upTo = (bits: number) => fc.bigInt({ min: 0n, max: 2n ** BigInt(bits) - 1n });
    fc.assert(
      fc.property(upTo(28), upTo(24), upTo(36), (manager, kind, serial) => {
        const code = (((0x35n << 28n) + manager) << 60n) + (kind << 36n) + serial;
        expect(tagIdentity(code.toString(16))).toMatchObject({
          tagUri: `urn:epc:tag:gid-96:${manager}.${kind}.${serial}`,
          identityUri: `urn:epc:id:gid:${manager}.${kind}.${serial}`,
        });
      }),
    );
  });
});

const raw = (hex: string) => `urn:epc:raw:${hex.length * 4}.x${hex.toUpperCase()}`;

describe("a code that breaks the rules of its scheme", () => {
  const broken = expecting("reject").filter(({ hex }) => /^[0-9A-F]+$/.test(hex));
  it.each(broken)("$hex is shown raw: $why", ({ hex }) => {
    expect(tagIdentity(hex)).toMatchObject({ kind: "raw", uri: raw(hex) });
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
    ["3674257BF6B7A650000000000000000000000000000000000000", "holds character 20h"],
  ])("%s says which: %s", (hex, reason) => {
    const tag = tagIdentity(hex);
    expect(tag.kind === "raw" && tag.reason).toContain(reason);
  });

  it("is told by its length too", () => {
    const tag = tagIdentity("3074257BF7194E400000");
    expect(tag.kind === "raw" && tag.reason).toBe("SGTIN-96 takes 96 bits, the code has 80");
    expect(tagIdentity("3074257BF7194E4000001A850001")).toMatchObject({
      kind: "raw",
      uri: "urn:epc:raw:112.x3074257BF7194E4000001A850001",
    });
  });

  it("may hold more characters than its key allows", () => {
    // 19 characters after a company prefix of 12 digits: a GIAI has 30 at the most.
    const text = "1000001".repeat(19).padEnd(148, "0");
    const bits = `0011100000000${"0".repeat(41)}${text}`.padEnd(208, "0");
    const tag = tagIdentity(BigInt(`0b${bits}`).toString(16));
    expect(tag.kind === "raw" && tag.reason).toContain("more than 18 characters");
  });
});

describe("a code of a longer reported length", () => {
  it.each(expecting("policy"))("$hex is decoded without its surplus, and said so", ({ hex }) => {
    const trimmed = hex.slice(0, 24);
    const tag = tagIdentity(hex);
    expect(tag).toEqual({
      ...tagIdentity(trimmed),
      note: expect.stringContaining("16 zero bits were left off"),
    });
    expect(tag).toMatchObject({ scheme: "SGTIN-96", note: expect.stringContaining("reported 112") });
  });

  it("is no matter for remarks where the last word is only filled up", () => {
    for (const end of ["", "00"]) {
      expect(tagIdentity(`3674257BF6B7A659B2C2BF1000000000000000000000000000${end}`)).toMatchObject({
        note: null,
      });
    }
    expect(tagIdentity(`3674257BF6B7A659B2C2BF1000000000000000000000000000000000`)).toMatchObject({
      note: "SGTIN-198 takes 198 bits, the reader reported 224; 26 zero bits were left off",
    });
  });
});

describe("a code that is not of GS1", () => {
  it.each(expecting("raw"))("$hex is shown raw: $why", ({ hex }) => {
    expect(tagIdentity(hex)).toMatchObject({ kind: "raw", uri: raw(hex) });
  });

  it("has no bits to name where it is not hexadecimal", () => {
    const labels = expecting("reject").filter(({ hex }) => !/^[0-9A-F]+$/.test(hex));
    expect(labels).toHaveLength(1);
    for (const { hex } of labels)
      expect(tagIdentity(hex)).toEqual({ kind: "text", reason: "not hexadecimal" });
    expect(tagIdentity("")).toMatchObject({ kind: "text" });
  });

  it("never makes the decoder fall over, nor lose a digit", () => {
    const headers = ["2D", "30", "31", "32", "33", "34", "35", "36", "37", "38", "E2", "00", ""];
    const digits = fc.string({ unit: fc.constantFrom(..."0123456789ABCDEF"), minLength: 1, maxLength: 60 });
    fc.assert(
      fc.property(fc.constantFrom(...headers), digits, (header, body) => {
        const tag = tagIdentity(header + body);
        if (tag.kind === "raw") expect(tag.uri).toBe(raw(header + body));
        else expect(tag.kind).toBe("gs1");
      }),
      { numRuns: 1000 },
    );
    fc.assert(
      fc.property(fc.string(), (text) => {
        expect(["gs1", "raw", "text"]).toContain(tagIdentity(text).kind);
      }),
    );
  });
});

describe("the list of codes", () => {
  it("leaves no row unlooked at", () => {
    expect(encodings).toHaveLength(48);
    const looked = ["reject", "raw", "policy", "decode filter 0"].flatMap(expecting);
    expect(looked).toHaveLength(rejects.length);
    for (const { hex } of expecting("decode filter 0")) {
      expect(tagIdentity(hex)).toMatchObject({ tagUri: "urn:epc:tag:gsrn-96:0.0614141.1234567890" });
    }
  });
});
