import type { Criterion, Round } from "../../model/facility.ts";
import type { ReadPointResult } from "../../model/result/read-point.ts";
import type { Result } from "../../model/result/result.ts";
import type { RoundResult } from "../../model/result/round.ts";
import { dateText } from "../words/dates.ts";
import { columnLabel, groupText, valueText } from "../words/labels.ts";

/** The names of the ids and columns of a result; an unknown id is its own name. */
export interface Names {
  round(id: string): string;
  /** `As left, 21 May 2026`; the title alone where the round has no date. */
  datedRound(id: string): string;
  /** `As left (21 May 2026)`; the title alone where the round has no date. */
  roundAndDate(id: string): string;
  readPoint(id: string): string;
  criterion(id: string): string;
  /** `Tag orientation`. */
  condition(column: string): string;
  /** `1 to 2 m/s`. */
  value(column: string, value: string): string;
  /** `Tag orientation: edge-on; Speed: 1 to 2 m/s`; empty without a group. */
  group(group: Record<string, string> | null): string;
}

export function namesOf(result: Pick<Result, "rounds" | "readPoints" | "criteria" | "conditions">): Names {
  const { conditions } = result;
  const round = (id: string) => roundOf(result, id)?.title ?? id;
  const dateOf = (id: string) => {
    const date = roundOf(result, id)?.date;
    return date ? [dateText(date)] : [];
  };
  return {
    round,
    datedRound: (id) => [round(id), ...dateOf(id)].join(", "),
    roundAndDate: (id) => [round(id), ...dateOf(id).map((date) => `(${date})`)].join(" "),
    readPoint: (id) => result.readPoints.find((readPoint) => readPoint.id === id)?.name ?? id,
    criterion: (id) => criterionOf(result, id)?.title ?? id,
    condition: (column) => columnLabel(column, conditions),
    value: (column, value) =>
      valueText(
        value,
        conditions.find((condition) => condition.column === column),
      ),
    group: (group) => groupText(group, conditions),
  };
}

export function roundOf({ rounds }: Pick<Result, "rounds">, id: string): Round | undefined {
  return rounds.find((round) => round.id === id);
}

export function criterionOf({ criteria }: Pick<Result, "criteria">, id: string): Criterion | undefined {
  return criteria.find((criterion) => criterion.id === id);
}

/** The figures of the round on which a read point is judged. */
export function judgedRound({ rounds, signOffRound }: ReadPointResult): RoundResult | null {
  return rounds.find(({ id }) => id === signOffRound) ?? null;
}
