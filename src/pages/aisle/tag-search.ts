/** As many of a code's last digits as it takes to tell the codes of a load apart, from four to eight. */
export function tailLength(codes: string[]): number {
  const first = codes[0] ?? "";
  let shared = first.length;
  for (const code of codes) while (!code.startsWith(first.slice(0, shared))) shared -= 1;
  return Math.max(4, Math.min(8, first.length - shared));
}

/** Codes that end in what is looked for; where none does, those that hold it anywhere. */
export function foundTags(codes: string[], wanted: string): string[] {
  const text = wanted.trim().toUpperCase();
  const ending = codes.filter((code) => code.toUpperCase().endsWith(text));
  return ending.length > 0 ? ending : codes.filter((code) => code.toUpperCase().includes(text));
}
