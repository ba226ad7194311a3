/** A place where two values of JSON differ. A side that does not have the place is left out. */
export interface Difference {
  /** `findings[3].estimate.lower`. */
  at: string;
  sealed?: unknown;
  judged?: unknown;
}

/** Every place, as deep as possible, where two values of JSON differ. The order of keys tells nothing. */
export function differencesOf(sealed: unknown, judged: unknown, at = ""): Difference[] {
  if (Array.isArray(sealed) && Array.isArray(judged)) {
    const longest = Math.max(sealed.length, judged.length);
    return Array.from({ length: longest }, (_, i) =>
      partOf({ sealed, judged }, String(i), `${at}[${i}]`),
    ).flat();
  }
  if (isObject(sealed) && isObject(judged)) {
    const keys = [...new Set([...Object.keys(sealed), ...Object.keys(judged)])];
    return keys.flatMap((key) => partOf({ sealed, judged }, key, at === "" ? key : `${at}.${key}`));
  }
  return Object.is(sealed, judged) ? [] : [{ at, sealed, judged }];
}

function partOf(
  { sealed, judged }: { sealed: object; judged: object },
  key: string,
  at: string,
): Difference[] {
  const [a, b] = [sealed, judged].map((side) => (side as Record<string, unknown>)[key]);
  if (!Object.hasOwn(sealed, key)) return [{ at, judged: b }];
  if (!Object.hasOwn(judged, key)) return [{ at, sealed: a }];
  return differencesOf(a, b, at);
}

function isObject(value: unknown): value is object {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}
