import { describe, expect, it } from "vitest";
import { airInterfaceCrc, unwrappedEpc } from "../../src/codes/air-interface.ts";

// Check value of CRC-16/GENIBUS, alias CRC-16/EPC, for the nine characters 123456789. Provenance: read in public copies of
// the reveng catalogue of parametrised CRC algorithms.
const catalogue = { bytes: "313233343536373839", crc: "D64E" };

// EPC UHF Gen2 air interface, annex with examples of a tag's CRC-16 for EPCs of zero to six words. Provenance: from memory;
// all seven agree with the definition.
const examples: [string, string][] = [
  ["0000", "E2F0"],
  ["08001111", "CCAE"],
  ["100011112222", "968F"],
  ["1800111122223333", "78F6"],
  ["20001111222233334444", "C241"],
  ["280011112222333344445555", "2A91"],
  ["3000111122223333444455556666", "1835"],
];

// A tag's whole answer as a user of a reader chip wrote it down in the chip maker's public forum ("How is the CRC 16
// calculated", answer of 16 bytes). Provenance: read.
const heard = { pc: "3000", epc: "E2004216CB60601500951ED6", crc: "B91F" };

describe("the CRC-16 of the air interface", () => {
  it("is the catalogue's for its check text", () => {
    expect(airInterfaceCrc(catalogue.bytes)).toBe(catalogue.crc);
  });

  it.each(examples)("after %s is %s", (words, crc) => {
    expect(airInterfaceCrc(words)).toBe(crc);
  });

  it("is what a real tag sent", () => {
    expect(airInterfaceCrc(heard.pc + heard.epc)).toBe(heard.crc);
    expect(unwrappedEpc(heard.pc + heard.epc + heard.crc, true)).toEqual({
      fault: null,
      epc: heard.epc,
      crcMismatch: null,
      paddingDigits: 0,
    });
  });

  it("of a message with its CRC behind it is always 1D0F inverted", () => {
    // The residue of CRC-16/GENIBUS is 1D0F in the same catalogue (read), before the last inversion.
    for (const [words, crc] of examples) expect(airInterfaceCrc(words + crc)).toBe("E2F0");
  });
});
