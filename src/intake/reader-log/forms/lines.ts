/** Lines end in CRLF, LF or CR, whichever way the others end. */
export const lineEnd = /\r\n|\n|\r/;

/** The lines of a text; nothing follows the last line end. */
export function linesOf(text: string): string[] {
  const lines = text.split(lineEnd);
  if (lines.at(-1) === "") lines.pop();
  return lines;
}

export const commentMark = /^\s*(?:#+|\/\/+)\s*/;

/** A line that holds no row. */
export function isBlankOrComment(line: string): boolean {
  return line.trim() === "" || commentMark.test(line);
}
