import { joined } from "../model/number-words.ts";
import type { Result, RoundResult } from "../model/result.ts";
import { columnLabel } from "./words/labels.ts";

/** Whether any presented tag of the round was walked under a stated value of the condition. */
export function isStated(round: RoundResult, column: string): boolean {
  const breakdown = round.byCondition.find((entry) => entry.column === column);
  return breakdown?.groups.some(({ passes }) => passes > 0) ?? false;
}

/** `Engine and Storage zone`: the conditions that the logs of this round state nowhere; empty where there is none. */
export function unstatedConditions(result: Result, round: RoundResult): string {
  return joined(
    round.byCondition
      .filter(({ column }) => !isStated(round, column))
      .map(({ column }) => columnLabel(column, result.conditions)),
  );
}
