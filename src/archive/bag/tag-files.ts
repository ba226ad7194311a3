/** What bagit.txt declares. */
export interface Declaration {
  version: string;
  encoding: string;
}

const declarationForm =
  /^BagIt-Version: (\d+\.\d+)(?:\r\n|\n|\r)Tag-File-Character-Encoding: ([\w.:-]+)(?:\r\n|\n|\r)?$/;
const versions = ["0.93", "0.94", "0.95", "0.96", "0.97", "1.0"];

/** The two lines of bagit.txt, or a sentence on what is wrong with them. */
export function readDeclaration(bytes: Uint8Array): Declaration | string {
  const text = decoded(bytes, "utf-8", true);
  if (text === null) return "bagit.txt is not UTF-8.";
  if (text.startsWith("\ufeff")) return "bagit.txt begins with a byte order mark, which it must not have.";
  const match = declarationForm.exec(text);
  if (match === null)
    return 'bagit.txt does not have its two lines, "BagIt-Version: 1.0" and "Tag-File-Character-Encoding: UTF-8".';
  const [, version, encoding] = match as unknown as [string, string, string];
  if (!versions.includes(version))
    return `bagit.txt states version ${version}; known are ${versions.join(", ")}.`;
  return { version, encoding };
}

/** The text of a tag file without its byte order mark; null where it is not in the encoding, or the encoding is not known. */
export function tagFileText(bytes: Uint8Array, encoding: string): string | null {
  if (/^iso-8859-1$/i.test(encoding)) return Buffer.from(bytes).toString("latin1");
  const isBigEndian = /^utf-16$/i.test(encoding) && bytes[0] === 0xfe && bytes[1] === 0xff;
  return decoded(bytes, isBigEndian ? "utf-16be" : encoding, false);
}

function decoded(bytes: Uint8Array, encoding: string, ignoreBOM: boolean): string | null {
  try {
    return new TextDecoder(encoding, { fatal: true, ignoreBOM }).decode(bytes);
  } catch {
    return null;
  }
}

export interface TagEntry {
  label: string;
  value: string;
}

/** The entries of bag-info.txt, continued lines joined; null where a line has no label. */
export function readTagEntries(text: string): TagEntry[] | null {
  const entries: TagEntry[] = [];
  for (const line of linesOf(text)) {
    if (line === "") continue;
    const last = entries.at(-1);
    if (/^[ \t]/.test(line)) {
      if (last === undefined) return null;
      last.value += ` ${line.trim()}`;
      continue;
    }
    const match = /^([^:]+?)[ \t]*:[ \t]*(.*)$/.exec(line);
    if (match === null) return null;
    entries.push({ label: match[1]!, value: match[2]!.trimEnd() });
  }
  return entries;
}

/** Each entry on a line of its own: a line end, or another control character, in a value becomes a blank. */
export function tagEntriesText(entries: TagEntry[]): string {
  return entries.map(({ label, value }) => `${label}: ${oneLine(value)}\n`).join("");
}

function oneLine(text: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is taken out
  return text.replace(/[\s\u0000-\u001f\u007f-\u009f\u2028\u2029]+/g, " ").trim();
}

/** The values of a label, whatever its capitals. */
export function valuesOf(entries: TagEntry[], label: string): string[] {
  return entries
    .filter((entry) => entry.label.toLowerCase() === label.toLowerCase())
    .map(({ value }) => value);
}

export function linesOf(text: string): string[] {
  return text.split(/\r\n|\n|\r/);
}
