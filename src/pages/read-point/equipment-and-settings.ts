import type { ReadPointResult, Result } from "../../model/result.ts";
import { dateOrWords } from "../words/dates.ts";
import { settingLabel, settingParts } from "../words/labels.ts";

interface SettingCell {
  text: string;
  /** Whether the round before had something else. */
  changed: boolean;
}

export interface EquipmentAndSettings {
  equipment: { label: string; value: string }[];
  rounds: { title: string; date: string; judged: boolean; changes: string }[];
  settings: { label: string; name: string; unit: string; cells: SettingCell[] }[];
}

/** What stood at the read point, and how it was set in each round. */
export function equipmentAndSettings(result: Result, readPoint: ReadPointResult): EquipmentAndSettings {
  const byRound = result.rounds.map((round) => round.settings[readPoint.id] ?? {});
  const keys = [...new Set(byRound.flatMap((settings) => Object.keys(settings)))];
  return {
    equipment: Object.entries(readPoint.equipment).map(([key, value]) => ({
      label: settingLabel(key),
      value,
    })),
    rounds: result.rounds.map((round, index) => ({
      title: round.title,
      date: dateOrWords(round.date, "no date stated"),
      judged: round.id === readPoint.signOffRound,
      changes: round.changes ?? (index === 0 ? "The first round." : "No change is stated."),
    })),
    settings: keys.map((key) => ({
      label: settingLabel(key),
      ...settingParts(key),
      cells: byRound.map((settings, index) => settingCell(byRound[index - 1]?.[key], settings[key])),
    })),
  };
}

function settingCell(before: string | undefined, now: string | undefined): SettingCell {
  if (now === undefined) return { text: "not stated", changed: false };
  return { text: now, changed: before !== undefined && before !== now };
}
