const unsafe = /[<\u2028\u2029]/g;

/** A value as JSON that can stand inside a script element: nothing in it can close the element or break a line. */
export function jsonIsland(value: unknown): string {
  return JSON.stringify(value).replace(
    unsafe,
    (character) => `\\u${character.charCodeAt(0).toString(16).padStart(4, "0")}`,
  );
}
