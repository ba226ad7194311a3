import { codeUri } from "../../codes/code-uri.ts";
import { byCodePoint, stableBy } from "../../model/order.ts";
import type { ChangedTag, TagChanges } from "../../model/result/comparison.ts";
import type { Walk } from "./walk.ts";

/**
 * Which tags one round read every time and the other missed, among those that both presented.
 *
 * Counts presentations of valid passes in the wanted combinations of conditions, those that the rounds are compared
 * over. A tag that both rounds missed is counted, whether it came out better or worse; one that neither missed, or that
 * only one round presented, is no change. Rows that name no tag are passed over: where a round has any, its tags are not
 * known to have been read every time, and the caller gives no answer.
 * Most often missed first, by count, then fewest presented, then by code point.
 * Example: A missed never of 2 and then in 1 of 3 is newly missed; B missed in 2 of 2 and then never is newly read.
 */
export function tagChanges(before: Walk, after: Walk, wanted: ReadonlySet<number>): TagChanges {
  const { tags } = after.log;
  const earlier = countTags(before, wanted);
  const later = countTags(after, wanted);
  const changes: TagChanges = { inBoth: 0, missedInBoth: 0, newlyMissed: [], newlyRead: [] };
  for (const [tag, was] of earlier) {
    const is = later.get(tag);
    if (is === undefined) continue;
    changes.inBoth += 1;
    if (was.missed > 0 && is.missed > 0) changes.missedInBoth += 1;
    if (was.missed > 0 === is.missed > 0) continue;
    const changed = { tag: tags[tag]!, uri: codeUri(tags[tag]!), before: was, after: is };
    (is.missed > 0 ? changes.newlyMissed : changes.newlyRead).push(changed);
  }
  changes.newlyMissed.sort(mostMissed(({ after }) => after));
  changes.newlyRead.sort(mostMissed(({ before }) => before));
  return changes;
}

type TagCount = ChangedTag["before"];

function countTags({ log, rows, combinationOf }: Walk, wanted: ReadonlySet<number>): Map<number, TagCount> {
  const { tag, tagsRead } = log.rows;
  const counts = new Map<number, TagCount>();
  rows.forEach((row, i) => {
    if (tag[row] === -1 || !wanted.has(combinationOf[i]!)) return;
    const count = counts.get(tag[row]!) ?? { presented: 0, missed: 0 };
    count.presented += 1;
    if (tagsRead[row] === 0) count.missed += 1;
    counts.set(tag[row]!, count);
  });
  return counts;
}

function mostMissed(countOf: (changed: ChangedTag) => TagCount): (a: ChangedTag, b: ChangedTag) => number {
  return stableBy(
    (a, b) => countOf(b).missed - countOf(a).missed,
    (a, b) => countOf(a).presented - countOf(b).presented,
    (a, b) => byCodePoint(a.tag, b.tag),
  );
}
