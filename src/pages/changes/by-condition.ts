import type { Condition } from "../../model/facility.ts";
import { countedInWords } from "../../model/number-words.ts";
import type { Comparison } from "../../model/result.ts";

import { exploratorySentence, standsAfterAll } from "../words/comparisons.ts";
import { pText } from "../words/figures.ts";
import { columnLabel, valueText } from "../words/labels.ts";

import { type ChangeSign, type ComparedCells, changeSignOf, comparedCells } from "./compared-cells.ts";

/** Where a change lies, as far as a look at each value of each condition can tell. */
export interface ByCondition {
  sentence: string;
  /** Empty, like the sentence, where no value was walked in both rounds. */
  rows: ConditionRow[];
}

interface ConditionRow {
  condition: string;
  value: string;
  mark: ChangeSign;
  /** Whether the change stands after all looks; empty where there is none. */
  standing: string;
  cells: ComparedCells | null;
  pAdjusted: string;
}

export function byCondition(rows: Comparison[], conditions: Condition[]): ByCondition {
  if (rows.every(({ p }) => p === null)) return { sentence: "", rows: [] };
  return {
    sentence: sentenceOf(rows, conditions),
    rows: rows.flatMap((row) =>
      Object.entries(row.group ?? {}).map(
        ([column, value]): ConditionRow => ({
          condition: columnLabel(column, conditions),
          value: valueText(
            value,
            conditions.find((one) => one.column === column),
          ),
          mark: changeSignOf(row.change),
          standing: standingOf(row),
          cells: comparedCells(row),
          pAdjusted: row.pAdjusted === null ? "" : pText(row.pAdjusted),
        }),
      ),
    ),
  };
}

function standingOf(row: Comparison): string {
  if (row.change !== "better" && row.change !== "worse") return "";
  return standsAfterAll(row) ? "stands after all looks" : "a hint";
}

function sentenceOf(rows: Comparison[], conditions: Condition[]): string {
  const found = exploratorySentence(rows, conditions);
  if (found !== "") return found;
  const looks = rows.filter(({ p }) => p !== null).length;
  return `By condition: ${countedInWords(looks, "look shows", "looks show")} neither a gain nor a loss.`;
}
