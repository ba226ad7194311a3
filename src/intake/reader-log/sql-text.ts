/** A text as a constant of SQL, for the few places that take no parameter. */
export function literal(text: string): string {
  return `'${text.replaceAll("'", "''")}'`;
}

/** A name as SQL takes it, whatever is in it. */
export function identifier(name: string): string {
  return `"${name.replaceAll('"', '""')}"`;
}
