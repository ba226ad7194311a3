import { counted, countText } from "../../model/number-words.ts";
import type { ChangedTag, Comparison } from "../../model/result.ts";

import { tagsSentence } from "../words/comparisons.ts";

/** The tags that one round read every time and the other missed. */
export interface ChangedTags {
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

export function changedTagRows(comparison: Comparison): ChangedTags {
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
        : `${counted(rest, "further tag is", "further tags are")} not listed here; the table as CSV holds all of them.`,
  };
}

function missedText({ presented, missed }: ChangedTag["before"]): string {
  return `${missed === 0 ? "none" : countText(missed)} of ${countText(presented)}`;
}
