import { counted, joined } from "../../model/number-words.ts";
import type { Result } from "../../model/result/result.ts";
import { judgedRound } from "../parts/names.ts";
import type { FacilityContext } from "../parts/page.ts";
import { dateOrWords } from "../words/dates.ts";

export interface WalkedRound {
  title: string;
  date: string;
  /** Which read points are judged on it, and how many passes that is. */
  sentence: string;
}

/** The rounds that read points are judged on, with their passes. */
export function walkedRounds(result: Result): WalkedRound[] {
  return result.rounds.flatMap((round) => {
    const points = result.readPoints.filter((point) => point.signOffRound === round.id);
    if (points.length === 0) return [];
    const rounds = points.map(judgedRound);
    const sum = (pick: (entry: NonNullable<(typeof rounds)[number]>) => number) =>
      rounds.reduce((total, entry) => total + (entry === null ? 0 : pick(entry)), 0);
    const passes = counted(
      sum((entry) => entry.passes),
      "valid pass",
      "valid passes",
    );
    const voids = sum((entry) => entry.voidPasses);
    const tags = counted(
      sum((entry) => entry.tagsPresented),
      "tag presented",
      "tags presented",
    );
    return {
      title: round.title,
      date: dateOrWords(round.date, "no date stated"),
      sentence: `${counted(points.length, "read point", "read points")}, ${passes}${
        voids === 0 ? "" : ` and ${counted(voids, "void pass", "void passes")}`
      }, ${tags}.`,
    };
  });
}

/** The values of each condition that were walked in the rounds judged: `Load: full, half and empty`. */
export function walkedConditions({ result, names }: FacilityContext): string[] {
  return result.conditions.map(({ column }) => {
    const walked = new Set<string>();
    const known = new Set<string>();
    for (const point of result.readPoints) {
      for (const breakdown of judgedRound(point)?.byCondition ?? []) {
        if (breakdown.column !== column) continue;
        for (const { value, passes } of breakdown.groups) {
          known.add(value);
          if (passes > 0) walked.add(value);
        }
      }
    }
    const values = [...known].filter((value) => walked.has(value)).map((value) => names.value(column, value));
    const label = names.condition(column);
    return values.length === 0 ? `${label}: not walked` : `${label}: ${joined(values)}`;
  });
}
