import type { Source } from "./terminal.ts";

/** A command line to go on with, which can be copied: about the same data and facilities. */
export function nextCommand(words: string, { data, only }: Source): string {
  const source = [...(data === "data" ? [] : ["--data", data]), ...only.flatMap((id) => ["--only", id])];
  return ["Next: proofwalk", words, ...source.map(shellWord)].join(" ");
}

/** A word as a shell takes it for one. */
export function shellWord(word: string): string {
  if (/^[\w@%+=:,./-]+$/.test(word)) return word;
  return /["$`\\!]/.test(word) ? `'${word.replaceAll("'", "'\\''")}'` : `"${word}"`;
}
