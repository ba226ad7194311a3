import type { ReadPointResult } from "../../model/result/read-point.ts";
import type { Result } from "../../model/result/result.ts";
import { dateOrWords } from "../words/dates.ts";
import { settingLabel, settingParts } from "../words/labels.ts";

export interface RoundFacts {
  title: string;
  date: string;
  judged: boolean;
  /** What was changed before it was walked. */
  changes: string;
}

export function roundFacts({ rounds }: Result, judged: string): RoundFacts[] {
  return rounds.map(({ id, title, date, changes }, index) => ({
    title,
    date: dateOrWords(date, "no date stated"),
    judged: id === judged,
    changes: changes ?? (index === 0 ? "The first round." : "No change is stated."),
  }));
}

/** A setting of a read point, round by round. */
export interface SettingRow {
  label: string;
  name: string;
  unit: string;
  cells: SettingCell[];
}

interface SettingCell {
  text: string;
  /** Whether it differs from the round before. */
  changed: boolean;
}

export function settingsOf({ rounds }: Result, { id }: ReadPointResult): SettingRow[] {
  const byRound = rounds.map(({ settings }) => settings[id] ?? {});
  const keys = [...new Set(byRound.flatMap((settings) => Object.keys(settings)))];
  return keys.map((key) => ({
    label: settingLabel(key),
    ...settingParts(key),
    cells: byRound.map((settings, index) => settingCell(byRound[index - 1]?.[key], settings[key])),
  }));
}

function settingCell(before: string | undefined, now: string | undefined): SettingCell {
  if (now === undefined) return { text: "not stated", changed: false };
  return { text: now, changed: before !== undefined && before !== now };
}
