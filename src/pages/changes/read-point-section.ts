import type { Condition } from "../../model/facility.ts";
import { counted, countedInWords, countText } from "../../model/number-words.ts";
import type { ChangedTag, Comparison } from "../../model/result/comparison.ts";
import type { Result } from "../../model/result/result.ts";
import { roundOf } from "../parts/names.ts";
import type { PageContext } from "../parts/page.ts";
import { type RateCell, rateCell } from "../parts/rate-columns.ts";
import type { RoundPair } from "../parts/round-pairs.ts";
import { changeSign } from "../pictures/signs.ts";
import {
  changeWords,
  comparisonReasonSentence,
  comparisonSentence,
  designSentence,
  exploratorySentence,
  holdsAfterAdjustment,
  tagsSentence,
  testWords,
  worthSentence,
} from "../words/comparisons.ts";
import { type PointFigures, pointFigures, pText } from "../words/figures.ts";
import { columnLabel, valueText } from "../words/labels.ts";
import { changeAnchor, type ReadPointChange } from "./read-point-changes.ts";

/** Everything the page says of one read point. */
export interface ReadPointSection {
  anchor: string;
  name: string;
  href: string;
  mark: ChangeSign;
  sentence: string;
  cells: ComparedCells | null;
  /** How the rounds differ, what was left out, and how they were compared. */
  notes: string[];
  byCondition: ByCondition;
  tags: ChangedTags;
}

export function readPointSection(
  { readPoint, whole, byCondition: rows }: ReadPointChange,
  here: PageContext,
  pair: RoundPair,
): ReadPointSection {
  const { result } = here;
  const { rounds, conditions, basis } = result;
  const reasons = whole.reasons.map((reason) => comparisonReasonSentence(reason, rounds, conditions));
  return {
    anchor: changeAnchor(here, pair, readPoint.id),
    name: readPoint.name,
    href: here.href(here.paths.readPoint(readPoint.id)),
    mark: changeSignOf(whole.change),
    sentence: comparisonSentence(whole, basis.smallestChangeThatMatters),
    cells: comparedCells(whole),
    notes: [...reasons, sameSettings(result, whole), designSentence(whole), worthSentence(whole)].filter(
      (note) => note !== "",
    ),
    byCondition: byCondition(rows, conditions),
    tags: changedTagRows(whole),
  };
}

/** That the settings are unchanged, where both rounds state them; empty where they differ. */
function sameSettings(result: Result, { readPoint, before, after, reasons }: Comparison): string {
  const stated = [before, after].map((id) => roundOf(result, id)?.settings[readPoint] !== undefined);
  const differ = reasons.some(({ code }) => code === "settings-differ");
  return stated.every((one) => one) && !differ ? "The settings stated are the same in both rounds." : "";
}

/** A change as a page shows it: the shape and the word. */
interface ChangeSign {
  change: Comparison["change"];
  word: string;
  /** SVG. */
  sign: string;
}

function changeSignOf(change: Comparison["change"]): ChangeSign {
  return { change, word: changeWords[change], sign: changeSign(change) };
}

/** The figures of one comparison as the cells of a row. */
interface ComparedCells {
  before: RateCell;
  after: RateCell;
  difference: PointFigures;
  p: string;
  test: string;
}

/** Null where the rounds cannot be compared. */
function comparedCells({ estimates, difference, p, test }: Comparison): ComparedCells | null {
  if (estimates === null || difference === null || p === null || test === null) return null;
  return {
    before: rateCell(estimates.before),
    after: rateCell(estimates.after),
    difference: pointFigures(difference),
    p: pText(p),
    test: testWords[test],
  };
}

/** The change by each value of each condition. */
interface ByCondition {
  sentence: string;
  /** Empty, like the sentence, where no value was walked in both rounds. */
  rows: ConditionRow[];
}

interface ConditionRow {
  condition: string;
  value: string;
  mark: ChangeSign;
  /** Whether the change is significant after Holm's correction; empty where there is none. */
  standing: string;
  cells: ComparedCells | null;
  pAdjusted: string;
}

function byCondition(rows: Comparison[], conditions: Condition[]): ByCondition {
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
  return holdsAfterAdjustment(row) ? "holds after adjustment" : "possibly chance";
}

function sentenceOf(rows: Comparison[], conditions: Condition[]): string {
  const found = exploratorySentence(rows, conditions);
  if (found !== "") return found;
  const looks = rows.filter(({ p }) => p !== null).length;
  return `By condition: ${countedInWords(looks, "comparison shows", "comparisons show")} neither a gain nor a loss.`;
}

/** The tags that one round read every time and the other missed. */
interface ChangedTags {
  /** Empty where the rounds cannot be compared. */
  sentence: string;
  /** Newly missed ones first. */
  rows: ChangedTagRow[];
  /** Where not all of them are listed; else empty. */
  rest: string;
}

interface ChangedTagRow {
  tag: string;
  kind: string;
  before: string;
  after: string;
}

const mostOfAKind = 8;

function changedTagRows(comparison: Comparison): ChangedTags {
  const { newlyMissed = [], newlyRead = [] } = comparison.tags ?? {};
  const row =
    (kind: string) =>
    ({ tag, before, after }: ChangedTag): ChangedTagRow => ({
      tag,
      kind,
      before: missedText(before),
      after: missedText(after),
    });
  const rest = [newlyMissed, newlyRead].reduce(
    (sum, tags) => sum + Math.max(0, tags.length - mostOfAKind),
    0,
  );
  return {
    sentence: tagsSentence(comparison),
    rows: [
      ...newlyMissed.slice(0, mostOfAKind).map(row("newly missed")),
      ...newlyRead.slice(0, mostOfAKind).map(row("newly read")),
    ],
    rest:
      rest === 0
        ? ""
        : `${counted(rest, "further tag is", "further tags are")} not listed here; the CSV table has all of them.`,
  };
}

function missedText({ presented, missed }: ChangedTag["before"]): string {
  return `${missed === 0 ? "none" : countText(missed)} of ${countText(presented)}`;
}
