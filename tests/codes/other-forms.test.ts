import { describe, expect, test } from "vitest";
import { canonicalCode } from "../../src/codes/canonical-code.ts";
import { nearestReading } from "../../src/codes/nearest-reading.ts";

const epc = "3034257BF40C0E40000F4245";
const inAscii = Buffer.from(epc).toString("hex");
const inDecimal = BigInt(`0x${epc}`).toString();
const lastByteFirst = "45420F00400E0CF47B253430";

describe("a code in another form", () => {
  test("the characters of a code in hexadecimal are that code, zero bytes behind them or not", () => {
    expect(canonicalCode(inAscii, "ascii-hex")).toEqual({ kind: "hex", code: epc, remarks: [] });
    expect(canonicalCode(`0x${inAscii}0000`, "ascii-hex")).toMatchObject({ code: epc });
  });

  test("the characters of a label in hexadecimal are that label", () => {
    const written = Buffer.from("PALLET-7").toString("hex");
    expect(canonicalCode(written, "ascii-hex")).toEqual({ kind: "text", code: "PALLET-7" });
  });

  test("bytes that are no characters are refused", () => {
    expect(canonicalCode(epc, "ascii-hex")).toMatchObject({ kind: "refused", fault: "not-ascii" });
  });

  test("a decimal number gets back the zeros in front that it lost", () => {
    expect(canonicalCode(inDecimal, "decimal")).toMatchObject({ kind: "hex", code: epc });
    expect(canonicalCode("255", "decimal")).toMatchObject({ code: "00000000000000FF" });
    const low = "00B07A1400000000000001FF";
    expect(canonicalCode(BigInt(`0x${low}`).toString(), "decimal")).toMatchObject({ code: low });
  });

  test("a number in exponent notation, letters and too many digits are refused in decimal", () => {
    expect(canonicalCode("3.08E+23", "decimal")).toMatchObject({ fault: "spreadsheet-number" });
    expect(canonicalCode(epc, "decimal")).toMatchObject({ fault: "not-decimal" });
    expect(canonicalCode("9".repeat(151), "decimal")).toMatchObject({ fault: "not-decimal" });
  });

  test("bytes from the last to the first are turned round", () => {
    expect(canonicalCode(lastByteFirst, "hex-reversed")).toMatchObject({ kind: "hex", code: epc });
  });
});

describe("the nearest reading of codes that are not known", () => {
  const other = "E2004216CB60601500951ED6";
  const nearest = (text: string, known = epc) =>
    nearestReading(
      [
        { text: other, form: "hex" },
        { text, form: "hex" },
      ],
      [known],
    );

  test.each([
    ["ascii-hex", inAscii],
    ["decimal", inDecimal],
    ["hex-reversed", lastByteFirst],
    ["pc-epc", `3000${epc}`],
    ["pc-epc-crc", `3000${epc}1234`],
    ["base64", Buffer.from(epc, "hex").toString("base64")],
  ])("is %s where the log writes that", (form, text) => {
    expect(nearest(text)).toEqual({ kind: "form", form, matches: 1, written: text, known: epc });
  });

  test("is a form of the known codes where those are written in another one", () => {
    expect(nearest(epc, inDecimal)).toMatchObject({ kind: "known-form", form: "decimal", known: inDecimal });
  });

  test("is the URI where one side writes the code and the other its URI", () => {
    const uri = "urn:epc:id:sgtin:0614141.012345.1000005";
    expect(nearest(uri)).toEqual({ kind: "uri", matches: 1, written: uri, known: epc });
    expect(nearest(epc, uri)).toMatchObject({ kind: "uri", written: epc, known: uri });
  });

  test("is none where nothing fits", () => {
    expect(nearest("300011112222333344445555")).toBe(null);
  });
});
