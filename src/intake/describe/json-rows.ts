/** A line of JSON as texts, in the order of the names; null where it is no object. */
export function jsonFields(line: string, names: readonly string[]): string[] | null {
  const object = jsonObject(line);
  return object === null ? null : names.map((name) => textOf(object[name]));
}

/** The names that the first lines hold, in the order they turn up. */
export function jsonNames(lines: readonly string[]): string[] {
  const names = new Set<string>();
  for (const line of lines) for (const name of Object.keys(jsonObject(line) ?? {})) names.add(name);
  return [...names];
}

/** Names whose values are objects or lists, and those whose values are numbers too long to survive as one. */
export function jsonTroubles(lines: readonly string[]): { nested: string[]; longNumbers: string[] } {
  const nested = new Set<string>();
  const longNumbers = new Set<string>();
  for (const line of lines) {
    for (const [name, value] of Object.entries(jsonObject(line) ?? {})) {
      if (typeof value === "object" && value !== null) nested.add(name);
      if (typeof value === "number" && Math.abs(value) >= 1e20) longNumbers.add(name);
    }
  }
  return { nested: [...nested], longNumbers: [...longNumbers] };
}

function jsonObject(line: string): Record<string, unknown> | null {
  try {
    const value: unknown = JSON.parse(line);
    return typeof value === "object" && value !== null && !Array.isArray(value)
      ? (value as Record<string, unknown>)
      : null;
  } catch {
    return null;
  }
}

function textOf(value: unknown): string {
  if (value === undefined || value === null) return "";
  if (typeof value === "string") return value.trim();
  return typeof value === "object" ? JSON.stringify(value) : String(value);
}
