import { StringDecoder } from "node:string_decoder";

/** What was met on the way through the lines of a text. */
export interface LineCounts {
  lf: number;
  crlf: number;
  cr: number;
  /** Whether the last line ends like the others. */
  finalNewline: boolean;
  ascii: boolean;
  /** Whether a byte sequence was met that is no UTF-8. */
  broken: boolean;
  byteOrderMark: boolean;
}

/** A line longer than this is no line of a log; it is handed on in its first part. */
const longestLine = 1 << 20;

/**
 * Walks the lines of a text, whichever way each of them ends; a lone CR ends one only where the text has no LF in its
 * beginning. `onLine` gets each line without its end, its number from 1, and whether it ends at all: the last one may not.
 */
export async function walkLines(
  bytes: AsyncIterable<Buffer>,
  loneCr: boolean,
  onLine: (line: string, number: number, ended: boolean) => void,
): Promise<LineCounts> {
  const counts: LineCounts = {
    lf: 0,
    crlf: 0,
    cr: 0,
    finalNewline: true,
    ascii: true,
    broken: false,
    byteOrderMark: false,
  };
  const decoder = new StringDecoder("utf8");
  const end = loneCr ? "\r" : "\n";
  let rest = "";
  let number = 0;
  let overlong = false;
  const take = (text: string): void => {
    let from = 0;
    for (let at = text.indexOf(end); at >= 0; at = text.indexOf(end, from)) {
      let line = text.slice(from, at);
      from = at + 1;
      if (loneCr) counts.cr += 1;
      else if (line.endsWith("\r")) {
        counts.crlf += 1;
        line = line.slice(0, -1);
      } else counts.lf += 1;
      if (overlong) {
        overlong = false;
        continue;
      }
      number += 1;
      onLine(line, number, true);
    }
    rest = text.slice(from);
    if (overlong) rest = "";
    else if (rest.length > longestLine) {
      number += 1;
      overlong = true;
      onLine(rest.slice(0, longestLine), number, true);
      rest = "";
    }
  };
  for await (const piece of bytes) {
    let text: string;
    if (counts.ascii && isAscii(piece)) text = piece.toString("latin1");
    else {
      counts.ascii = false;
      text = decoder.write(piece);
      if (!counts.broken && text.includes("\ufffd")) counts.broken = true;
    }
    if (number === 0 && rest === "" && text.startsWith("\ufeff")) {
      counts.byteOrderMark = true;
      text = text.slice(1);
    }
    take(rest === "" ? text : rest + text);
  }
  rest += decoder.end();
  if (rest !== "") {
    counts.finalNewline = false;
    onLine(rest.endsWith("\r") ? rest.slice(0, -1) : rest, number + 1, false);
  }
  return counts;
}

function isAscii(piece: Buffer): boolean {
  for (let i = 0; i < piece.length; i += 1) if (piece[i]! > 0x7f) return false;
  return true;
}
