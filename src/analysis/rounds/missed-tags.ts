import { codeUri } from "../../codes/code-uri.ts";
import { byCodePoint, stableBy } from "../../model/order.ts";
import { type PassLog, Role } from "../../model/pass-log.ts";
import type { MissedTag } from "../../model/result.ts";

/** Tags missed at least once in a valid pass, the most often missed first, with the passes that missed them. */
export function rankMissedTags(rows: Int32Array, log: PassLog): MissedTag[] {
  const { pass, tag, role, reads } = log.rows;
  const presented = new Map<number, number>();
  const missedIn = new Map<number, number[]>();
  for (const row of rows) {
    if (role[row] !== Role.presented || tag[row] === -1) continue;
    if (log.passes[pass[row]!]!.voidReason !== null) continue;
    presented.set(tag[row]!, (presented.get(tag[row]!) ?? 0) + 1);
    if (reads[row]! > 0) continue;
    const passes = missedIn.get(tag[row]!);
    if (passes === undefined) missedIn.set(tag[row]!, [pass[row]!]);
    else passes.push(pass[row]!);
  }
  const ranked = [...missedIn].map(([number, passes]) => ({
    tag: log.tags[number]!,
    uri: codeUri(log.tags[number]!),
    presented: presented.get(number)!,
    missed: passes.length,
    passes: passes.sort((a, b) => a - b).map((one) => log.passes[one]!.id),
  }));
  return ranked.sort(
    stableBy(
      (a, b) => b.missed - a.missed,
      (a, b) => a.presented - b.presented,
      (a, b) => byCodePoint(a.tag, b.tag),
    ),
  );
}
