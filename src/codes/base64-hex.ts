const alphabet = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";

/**
 * The bytes of a base64 text as upper-case hexadecimal, or null where it is none.
 *
 * Takes the standard and the URL-safe alphabet, with its `=` padding or without. Edges: padding that does not fill the
 * last group of four, a lone last character, and bits left over that are not zero are no base64; the empty text is
 * the empty text.
 *
 * Source: RFC 4648, sections 4, 5 and 3.5 (canonical encoding) (from memory).
 * Worked example: `MDQleQ==` is 30342579.
 */
export function base64Hex(text: string): string | null {
  const match = /^([A-Za-z0-9+/_-]*)(={0,2})$/.exec(text);
  if (match === null) return null;
  const [, symbols = "", padding = ""] = match;
  if (symbols.length % 4 === 1) return null;
  if (padding !== "" && (symbols.length + padding.length) % 4 !== 0) return null;
  let bits = "";
  for (const symbol of symbols) {
    const standard = symbol === "-" ? "+" : symbol === "_" ? "/" : symbol;
    bits += alphabet.indexOf(standard).toString(2).padStart(6, "0");
  }
  const whole = bits.length - (bits.length % 8);
  if (bits.includes("1", whole)) return null;
  let hex = "";
  for (let at = 0; at < whole; at += 4) hex += Number.parseInt(bits.slice(at, at + 4), 2).toString(16);
  return hex.toUpperCase();
}
