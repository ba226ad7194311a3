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

/** Names come from the inputs: control characters in them must not steer the terminal. */
export function plain(text: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is taken out.
  return text.replace(/[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069]/g, " ");
}
