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

export const Answer = { no: 0, yes: 1, blank: 2, other: 3 } as const;
export type Answer = (typeof Answer)[keyof typeof Answer];

const answers = new Map<string, Answer>([
  ["", Answer.blank],
  ["yes", Answer.yes],
  ["y", Answer.yes],
  ["true", Answer.yes],
  ["1", Answer.yes],
  ["no", Answer.no],
  ["n", Answer.no],
  ["false", Answer.no],
  ["0", Answer.no],
]);

/** What a cell says to a yes-or-no question. */
export function answerOf(cell: string): Answer {
  return answers.get(cell) ?? answers.get(cell.trim().toLowerCase()) ?? Answer.other;
}

/** A whole number from 0; NaN for anything else. */
export function wholeNumberOf(text: string): number {
  return /^\d{1,9}$/.test(text) ? Number(text) : Number.NaN;
}

/** A decimal comma made a point, where the text is a number with one; anything else as it is. */
export function withPoint(text: string): string {
  return /^[-+]?\d*,\d+$/.test(text) ? text.replace(",", ".") : text;
}

/** Codes separated by spaces. */
export function codesOf(cell: string): string[] {
  const text = cell.trim();
  return text === "" ? [] : text.split(/\s+/);
}
