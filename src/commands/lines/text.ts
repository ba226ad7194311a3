/** Columns of text in the terminal. */
export const widestLine = 110;

/** Breaks a text into lines at ordinary spaces, the first one shorter; figures and their units stay together. */
export function wrap(text: string, width = widestLine, taken = 0): string[] {
  const lines: string[] = [];
  let line = "";
  for (const word of plain(text)
    .split(" ")
    .filter((part) => part !== "")) {
    const room = lines.length === 0 ? width - taken : width;
    if (line !== "" && line.length + 1 + word.length > room) {
      lines.push(line);
      line = word;
    } else line = line === "" ? word : `${line} ${word}`;
  }
  return line === "" ? lines : [...lines, line];
}

/** Names longer than this stand on a line of their own, so that what is said of them keeps its column. */
const widestName = 28;

/** How wide the column of names is. */
export function nameColumn(names: string[]): number {
  return Math.min(widestName, Math.max(0, ...names.map((name) => plain(name).length)));
}

/** One entry of a list: its word, whom it is about, what is said of it, and under that what else belongs to it. */
export function entryLines(
  entry: { head: string; name: string; text: string; below: string[] },
  nameWidth: number,
  width = widestLine,
): string[] {
  const { head } = entry;
  const room = width - head.length;
  const name = plain(entry.name);
  const below = entry.below.flatMap((text) => wrap(text, room));
  const [first, ...rest] =
    name.length > nameWidth
      ? [...wrap(name, room), ...wrap(entry.text, room)]
      : wrap(entry.text, room, nameWidth + 2).map((line, i) =>
          i === 0 ? `${name.padEnd(nameWidth)}  ${line}` : line,
        );
  return [`${head}${first}`, ...[...rest, ...below].map((line) => " ".repeat(head.length) + line)];
}

/** Cells under each other, all of them to the left but for the column `right`; a column of blanks takes no room. */
export function aligned(rows: readonly string[][], { right = -1 }: { right?: number } = {}): string[] {
  const widths = rows[0]?.map((_, i) => Math.max(...rows.map((row) => row[i]!.length))) ?? [];
  return rows.map((row) => {
    const cells = row.flatMap((cell, i) => {
      if (widths[i] === 0) return [];
      return [i === right ? cell.padStart(widths[i]!) : cell.padEnd(widths[i]!)];
    });
    return `  ${cells.join("  ")}`.trimEnd();
  });
}

/** Names come from the inputs: control characters in them must not steer the terminal. */
export function plain(text: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is taken out.
  return text.replace(/[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069]/g, " ");
}

/** JSON for other programs. What a terminal would obey is written as an escape, which is the same text. */
export function jsonText(value: unknown): string {
  const escaped = (mark: string) => `\\u${mark.charCodeAt(0).toString(16).padStart(4, "0")}`;
  const text = JSON.stringify(value, null, 2).replace(/[\u007f-\u009f\u202a-\u202e\u2066-\u2069]/g, escaped);
  return `${text}\n`;
}
