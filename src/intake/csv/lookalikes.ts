/** Cyrillic and Greek letters that look like a Latin letter or a digit in most typefaces, each before it. */
const pairs = "АAВBЕEІIЈJКKМMНHОOРPСCЅSТTУYХXаaеeһhіiјjоoрpсcѕsуyхx" + "ΑAΒBΕEΖZΗHΙIΚKΜMΝNΟOΡPΤTΥYΧXοoνv";
const latinOf = new Map(
  Array.from({ length: pairs.length / 2 }, (_, i) => [pairs[2 * i]!, pairs[2 * i + 1]!]),
);
const beyondAscii = /[\u0080-\uffff]/;
/** Full-width forms, and the letters and digits of formulas: the same characters in another dress. */
const dressed = /[\uff01-\uff5e\u{1d400}-\u{1d7ff}]/u;
const invisible = /[\u00ad\u200b-\u200f\u202a-\u202e\u2060\u2066-\u2069\ufeff]/gu;

/** A character that looks like another, and that one. */
export interface Lookalike {
  character: string;
  looksLike: string;
}

/**
 * What a text looks like: full-width forms, and Cyrillic and Greek letters that look like Latin ones, written in ASCII, without
 * characters that nobody sees. Two texts that look the same have one appearance.
 *
 * Worked example: `P` with a full-width 1 looks like `P1`.
 */
export function appearance(text: string): string {
  if (!beyondAscii.test(text)) return text;
  return Array.from(text.replace(invisible, ""), plainCharacter).join("");
}

function plainCharacter(character: string): string {
  return latinOf.get(character) ?? (dressed.test(character) ? character.normalize("NFKC") : character);
}

/**
 * The first character that looks like another, in a word that mixes it with Latin letters, or in a hexadecimal code; null where
 * there is none. A word all in Cyrillic or Greek is no mixture.
 */
export function lookalikeIn(text: string): Lookalike | null {
  if (!beyondAscii.test(text)) return null;
  for (const word of text.split(/[^\p{L}\p{N}]+/u)) {
    const isMixed = /[A-Za-z]/.test(word) || /^[0-9A-Fa-f]{16,}$/.test(appearance(word));
    const found = isMixed ? firstLookalike(word) : null;
    if (found !== null) return found;
  }
  return null;
}

/** The first character of a text that is not what it looks like; null where all are. */
export function firstLookalike(text: string): Lookalike | null {
  for (const character of text) {
    const looksLike = appearance(character);
    if (looksLike !== character) return { character, looksLike };
  }
  return null;
}
