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
