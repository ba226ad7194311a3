/** Codes of readers have 64 bits and more: a short label of hexadecimal letters is a label. */
const shortestCode = 16;

/** What a code is called besides its digits: the pure identity, or the raw URI; empty for a label. */
export function codeName(tag: string, uri: string | null): string {
  if (uri === null) return "";
  return uri.startsWith("urn:epc:raw:") && tag.length < shortestCode ? "" : uri;
}
