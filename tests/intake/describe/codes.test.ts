import { describe, expect, it } from "vitest";
import { airInterfaceCrc } from "../../../src/codes/air-interface.ts";
import { describeCodes, guessForm } from "../../../src/intake/reader-log/describe/codes.ts";

const epcs = Array.from(
  { length: 12 },
  (_, i) => `3034257BF40C0E4000000${(i + 256).toString(16).toUpperCase()}`,
);

function told(codes: string[]) {
  const { form, doubt } = guessForm(new Set(codes));
  const { facts, remarks } = describeCodes(new Set(codes), form);
  return { ...facts, formDoubt: doubt, remarks };
}

describe("what is around an EPC gives itself away", () => {
  it("nothing: plain hexadecimal, whatever the dress", () => {
    for (const dress of [
      (e: string) => e,
      (e: string) => `0x${e}`,
      (e: string) => `b'${e}'`,
      (e: string) => e.toLowerCase(),
    ]) {
      expect(told(epcs.map(dress))).toMatchObject({ form: "hex", formDoubt: null, distinct: 12 });
    }
  });

  it("a PC word before it counts its words", () => {
    const shapes = told(epcs.map((epc) => `3000${epc}`));
    expect(shapes).toMatchObject({ form: "pc-epc", distinct: 12 });
    expect(shapes.formDoubt).toContain("count the words behind them");
  });

  it("a CRC behind it proves itself", () => {
    const codes = epcs.map((epc) => `3000${epc}${airInterfaceCrc(`3000${epc}`)}`);
    expect(told(codes)).toMatchObject({ form: "pc-epc-crc", formDoubt: null, distinct: 12 });
  });

  it("a CRC that matches nowhere is not believed, and that is said", () => {
    const shapes = told(epcs.map((epc) => `3000${epc}0000`));
    expect(shapes.form).toBe("hex");
    expect(shapes.formDoubt).toContain("the checksums do not match");
  });

  it("the characters of codes in hexadecimal are known by their bytes, and decimal codes by their length", () => {
    expect(told(epcs.map((epc) => Buffer.from(epc).toString("hex")))).toMatchObject({
      form: "ascii-hex",
      distinct: 12,
    });
    expect(told(epcs.map((epc) => BigInt(`0x${epc}`).toString()))).toMatchObject({
      form: "decimal",
      distinct: 12,
    });
  });

  it("base64 is known by its letters", () => {
    const codes = epcs.map((epc) => Buffer.from(epc, "hex").toString("base64"));
    expect(told(codes)).toMatchObject({ form: "base64", distinct: 12 });
  });
});

it("labels, URNs and decimal digits are named for what they are", () => {
  const shapes = told(["urn:epc:id:sgtin:0614141.107346.2017", "PALLET 12 LEFT", "303425790000000000000017"]);
  expect(shapes.shapes.map(({ shape }) => shape).sort()).toEqual([
    "24 digits, all decimal (text all the same)",
    "URNs, kept as labels",
    "not hexadecimal",
  ]);
});

it("codes that a spreadsheet spoilt are counted, and hexadecimal with an E in it is none", () => {
  expect(told(["3.03426E+23"]).remarks.join()).toContain("1 code is in exponent notation");
  expect(told(["30E1", "3034257BF40C0E4000000E12"]).remarks).toEqual([]);
});

it("one tag in two spellings is one tag, and that is said", () => {
  const shapes = told([epcs[0]!, epcs[0]!.toLowerCase(), epcs[1]!]);
  expect(shapes).toMatchObject({ distinct: 2 });
  expect(shapes.remarks.join()).toContain("3 spellings stand for 2 tags");
});

it("lists of codes in one cell are said to be lists", () => {
  expect(told([`${epcs[0]},${epcs[1]}`]).remarks.join()).toContain("looks like a list");
});
