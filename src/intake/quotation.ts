const longest = 60;

/** Marks that would change how the words around them are laid out, and controls that a terminal would obey. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is looked for
const unprintable = /[\u0000-\u001f\u007f-\u009f\u061c\u200b-\u200f\u2028-\u202e\u2066-\u2069\ufeff\ufffd]/g;

/** A text as a message shows it: in quotes, invisible characters spelt out, cut to a readable length. */
export function quoted(text: string): string {
  return `"${shortened(text)}"`;
}

/** The same without the quotes. */
export function shortened(text: string): string {
  const letters = text.length > longest ? [...text.slice(0, 2 * longest + 2)] : null;
  const cut =
    letters !== null && letters.length > longest ? `${letters.slice(0, longest - 1).join("")}…` : text;
  return cut.replace(unprintable, (mark) => {
    if (mark === "\n") return "\\n";
    if (mark === "\r") return "\\r";
    if (mark === "\t") return "\\t";
    return `\\u${mark.charCodeAt(0).toString(16).padStart(4, "0")}`;
  });
}

/** Names in a row, the first few of them where there are many: "a", "b" and 3 more. */
export function listing(names: readonly string[], most = 8): string {
  const shown = names.slice(0, most).map(quoted);
  const hidden = names.length - shown.length;
  return hidden > 0 ? `${shown.join(", ")} and ${hidden} more` : shown.join(", ");
}
