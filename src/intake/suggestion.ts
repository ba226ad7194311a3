import { distance } from "fastest-levenshtein";
import { quoted } from "./quotation.ts";

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
