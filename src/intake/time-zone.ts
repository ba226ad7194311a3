/** Whether the name is an IANA time zone this machine knows. */
export function isTimeZone(name: string): boolean {
  // Fixed offsets are zones to some engines and not to others.
  if (!/^[A-Za-z]/.test(name)) return false;
  try {
    new Intl.DateTimeFormat("en-GB", { timeZone: name });
    return true;
  } catch {
    return false;
  }
}

/** The names that can be suggested. */
export function timeZoneNames(): string[] {
  return [...Intl.supportedValuesOf("timeZone"), "UTC"];
}
