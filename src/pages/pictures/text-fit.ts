import { unbrokenUnits } from "../words/units.ts";

/** Widths of Source Sans 3 in ems, by kind of letter: accurate enough to break lines without the font. */
function widthOf(letter: string): number {
  if (/[\u0300-\u036f\u200b-\u200f\u202a-\u202e\u2060-\u2069]/.test(letter)) return 0;
  if (/[ ijl|.,:;'!\u00a0\u202f]/.test(letter)) return 0.26;
  if (/[frt()[\]/\\-]/.test(letter)) return 0.35;
  if (/[mwMW@%]/.test(letter)) return 0.85;
  if (/[A-Z&]/.test(letter)) return 0.6;
  if (/[a-z0-9]/.test(letter)) return 0.51;
  return letter > "\u2e7f" ? 1 : 0.62;
}

const letterWidths = new Map<string, number>();

function letterWidth(letter: string): number {
  let ems = letterWidths.get(letter);
  if (ems === undefined) {
    ems = widthOf(letter);
    letterWidths.set(letter, ems);
  }
  return ems;
}

/** About how wide a text is, in the unit of its size. */
export function textWidth(text: string, size: number): number {
  let ems = 0;
  for (const letter of text) ems += letterWidth(letter);
  return ems * size;
}

function cut(text: string, width: number, size: number): string {
  if (textWidth(text, size) <= width) return text;
  let kept = "";
  for (const letter of text) {
    if (textWidth(`${kept}${letter}\u2026`, size) > width) break;
    kept += letter;
  }
  return `${kept.trimEnd()}\u2026`;
}

/** The text in one line, cut where it does not fit. */
export function fitLine(text: string, width: number, size: number): string {
  return fitText(text, { width, size, lines: 1 })[0] ?? "";
}

/** The text in as many lines as it needs, at most `lines`; what does not fit ends in an ellipsis. */
export function fitText(
  text: string,
  { width, size, lines }: { width: number; size: number; lines: number },
): string[] {
  const words = unbrokenUnits(text)
    .split(/[ \t\r\n]+/)
    .filter((word) => word !== "");
  const fitted: string[] = [];
  let line = "";
  for (const [index, word] of words.entries()) {
    const longer = line === "" ? word : `${line} ${word}`;
    if (line === "" || textWidth(longer, size) <= width) {
      line = longer;
      continue;
    }
    if (fitted.length === lines - 1) {
      line = [line, ...words.slice(index)].join(" ");
      break;
    }
    fitted.push(line);
    line = word;
  }
  if (line !== "") fitted.push(line);
  return fitted.map((entry) => cut(entry, width, size));
}
