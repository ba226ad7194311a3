import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { airInterfaceCrc } from "../../src/codes/air-interface.ts";
import { canonicalCode } from "../../src/codes/canonical-code.ts";

const epc = "3034257BF40C0E40000F4245";
const plain = { kind: "hex", code: epc, remarks: [] };

describe("a code in hexadecimal", () => {
  it.each([
    epc,
    epc.toLowerCase(),
    `0x${epc}`,
    `0X${epc.toLowerCase()}`,
    `b'${epc}'`,
    `b"${epc.toLowerCase()}"`,
    `b'0x${epc}'`,
    ` ${epc}\t`,
    `\ufeff${epc}`,
    "3034 257B F40C 0E40 000F 4245",
    "0x3034 257b f40c 0e40 000f 4245",
    "30 34 25 7B F4 0C 0E 40 00 0F 42 45",
    "303\u00a04257BF40C0E40000F4245",
    "30-34-25-7B-F4-0C-0E-40-00-0F-42-45",
    "3034257B-F40C0E40-000F4245",
    "30:34:25:7b:f4:0c:0e:40:00:0f:42:45",
  ])("is the same however it is dressed: %j", (written) => {
    expect(canonicalCode(written)).toEqual(plain);
  });

  it.each([
    ["30E1", "30E1"],
    ["0012", "0012"],
    ["30e1", "30E1"],
    ["00000000", "00000000"],
    ["12345678901234567890123456789012", "12345678901234567890123456789012"],
    ["300000000000000000000000", "300000000000000000000000"],
    ["3034257E10000000000000E7", "3034257E10000000000000E7"],
  ])("that looks like a number stays text: %s", (written, code) => {
    expect(canonicalCode(written)).toEqual({ kind: "hex", code, remarks: [] });
  });

  it("keeps zeros at its end", () => {
    expect(canonicalCode(`${epc}0000`)).toMatchObject({ code: `${epc}0000` });
  });

  it("of no whole number of words is remarked on", () => {
    expect(canonicalCode(epc.slice(0, 22))).toMatchObject({
      code: epc.slice(0, 22),
      remarks: [{ fault: "part-word" }],
    });
    expect(canonicalCode("ABCDEF")).toMatchObject({ remarks: [] });
  });

  it("is brought to one form that nothing changes further", () => {
    const digits = fc.string({
      unit: fc.constantFrom(..."0123456789abcdefABCDEF"),
      minLength: 1,
      maxLength: 31,
    });
    const dress = fc.constantFrom(
      (hex: string) => hex,
      (hex: string) => `0x${hex}`,
      (hex: string) => `b'${hex}'`,
      (hex: string) => hex.replace(/(?<=^(?:.{4})+)/g, " "),
    );
    fc.assert(
      fc.property(digits, dress, (half, dressed) => {
        const hex = half + half;
        const once = canonicalCode(dressed(hex));
        expect(once).toMatchObject({ kind: "hex", code: hex.toUpperCase() });
        expect(canonicalCode(hex.toUpperCase())).toEqual(once);
      }),
    );
  });
});

describe("a label", () => {
  it.each([
    "crate-17",
    "TAG 1",
    "T1",
    "10-20",
    "AB:CD",
    "101",
    "A01",
    "BED",
    "4006381333931",
    "0.5",
    "Kiste Ä",
  ])("stays as it is: %s", (label) => {
    expect(canonicalCode(label)).toEqual({ kind: "text", code: label });
  });

  it("is a code with a character that is no hexadecimal digit", () => {
    expect(canonicalCode("3074257BF7194E40000ZZA85")).toEqual({
      kind: "text",
      code: "3074257BF7194E40000ZZA85",
    });
  });

  it("comes without what a script wrote around it", () => {
    expect(canonicalCode(" b'crate-17' ")).toEqual({ kind: "text", code: "crate-17" });
  });
});

describe("a code that cannot be used", () => {
  it.each([
    ["", "empty"],
    ["  \t", "empty"],
    ["b''", "empty"],
    ["3.03425E+23", "spreadsheet-number"],
    ["3,03425E+23", "spreadsheet-number"],
    ["3e+23", "spreadsheet-number"],
    ["303402570000000000000000.0", "spreadsheet-number"],
    [epc.slice(1), "odd-digits"],
    ["12345678901234567", "odd-digits"],
    ["0x303", "odd-digits"],
    ["3034 257B F40C 0E40 000", "odd-digits"],
    ["0xZZ", "not-hex"],
    ["0x", "not-hex"],
    ["b'04%{\\xf4\\x0c\\x0e@\\x00'", "byte-escapes"],
  ])("%j is refused as %s", (written, fault) => {
    expect(canonicalCode(written)).toMatchObject({
      kind: "refused",
      fault,
      expected: expect.stringMatching(/\S/),
      advice: expect.stringMatching(/\.$/),
    });
  });
});

