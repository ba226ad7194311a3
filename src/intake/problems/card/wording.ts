import { distance } from "fastest-levenshtein";

/* How messages quote what they found, and what they suggest in its place. */

const longest = 60;

/** Marks that would change how the words around them are laid out, and controls that a terminal would obey. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is looked for
const unprintable = /[\u0000-\u001f\u007f-\u009f\u061c\u200b-\u200f\u2028-\u202e\u2066-\u2069\ufeff\ufffd]/g;

/** A text as a message shows it: in quotes, invisible characters spelt out, cut to a readable length. */
export function quoted(text: string): string {
  return `"${shortened(text)}"`;
}

/** The same without the quotes. */
export function shortened(text: string): string {
  const letters = text.length > longest ? [...text.slice(0, 2 * longest + 2)] : null;
  const cut =
    letters !== null && letters.length > longest ? `${letters.slice(0, longest - 1).join("")}…` : text;
  return printable(cut);
}

/** A text without what a terminal or the layout of a line would obey: invisible characters are spelt out. */
export function printable(text: string): string {
  return text.replace(unprintable, (mark) => {
    if (mark === "\n") return "\\n";
    if (mark === "\r") return "\\r";
    if (mark === "\t") return "\\t";
    return `\\u${mark.charCodeAt(0).toString(16).padStart(4, "0")}`;
  });
}

/** Names in a row, the first few of them where there are many: "a", "b" and 3 more. */
export function listing(names: readonly string[], most = 8): string {
  const shown = names.slice(0, most).map(quoted);
  const hidden = names.length - shown.length;
  return hidden > 0 ? `${shown.join(", ")} and ${hidden} more` : shown.join(", ");
}

/** A name with the differences taken out that people do not see: case, spaces, hyphens, dots. */
export function folded(name: string): string {
  return name
    .trim()
    .toLowerCase()
    .replace(/[\s\-.]+/g, "_");
}

/** The candidate that a mistyped word most likely means; null where none is near. */
export function suggest(word: string, candidates: Iterable<string>): string | null {
  return closest(word, candidates, (length) => (length <= 3 ? 1 : length <= 7 ? 2 : 3));
}

/** The same, stricter: for words that may well be meant as they stand. */
export function nearMiss(word: string, candidates: Iterable<string>): string | null {
  return closest(word, candidates, (length) => (length <= 3 ? 0 : length <= 7 ? 1 : 2));
}

/** A sentence to open an advice with; empty where no candidate is near. */
export function didYouMean(word: string, candidates: Iterable<string>): string {
  const candidate = suggest(word, candidates);
  return candidate === null ? "" : `Did you mean ${quoted(candidate)}? `;
}

function closest(
  word: string,
  candidates: Iterable<string>,
  allowed: (length: number) => number,
): string | null {
  const wanted = folded(word);
  let best: string | null = null;
  let bestDistance = Number.POSITIVE_INFINITY;
  for (const candidate of candidates) {
    const name = folded(candidate);
    const shorter = Math.min(wanted.length, name.length);
    // Words of very different length are not slips of the pen, and long ones are slow to compare.
    if (Math.abs(wanted.length - name.length) > 3 || shorter > 200) continue;
    const apart = isSwap(wanted, name) ? 1 : distance(wanted, name);
    if (apart > allowed(shorter) || apart >= bestDistance) continue;
    best = candidate;
    bestDistance = apart;
  }
  return best;
}

/** Two neighbouring letters changed places: one slip, though two letters differ. */
function isSwap(a: string, b: string): boolean {
  if (a.length !== b.length) return false;
  let i = 0;
  while (i < a.length && a[i] === b[i]) i += 1;
  return i + 1 < a.length && a[i] === b[i + 1] && a[i + 1] === b[i] && a.slice(i + 2) === b.slice(i + 2);
}

/** What a parser of XML found, without the place in front of it and the full stop. */
export function xmlFault(message: string): string {
  return message.replace(/^(?:.*?:)?\d+:\d+: /, "").replace(/\.$/, "");
}
