/** Lines end in CRLF, LF or CR, whichever way the others end. */
export const lineEnd = /\r\n|\n|\r/;

/** The lines of a text; nothing follows the last line end. */
export function linesOf(text: string): string[] {
  const lines = text.split(lineEnd);
  if (lines.at(-1) === "") lines.pop();
  return lines;
}

/** How many lines end in each way. */
export interface LineEnds {
  lf: number;
  crlf: number;
  cr: number;
}

/** Counts line ends; to part a text into lines takes several times its memory. */
export function lineEndsIn(text: string): LineEnds {
  const crlf = countOf("\r\n", text);
  return { lf: countOf("\n", text) - crlf, crlf, cr: countOf("\r", text) - crlf };
}

function countOf(end: string, text: string): number {
  let count = 0;
  for (let at = text.indexOf(end); at >= 0; at = text.indexOf(end, at + end.length)) count += 1;
  return count;
}

export const commentMark = /^\s*(?:#+|\/\/+)\s*/;

/** A line that holds no row. */
export function isBlankOrComment(line: string): boolean {
  return line.trim() === "" || commentMark.test(line);
}

const blankOrCommentIn = /(?:^|\n|\r(?!\n))[^\S\r\n]*(?:\r|\n|#|\/\/)/;

/** Whether any line holds no row, of a text whose last line ends. */
export function hasBlankOrComment(text: string): boolean {
  return blankOrCommentIn.test(text);
}
