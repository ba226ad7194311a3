/** The fields of one line; null where its quotes do not close. */
export function lineFields(text: string, delimiter: string): string[] | null {
  if (!text.includes('"')) return text.split(delimiter);
  const fields: string[] = [];
  let at = 0;
  while (true) {
    let field: string;
    if (text[at] === '"') {
      const end = closingQuote(text, at + 1);
      if (end < 0) return null;
      field = text.slice(at + 1, end).replaceAll('""', '"');
      at = end + 1;
      if (at < text.length && !text.startsWith(delimiter, at)) return null;
    } else {
      const end = text.indexOf(delimiter, at);
      field = end < 0 ? text.slice(at) : text.slice(at, end);
      if (field.includes('"')) return null;
      at += field.length;
    }
    fields.push(field);
    if (at >= text.length) return fields;
    at += delimiter.length;
  }
}

function closingQuote(text: string, from: number): number {
  for (let at = text.indexOf('"', from); at >= 0; at = text.indexOf('"', at + 2)) {
    if (text[at + 1] !== '"') return at;
  }
  return -1;
}
