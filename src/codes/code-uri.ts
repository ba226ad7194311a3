import { fewestEpcDigits } from "./bare-hex.ts";
import { canonicalCode } from "./canonical-code.ts";
import { tagIdentity } from "./gs1-tag.ts";

/**
 * How a tag's code is called outside its log: the pure identity URI of a GS1 code, the raw URI of any other hexadecimal
 * one, null for a label that is no code at all. Never an error: most tags in the field carry no GS1 code.
 */
export function codeUri(tag: string): string | null {
  const read = canonicalCode(tag);
  if (read.kind !== "hex" || read.code.length < fewestEpcDigits) return null;
  const identity = tagIdentity(read.code);
  if (identity.kind === "gs1") return identity.identityUri;
  return identity.kind === "raw" ? identity.uri : null;
}
