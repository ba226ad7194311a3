import type { Facility, Round } from "../../model/facility.ts";
import { byCodePoint } from "../../model/order.ts";
import { radioTexts } from "../../model/radio/radio-settings.ts";
import type { ComparisonReason } from "../../model/result/comparison.ts";
import type { RowCombinations } from "../../model/row-combinations.ts";
import type { Counted, Walk } from "./walk.ts";

const mostExamples = 12;

/** The combinations of conditions that only this walk has, as a reason; none where there is none. */
export function leftOut(
  { round, counts }: Walk,
  { considered, shared }: { considered: ReadonlySet<number>; shared: ReadonlySet<number> },
  combinations: RowCombinations,
): ComparisonReason[] {
  const own = [...counts.keys()].filter((combination) => considered.has(combination));
  const alone = combinations.inOrder(own.filter((combination) => !shared.has(combination)));
  if (alone.length === 0) return [];
  const presented = (some: number[]) => some.reduce((sum, one) => sum + counts.get(one)!.n, 0);
  return [
    {
      code: "conditions-left-out",
      round,
      presentations: presented(alone),
      ofPresentations: presented(own),
      combinations: alone.length,
      examples: alone.slice(0, mostExamples).map((combination) => combinations.record(combination)),
    },
  ];
}

/** What one round gives to a comparison. */
interface Part extends Counted {
  round: string;
}

/** Whether the same tags were presented, over what is compared. */
export function tagReasons(before: Part, after: Part): ComparisonReason[] {
  if (before.tags === null || after.tags === null) {
    const unnamed = [before, after].filter(({ tags }) => tags === null);
    return [{ code: "tags-not-named", rounds: unnamed.map(({ round }) => round) }];
  }
  const later = after.tags;
  const inBoth = [...before.tags].filter((tag) => later.has(tag)).length;
  const onlyBefore = before.tags.size - inBoth;
  const onlyAfter = later.size - inBoth;
  return onlyBefore + onlyAfter === 0 ? [] : [{ code: "tags-differ", inBoth, onlyBefore, onlyAfter }];
}

/** Whether all that a round gives to a comparison lies in one pass, or on one tag. */
export function clusterReasons({ round, counts }: Part): ComparisonReason[] {
  const dimensions = [
    { dimension: "pass" as const, sums: counts.byPass },
    { dimension: "tag" as const, sums: counts.byTag },
  ];
  return dimensions
    .filter(({ sums }) => sums !== null && sums.clusters === 1 && sums.largest > 1)
    .map(({ dimension }) => ({ code: "one-cluster", round, dimension }));
}

/** Settings of the reader, and of its radio; undefined where the round states neither. */
function statedSettings(round: Round | undefined, readPoint: string): Record<string, string> | undefined {
  const settings = round?.settings[readPoint];
  const radio = round?.radio?.[readPoint];
  return radio === undefined ? settings : { ...radioTexts(radio), ...settings };
}

/** How the read point's settings differ between two rounds, as far as they are stated. */
export function settingReasons(
  { rounds }: Facility,
  { readPoint, before, after }: { readPoint: string; before: string; after: string },
): ComparisonReason[] {
  const stated = (id: string) =>
    statedSettings(
      rounds.find((round) => round.id === id),
      readPoint,
    );
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
