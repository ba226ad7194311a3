/**
 * Parts a line into its fields. Fields may stand in double quotes, with two of them for one inside; null where a quote is
 * not closed. Blanks around a field are taken off.
 */
export function fieldsOf(line: string, delimiter: string | null): string[] | null {
  if (delimiter === null) return [unquoted(line.trim())];
  if (!line.includes('"')) return parted(line, delimiter);
  const fields: string[] = [];
  let at = 0;
  while (at <= line.length) {
    let start = at;
    while (line[start] === " " && delimiter !== " ") start += 1;
    if (line[start] !== '"') {
      const end = line.indexOf(delimiter, at);
      fields.push(line.slice(at, end < 0 ? line.length : end).trim());
      if (end < 0) return fields;
      at = end + 1;
      continue;
    }
    let close = line.indexOf('"', start + 1);
    while (close >= 0 && line[close + 1] === '"') close = line.indexOf('"', close + 2);
    if (close < 0) return null;
    let next = close + 1;
    while (line[next] === " " && delimiter !== " ") next += 1;
    if (next < line.length && line[next] !== delimiter) return null;
    fields.push(
      line
        .slice(start + 1, close)
        .replaceAll('""', '"')
        .trim(),
    );
    if (next >= line.length) return fields;
    at = next + 1;
  }
  return fields;
}

function parted(line: string, delimiter: string): string[] {
  const fields = line.split(delimiter);
  for (let i = 0; i < fields.length; i += 1) {
    const field = fields[i]!;
    const first = field.charCodeAt(0);
    const last = field.charCodeAt(field.length - 1);
    if (first <= 0x20 || last <= 0x20 || first > 0x7f || last > 0x7f) fields[i] = field.trim();
  }
  return fields;
}

function unquoted(text: string): string {
  return /^".*"$/s.test(text) ? text.slice(1, -1).replaceAll('""', '"') : text;
}
