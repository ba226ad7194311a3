import { airInterfaceCrc } from "./air-interface-crc.ts";

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
 * is a fault, since the log then is not of the form that was stated; a wrong CRC is told, not refused.
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
