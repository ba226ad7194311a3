import { countedInWords, countWord, joined } from "../../model/number-words.ts";
import type { Change } from "../../model/result.ts";
import { changeOrder } from "./comparison-sentence.ts";

/** What a read point did, for one and for several. */
const deeds: Record<Change, [one: string, several: string]> = {
  worse: ["got worse", "got worse"],
  "not-comparable": ["cannot be compared", "cannot be compared"],
  "no-change-shown": ["shows no clear change", "show no clear change"],
  "no-change-that-matters": ["is as good as before", "are as good as before"],
  better: ["got better", "got better"],
};

/**
 * What became of the read points between two rounds in one sentence, worst first and none averaged with another.
 *
 * `Of six read points, one cannot be compared, four show no clear change and one got better.`
 */
export function changesSentence(readPoints: { name: string; change: Change }[]): string {
  const [first, second] = readPoints;
  if (first === undefined) return "There is no read point to compare.";
  if (second === undefined) return `${first.name} ${deeds[first.change][0]}.`;
  const total = readPoints.length;
  const deedOf = (change: Change, count: number) => deeds[change][count === 1 ? 0 : 1];
  const counts = changeOrder
    .map((change) => ({ change, count: readPoints.filter((one) => one.change === change).length }))
    .filter(({ count }) => count > 0);
  if (counts.length === 1) {
    const all = total === 2 ? "Both" : `All ${countWord(total)}`;
    return `${all} read points ${deedOf(first.change, total)}.`;
  }
  const parts = counts.map(({ change, count }) => `${countWord(count)} ${deedOf(change, count)}`);
  return `Of ${countedInWords(total, "read point", "read points")}, ${joined(parts)}.`;
}