describe("a code inside the words of the air interface", () => {
  const words = `3000${epc}`;
  const crc = airInterfaceCrc(words);

  it("comes out of them", () => {
    expect(canonicalCode(`0x${words.toLowerCase()}`, "pc-epc")).toEqual(plain);
    expect(canonicalCode(words + crc, "pc-epc-crc")).toEqual(plain);
    expect(canonicalCode(`3000 ${epc} ${crc}`, "pc-epc-crc")).toEqual(plain);
  });

  it("is as long as the upper five bits of the PC word say, whatever the lower ones are", () => {
    expect(canonicalCode(`37FF${epc}`, "pc-epc")).toEqual(plain);
    expect(canonicalCode(`4000${epc}00FFAB12`, "pc-epc")).toEqual({ ...plain, code: `${epc}00FFAB12` });
  });

  it("of any length comes out again", () => {
    const content = fc.array(fc.integer({ min: 0, max: 0xffff }), { minLength: 1, maxLength: 31 });
    fc.assert(
      fc.property(content, fc.integer({ min: 0, max: 0x7ff }), (epcWords, flags) => {
        const hex = (word: number) => word.toString(16).toUpperCase().padStart(4, "0");
        const code = epcWords.map(hex).join("");
        const written = hex((epcWords.length << 11) | flags) + code;
        expect(canonicalCode(written, "pc-epc")).toEqual({ kind: "hex", code, remarks: [] });
        expect(canonicalCode(written + airInterfaceCrc(written), "pc-epc-crc")).toEqual({
          kind: "hex",
          code,
          remarks: [],
        });
      }),
    );
  });

  it("is used and remarked on where its CRC does not match", () => {
    expect(canonicalCode(`${words}0000`, "pc-epc-crc")).toEqual({
      ...plain,
      remarks: [{ fault: "crc-mismatch", text: `the CRC is 0000, but PC word and EPC make ${crc}` }],
    });
  });

  it("is freed of the zeros that a reader's buffer left behind it", () => {
    expect(canonicalCode(`${words}00000000`, "pc-epc")).toEqual({
      ...plain,
      remarks: [{ fault: "padding", text: "8 zero digits after the EPC were left off" }],
    });
  });

  it.each([
    [epc, "pc-epc-crc", "length-mismatch"],
    [words, "pc-epc-crc", "length-mismatch"],
    [words + crc, "pc-epc", "length-mismatch"],
    [words.slice(0, -4), "pc-epc", "length-mismatch"],
    ["0000", "pc-epc", "no-epc"],
    ["0000E2F0", "pc-epc-crc", "no-epc"],
    ["30", "pc-epc", "no-protocol-word"],
    ["crate-17", "pc-epc", "not-hex"],
    ["101", "pc-epc", "not-hex"],
  ] as const)("%s as %s is refused: %s", (written, form, fault) => {
    expect(canonicalCode(written, form)).toMatchObject({ kind: "refused", fault });
  });

  it("is refused with the count that the PC word states", () => {
    expect(canonicalCode(words, "pc-epc-crc")).toMatchObject({
      expected: "32 digits, as the PC word counts 6 words of EPC, found 28",
    });
  });
});

describe("any text", () => {
  it("is a code, a label or refused, and never an error", () => {
    fc.assert(
      fc.property(
        fc.oneof(
          fc.string({ unit: "binary" }),
          fc.string({ unit: fc.constantFrom(..."0123aeEfFxb'\" -:+=.,") }),
        ),
        fc.constantFrom("hex" as const, "pc-epc" as const, "pc-epc-crc" as const, "base64" as const),
        (written, form) => {
          const made = canonicalCode(written, form);
          if (made.kind === "hex") expect(made.code).toMatch(/^(?:[0-9A-F]{2})+$/);
          else expect(["text", "refused"]).toContain(made.kind);
        },
      ),
      { numRuns: 1000 },
    );
  });
});
