import type { Facility } from "../../model/facility.ts";
import { byCodePoint } from "../../model/order.ts";
import type { ComparisonReason } from "../../model/result.ts";
import type { RowCombinations } from "../../model/row-combinations.ts";
import type { Counted, Walk } from "./walk.ts";

const mostExamples = 12;

/** The combinations of conditions that only this walk holds, as a reason; none where there is none. */
export function leftOut(
  walk: Walk,
  considered: ReadonlySet<number>,
  common: ReadonlySet<number>,
  cells: RowCombinations,
): ComparisonReason[] {
  const own = [...walk.byCell.keys()].filter((cell) => considered.has(cell));
  const alone = cells.inOrder(own.filter((cell) => !common.has(cell)));
  if (alone.length === 0) return [];
  const presented = (some: number[]) => some.reduce((sum, cell) => sum + walk.byCell.get(cell)!.n, 0);
  return [
    {
      code: "conditions-left-out",
      round: walk.round,
      presentations: presented(alone),
      ofPresentations: presented(own),
      combinations: alone.length,
      examples: alone.slice(0, mostExamples).map((cell) => cells.record(cell)),
    },
  ];
}

/** Whether the same tags were presented, over what is compared. */
export function tagReasons(before: Walk, earlier: Counted, after: Walk, later: Counted): ComparisonReason[] {
  if (earlier.tags === null || later.tags === null) {
    const unnamed = [
      { round: before.round, tags: earlier.tags },
      { round: after.round, tags: later.tags },
    ].filter(({ tags }) => tags === null);
    return [{ code: "tags-not-named", rounds: unnamed.map(({ round }) => round) }];
  }
  const laterTags = later.tags;
  const inBoth = [...earlier.tags].filter((tag) => laterTags.has(tag)).length;
  const onlyBefore = earlier.tags.size - inBoth;
  const onlyAfter = laterTags.size - inBoth;
  return onlyBefore + onlyAfter === 0 ? [] : [{ code: "tags-differ", inBoth, onlyBefore, onlyAfter }];
}

/** Where everything that a round gives to the comparison hangs on one pass or one tag. */
export function clusterReasons(round: string, { counts }: Counted): ComparisonReason[] {
  const reasons: ComparisonReason[] = [];
  for (const [dimension, sums] of [
    ["pass", counts.byPass],
    ["tag", counts.byTag],
  ] as const) {
    if (sums !== null && sums.clusters === 1 && sums.largest > 1)
      reasons.push({ code: "one-cluster", round, dimension });
  }
  return reasons;
}

/** How the read point's settings differ between two rounds, as far as they are stated. */
export function settingReasons(
  facility: Facility,
  readPoint: string,
  before: string,
  after: string,
): ComparisonReason[] {
  const stated = (id: string) => facility.rounds.find((round) => round.id === id)?.settings[readPoint];
  const earlier = stated(before);
  const later = stated(after);
  if (earlier === undefined && later === undefined) return [];
  if (earlier === undefined) return [{ code: "settings-not-stated", round: before }];
  if (later === undefined) return [{ code: "settings-not-stated", round: after }];
  const settings = [...new Set([...Object.keys(earlier), ...Object.keys(later)])]
    .sort(byCodePoint)
    .map((setting) => ({ setting, before: earlier[setting] ?? null, after: later[setting] ?? null }))
    .filter((one) => one.before !== one.after);
  return settings.length === 0 ? [] : [{ code: "settings-differ", settings }];
}
