/** A cell without the blanks around it; most have none, and are handed back as they are. */
export function trimmed(cell: string): string {
  if (cell === "") return cell;
  const first = cell.charCodeAt(0);
  const last = cell.charCodeAt(cell.length - 1);
  return isBlank(first) || isBlank(last) ? cell.trim() : cell;
}

function isBlank(code: number): boolean {
  return code <= 0x20 || code === 0xa0 || code > 0x1fff;
}

export const Word = { no: 0, yes: 1, blank: 2, other: 3 } as const;
export type Word = (typeof Word)[keyof typeof Word];

const words = new Map<string, Word>([
  ["", Word.blank],
  ["yes", Word.yes],
  ["y", Word.yes],
  ["true", Word.yes],
  ["1", Word.yes],
  ["no", Word.no],
  ["n", Word.no],
  ["false", Word.no],
  ["0", Word.no],
]);

/** What a cell says to a yes-or-no question. */
export function wordOf(cell: string): Word {
  return words.get(cell) ?? words.get(cell.trim().toLowerCase()) ?? Word.other;
}

/** A whole number from 0; NaN for anything else. */
export function wholeNumberOf(text: string): number {
  return /^\d{1,9}$/.test(text) ? Number(text) : Number.NaN;
}

/** A decimal comma made a point, where the text is a number with one; anything else as it is. */
export function withPoint(text: string): string {
  return /^[-+]?\d*,\d+$/.test(text) ? text.replace(",", ".") : text;
}

/** Codes parted by blanks. */
export function codesOf(cell: string): string[] {
  const text = cell.trim();
  return text === "" ? [] : text.split(/\s+/);
}
