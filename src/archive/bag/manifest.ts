import { byCodePoint } from "../../model/order.ts";
import { decodedPath } from "./paths.ts";
import { linesOf } from "./tag-files.ts";

/** Names of algorithms as bags have them, to those that Node has. */
const algorithms = new Map([
  ["md5", "md5"],
  ["sha1", "sha1"],
  ["sha224", "sha224"],
  ["sha256", "sha256"],
  ["sha384", "sha384"],
  ["sha512", "sha512"],
  ["sha3224", "sha3-224"],
  ["sha3256", "sha3-256"],
  ["sha3384", "sha3-384"],
  ["sha3512", "sha3-512"],
]);

/** A manifest in the root of a bag, by its file name. */
export interface ManifestName {
  file: string;
  lists: "payload" | "tags";
  /** As Node calls it; null for one that it does not have. */
  algorithm: string | null;
}

/** What a file of this name lists; null where it is no manifest. */
export function manifestName(file: string): ManifestName | null {
  const match = /^(tag)?manifest-([a-z0-9-]+)\.txt$/i.exec(file);
  if (match === null) return null;
  const algorithm = algorithms.get(match[2]!.toLowerCase().replaceAll("-", "")) ?? null;
  return { file, lists: match[1] === undefined ? "payload" : "tags", algorithm };
}

export interface ManifestEntry {
  /** As it is written, without what tools of other kinds put before it. */
  written: string;
  /** As it is on the disk, by the rules of version 1.0. */
  path: string;
  /** In lower-case digits. */
  checksum: string;
}

export interface ReadManifest {
  entries: ManifestEntry[];
  /** Lines that are none of a manifest, by number. */
  unread: number[];
  /** Whether paths begin with `./` or `*`, as checksum tools write them and manifests should not. */
  isOfTools: boolean;
}

/** Reads what stands in a manifest, without a word on whether it is right: blank lines are passed over, others told by number. */
export function readManifest(text: string): ReadManifest {
  const entries: ManifestEntry[] = [];
  const unread: number[] = [];
  let isOfTools = false;
  for (const [i, line] of linesOf(text).entries()) {
    if (line === "") continue;
    const match = /^([0-9a-f]+)[ \t]+(\*?(?:\.\/)?)(.+)$/i.exec(line);
    if (match === null) {
      unread.push(i + 1);
      continue;
    }
    const [, checksum, start, written] = match as unknown as [string, string, string, string];
    if (start !== "") isOfTools = true;
    entries.push({ written, path: decodedPath(written), checksum: checksum.toLowerCase() });
  }
  return { entries, unread, isOfTools };
}

/** A manifest in the form that `sha512sum -c` reads, by code point. The paths are those that `whyNotCarried` lets pass. */
export function manifestText(checksums: ReadonlyMap<string, string>): string {
  return [...checksums]
    .sort(([a], [b]) => byCodePoint(a, b))
    .map(([path, checksum]) => `${checksum}  ${path}\n`)
    .join("");
}
