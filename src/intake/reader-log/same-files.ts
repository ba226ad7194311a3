import type { LogSource } from "./log-source.ts";

/**
 * Files with the same bytes as an earlier one that is read in the same way, by number, each with the earlier one's number.
 * Only files of one size can be the same, so the others need not be waited for.
 */
export async function sameFiles(
  sources: readonly LogSource[],
  hashes: readonly Promise<string>[],
): Promise<Map<number, number>> {
  const bySize = new Map<number, LogSource[]>();
  for (const source of sources) {
    const alike = bySize.get(source.bytes);
    if (alike === undefined) bySize.set(source.bytes, [source]);
    else alike.push(source);
  }
  const twins = new Map<number, number>();
  for (const alike of bySize.values()) {
    if (alike.length === 1) continue;
    const firstOf = new Map<string, number>();
    for (const { index, spec, kind, zipped } of alike) {
      const key = JSON.stringify([await hashes[index]!, kind, zipped, { ...spec, files: [] }]);
      const first = firstOf.get(key);
      if (first === undefined) firstOf.set(key, index);
      else twins.set(index, first);
    }
  }
  return twins;
}
