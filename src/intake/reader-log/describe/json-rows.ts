/** A line of JSON as texts, in the order of the names; null where it is no object. */
export function jsonFields(line: string, names: readonly string[]): string[] | null {
  const object = jsonObject(line);
  return object === null ? null : names.map((name) => textOf(valueAt(object, name)));
}

/**
 * The names that the first lines hold, in the order they turn up. A value inside an object goes by its path, with dots
 * between the keys.
 */
export function jsonNames(lines: readonly string[]): string[] {
  const names = new Set<string>();
  for (const line of lines) {
    const object = jsonObject(line);
    if (object !== null) for (const [name] of leavesOf(object)) names.add(name);
  }
  return [...names];
}

/** Names whose values are lists, or objects that no path reaches, and those whose values are numbers too long to survive as one. */
export function jsonTroubles(lines: readonly string[]): { nested: string[]; longNumbers: string[] } {
  const nested = new Set<string>();
  const longNumbers = new Set<string>();
  for (const line of lines) {
    for (const [name, value] of leavesOf(jsonObject(line) ?? {})) {
      if (typeof value === "object" && value !== null) nested.add(name);
      if (typeof value === "number" && Math.abs(value) >= 1e20) longNumbers.add(name);
    }
  }
  return { nested: [...nested], longNumbers: [...longNumbers] };
}

/** Whether a text begins with an object that goes on over the line's end, as where it was laid out for people. */
export function isSpreadJson(lines: readonly string[]): boolean {
  return lines.length > 1 && /^\s*\{/.test(lines[0]!) && lines.every((line) => jsonObject(line) === null);
}

/** Values and their names, as deep as names reach: a key with a dot in it can only be named at the outermost level. */
function leavesOf(object: Record<string, unknown>): [string, unknown][] {
  return Object.entries(object).flatMap(([key, value]): [string, unknown][] =>
    isObject(value) && !key.includes(".") ? innerLeaves(value, key) : [[key, value]],
  );
}

function innerLeaves(object: Record<string, unknown>, path: string): [string, unknown][] {
  const entries = Object.entries(object);
  if (entries.length === 0 || entries.some(([key]) => key.includes("."))) return [[path, object]];
  return entries.flatMap(([key, value]): [string, unknown][] =>
    isObject(value) ? innerLeaves(value, `${path}.${key}`) : [[`${path}.${key}`, value]],
  );
}

/** A key of that very name goes before a path. */
function valueAt(object: Record<string, unknown>, name: string): unknown {
  if (Object.hasOwn(object, name)) return object[name];
  let value: unknown = object;
  for (const key of name.split(".")) {
    if (!isObject(value) || !Object.hasOwn(value, key)) return undefined;
    value = value[key];
  }
  return value;
}

function isObject(value: unknown): value is Record<string, unknown> {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

function jsonObject(line: string): Record<string, unknown> | null {
  try {
    const value: unknown = JSON.parse(line);
    return isObject(value) ? value : null;
  } catch {
    return null;
  }
}

function textOf(value: unknown): string {
  if (value === undefined || value === null) return "";
  if (typeof value === "string") return value.trim();
  return typeof value === "object" ? JSON.stringify(value) : String(value);
}
