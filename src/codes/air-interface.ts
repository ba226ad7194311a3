/**
 * The CRC-16 that a UHF tag sends after its protocol control (PC) word and EPC, as four upper-case hexadecimal digits.
 *
 * @param hex whole bytes as hexadecimal text: the PC word and the EPC, in this order; the empty text gives 0000
 *
 * Preset FFFFh, polynomial 1021h (x^16 + x^12 + x^5 + 1), most significant bit first, every bit inverted at the end.
 *
 * Source: EPC UHF Gen2 air interface, ISO/IEC 18000-63, "CRC-16" (parameters from memory; CRC catalogues list them under
 * CRC-16/GENIBUS, also called CRC-16/EPC, read).
 * Worked example: 3000 1111 2222 3333 4444 5555 6666 gives 1835.
 */
export function airInterfaceCrc(hex: string): string {
  let register = 0xffff;
  for (let at = 0; at < hex.length; at += 2) {
    register ^= Number.parseInt(hex.slice(at, at + 2), 16) << 8;
    for (let bit = 0; bit < 8; bit += 1) {
      register = ((register << 1) ^ ((register & 0x8000) === 0 ? 0 : 0x1021)) & 0xffff;
    }
  }
  return (register ^ 0xffff).toString(16).toUpperCase().padStart(4, "0");
}

/** An EPC taken out from between the words that the air interface puts around it, or why that cannot be done. */
export type UnwrappedEpc =
  | {
      fault: null;
      epc: string;
      /** The CRC that was written and the one that PC word and EPC make, where they differ. */
      crcMismatch: { written: string; computed: string } | null;
      /** Zero digits that a reader's buffer left after the EPC. */
      paddingDigits: number;
    }
  | { fault: "too-short" | "no-epc" }
  | { fault: "length"; statedWords: number; expectedDigits: number };

const digitsPerWord = 4;

/**
 * Takes the protocol control (PC) word off the front of an EPC and, where `withCrc`, the CRC-16 off its end.
 *
 * @param hex PC word, EPC and perhaps CRC as canonical hexadecimal text
 *
 * The five highest bits of the PC word count the 16-bit words of the EPC. Edges: a count of zero is a tag without an EPC;
 * where the digits are not as many as the count says, zeros after an EPC without a CRC are padding, and anything else
 * is a fault, since the log then does not have the form that was stated; a wrong CRC is reported, not refused.
 *
 * Source: EPC UHF Gen2 air interface, ISO/IEC 18000-63, EPC memory bank (quoted by public vendors' pages).
 * Worked example: 3000 E2004216CB60601500951ED6 B91F holds the 6 words E2004216CB60601500951ED6.
 */
export function unwrappedEpc(hex: string, withCrc: boolean): UnwrappedEpc {
  if (hex.length < digitsPerWord) return { fault: "too-short" };
  const statedWords = Number.parseInt(hex.slice(0, digitsPerWord), 16) >> 11;
  if (statedWords === 0) return { fault: "no-epc" };
  const end = digitsPerWord * (1 + statedWords);
  const expectedDigits = end + (withCrc ? digitsPerWord : 0);
  const rest = hex.slice(end);
  const sound = withCrc ? hex.length === expectedDigits : hex.length >= end && /^0*$/.test(rest);
  if (!sound) return { fault: "length", statedWords, expectedDigits };
  const epc = hex.slice(digitsPerWord, end);
  if (!withCrc) return { fault: null, epc, crcMismatch: null, paddingDigits: rest.length };
  const computed = airInterfaceCrc(hex.slice(0, end));
  const crcMismatch = rest === computed ? null : { written: rest, computed };
  return { fault: null, epc, crcMismatch, paddingDigits: 0 };
}
