import { describe, expect, it } from "vitest";
import { encodeGrai96 } from "../../demonstration/grai.ts";

const quotedOld = "GS1 TDS 1.6 to 1.13, Annex E.3: quoted by public test suites";
const quotedNew = "GS1 TDS 2.3, Annex E.3: quoted by public test suites";
const computed = "computed from the bit layout in the standard, with an independent codec";

/** Hexadecimal code, filter, company prefix, asset type, serial, and where the pair comes from. */
const vectors: [string, number, string, string, bigint, string][] = [
  ["3374257BF40C0E400000162E", 3, "0614141", "12345", 5678n, quotedOld],
  ["3376451FD40C0E400000162E", 3, "9521141", "12345", 5678n, quotedNew],
  ["3300393243F164000000002A", 0, "061414112345", "", 42n, computed],
  ["33042DC1CFF440000000002B", 0, "06141411234", "0", 43n, computed],
  ["33102EDAF18087C00000002E", 0, "06141411", "0543", 46n, computed],
  ["3314257BF4054E000000002F", 0, "0614141", "05432", 47n, computed],
  ["33183BF980350C7FFFFFFFFF", 0, "061414", "054321", 274877906943n, computed],
];

describe("a GRAI-96 code", () => {
  it.each(vectors)(
    "%s is what filter %i, prefix %s, asset type %s, serial %s make",
    (hex, filter, companyPrefix, assetType, serial) => {
      expect(encodeGrai96({ filter, companyPrefix, assetType, serial })).toBe(hex);
    },
  );

  it("is refused where a field does not fit its digits or bits", () => {
    const fits = { filter: 0, companyPrefix: "9529999", assetType: "00101", serial: 1n };
    expect(() => encodeGrai96({ ...fits, companyPrefix: "95299" })).toThrow(RangeError);
    expect(() => encodeGrai96({ ...fits, assetType: "101" })).toThrow(RangeError);
    expect(() => encodeGrai96({ ...fits, filter: 8 })).toThrow(RangeError);
    expect(() => encodeGrai96({ ...fits, serial: 274877906944n })).toThrow(RangeError);
  });
});
