/** Narrow no-break space: before a unit and between thousands. */
export const thinSpace = "\u202f";
export const noBreakSpace = "\u00a0";

const trueMinus = "\u2212";

const words = [
  "no",
  "one",
  "two",
  "three",
  "four",
  "five",
  "six",
  "seven",
  "eight",
  "nine",
  "ten",
  "eleven",
  "twelve",
];

/** A whole number in figures; thousands are parted from five digits on: 1200, 12 480. */
export function countText(count: number): string {
  const digits = Math.abs(count).toFixed(0);
  const parted = digits.length < 5 ? digits : digits.replace(/\B(?=(\d{3})+$)/g, thinSpace);
  return count < 0 ? `${trueMinus}${parted}` : parted;
}

/** Small numbers in words, up to twelve, for running text; nought is "no". */
export function countWord(count: number): string {
  return words[count] ?? countText(count);
}

/** `1 pass`, `24 passes`. */
export function counted(count: number, one: string, many: string): string {
  return `${countText(count)} ${count === 1 ? one : many}`;
}

/** `one pass`, `24 passes`. */
export function countedInWords(count: number, one: string, many: string): string {
  return `${countWord(count)} ${count === 1 ? one : many}`;
}

/** A number with a fixed count of decimals and a true minus; never a minus before nought. */
export function decimalText(value: number, digits: number): string {
  const text = Math.abs(value).toFixed(digits);
  return value < 0 && /[1-9]/.test(text) ? `${trueMinus}${text}` : text;
}

/** A number as it was stated, without tails of binary arithmetic and with a true minus: 99.5, −70. */
export function statedNumber(value: number): string {
  const text = String(Number(value.toPrecision(12)));
  return text.replace(/^-/, trueMinus);
}

/** A share as a percentage, as it was stated: 0.995 is `99.5 %`. */
export function statedPercent(share: number): string {
  return `${statedNumber(share * 100)}${thinSpace}%`;
}

/** `a`, `a and b`, `a, b and c`. */
export function joined(parts: string[], last = "and"): string {
  if (parts.length < 2) return parts.join("");
  return `${parts.slice(0, -1).join(", ")} ${last} ${parts[parts.length - 1]}`;
}

/** The texts that are not empty: what there is to say. */
export function nonEmpty(texts: readonly string[]): string[] {
  return texts.filter((text) => text !== "");
}

/** The same text with its first letter raised. */
export function sentenceStart(text: string): string {
  return text.slice(0, 1).toUpperCase() + text.slice(1);
}

/** Exact, or the number nearest to it: releases of Node differ in the last digit of their own powers. */
export function powerOfTen(exponent: number): number {
  return Number(`1e${exponent}`);
}
