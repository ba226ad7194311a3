/** Breaks a text into lines at ordinary spaces, the first one shorter; figures and their units stay together. */
export function wrap(text: string, width: number, taken = 0): string[] {
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
  widestLine: number,
): string[] {
  const { head } = entry;
  const width = widestLine - head.length;
  const name = plain(entry.name);
  const below = entry.below.flatMap((text) => wrap(text, width));
  const [first, ...rest] =
    name.length > nameWidth
      ? [...wrap(name, width), ...wrap(entry.text, width)]
      : wrap(entry.text, width, nameWidth + 2).map((line, i) =>
          i === 0 ? `${name.padEnd(nameWidth)}  ${line}` : line,
        );
  return [`${head}${first}`, ...[...rest, ...below].map((line) => " ".repeat(head.length) + line)];
}

/** Names come from the inputs: control characters in them must not steer the terminal. */
export function plain(text: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is taken out.
  return text.replace(/[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069]/g, " ");
}
