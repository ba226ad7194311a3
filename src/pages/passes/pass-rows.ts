import type { Condition } from "../../model/facility.ts";
import { counted, countText } from "../../model/number-words.ts";
import type { PassResult } from "../../model/result/pass.ts";
import type { ReadPointResult } from "../../model/result/read-point.ts";
import type { Result } from "../../model/result/result.ts";
import type { RoundResult } from "../../model/result/round.ts";
import type { CsvColumn } from "../parts/csv.ts";
import { momentText } from "../words/dates.ts";
import { valueText } from "../words/labels.ts";

/** A pass as one row of a table. */
export interface PassRow {
  anchor: string;
  id: string;
  walked: string;
  /** `Speed: 1 to 2 m/s`, one a condition; `Tag orientation: mixed` where tags of the pass differed. */
  conditions: string[];
  /** `23 of 24`. */
  read: string;
  missed: NamedTags;
  strays: NamedTags;
  /** Empty for a valid pass. */
  voidReason: string;
  /** Who walked, notes, bystanders, undeclared columns: a sentence each, since they run on. */
  notes: string[];
  /** The log that holds it, and its manifest. */
  files: string[];
}

/** The first few tags by name; words where there are more, none, or no names. */
export interface NamedTags {
  tags: string[];
  words: string;
}

/** More codes than this do not help a reader; the CSV table has them all. */
const mostTags = 16;

export function passRow(pass: PassResult, anchor: string, conditions: Condition[]): PassRow {
  return {
    anchor,
    id: pass.id,
    walked: momentText(pass.startedAtLocal),
    conditions: conditionTexts(pass, conditions),
    read:
      pass.tagsPresented === 0
        ? "nothing presented"
        : `${countText(pass.tagsRead)} of ${countText(pass.tagsPresented)}`,
    missed: missedTags(pass),
    strays: strayTags(pass),
    voidReason: pass.voidReason ?? "",
    notes: notesOf(pass),
    files: pass.manifest === null ? [pass.file] : [pass.file, `manifest ${pass.manifest}`],
  };
}

/** The rough length of the row on the page, in characters: pages are cut by it. */
export function rowWeight(row: PassRow): number {
  const texts = [
    ...row.conditions,
    ...row.notes,
    ...row.missed.tags,
    ...row.strays.tags,
    ...row.files,
    row.voidReason,
  ];
  return 560 + texts.reduce((sum, text) => sum + text.length + 20, 0);
}

/** Conditions that differ from tag to tag share a line; their values are in the CSV table. */
function conditionTexts(pass: PassResult, conditions: Condition[]): string[] {
  const stated = conditions.map((condition) => ({
    condition,
    values: pass.conditions[condition.column] ?? [],
  }));
  const single = stated.flatMap(({ condition, values }) =>
    values.length === 1 ? [`${condition.label}: ${valueText(values[0]!, condition)}`] : [],
  );
  const mixed = stated.filter(({ values }) => values.length > 1).map(({ condition }) => condition.label);
  return mixed.length === 0 ? single : [...single, `${mixed.join(", ")}: mixed`];
}

function missedTags(pass: PassResult): NamedTags {
  const missed = pass.tagsPresented - pass.tagsRead;
  if (missed === 0) return { tags: [], words: "none" };
  if (pass.missedTags === null) {
    return { tags: [], words: `${counted(missed, "tag", "tags")}, not named in the log` };
  }
  return named(pass.missedTags);
}

function strayTags(pass: PassResult): NamedTags {
  if (pass.strays === null) return { tags: [], words: "not recorded" };
  if (pass.strays === 0) return { tags: [], words: "none" };
  if (pass.strayTags === null || pass.strayTags.length === 0) {
    return { tags: [], words: `${counted(pass.strays, "stray", "strays")}, not named in the log` };
  }
  return named(pass.strayTags);
}

function named(tags: string[]): NamedTags {
  const rest = tags.length - mostTags;
  return { tags: tags.slice(0, mostTags), words: rest > 0 ? `and ${countText(rest)} more` : "" };
}

function notesOf(pass: PassResult): string[] {
  const notes = pass.notes.map((note) => (/[.!?]$/.test(note) ? note : `${note}.`));
  if (pass.bystandersPresented > 0) {
    notes.push(`${counted(pass.bystandersPresented, "bystander", "bystanders")} placed.`);
  }
  for (const { column, values } of pass.extras) notes.push(`${column}: ${values.join(", ")}.`);
  if (pass.walkedBy.length > 0) notes.push(`Walked by ${pass.walkedBy.join(", ")}.`);
  return notes;
}

/** A pass with the place it belongs to: a pass is known by read point, round and id together. */
export interface PlacedPass {
  readPoint: ReadPointResult;
  round: RoundResult;
  pass: PassResult;
}

export function placedPasses(readPoint: ReadPointResult, round: RoundResult): PlacedPass[] {
  return round.passList.map((pass) => ({ readPoint, round, pass }));
}

/** Where a pass happened and which it was: the first columns of every table of passes. */
export const placeColumns: CsvColumn<PlacedPass>[] = [
  { header: "read_point", value: ({ readPoint }) => readPoint.id },
  { header: "round", value: ({ round }) => round.id },
  { header: "pass", value: ({ pass }) => pass.id },
  { header: "started_at_local", value: ({ pass }) => pass.startedAtLocal },
];

/** Everything that the result has of a pass, with the columns of conditions and of the logs. */
export function passColumns(result: Result, rows: PlacedPass[]): CsvColumn<PlacedPass>[] {
  return [
    ...placeColumns,
    { header: "started_at_utc", value: ({ pass }) => pass.startedAt },
    { header: "ended_at_utc", value: ({ pass }) => pass.endedAt },
    { header: "void_reason", value: ({ pass }) => pass.voidReason },
    ...result.conditions.map(
      ({ column, unit }): CsvColumn<PlacedPass> => ({
        header: column,
        unit,
        value: ({ pass }) => joined(pass.conditions[column] ?? []),
      }),
    ),
    { header: "tags_presented", value: ({ pass }) => pass.tagsPresented },
    { header: "tags_read", value: ({ pass }) => pass.tagsRead },
    { header: "reads", value: ({ pass }) => pass.reads },
    { header: "strongest_dbm", value: ({ pass }) => pass.strongestDbm },
    { header: "first_read_ms", value: ({ pass }) => pass.firstReadMs },
    { header: "antennas", value: ({ pass }) => joined(pass.antennas) },
    { header: "missed_tags", value: ({ pass }) => pass.missedTags?.join(" ") ?? null },
    { header: "strays", value: ({ pass }) => pass.strays },
    { header: "stray_tags", value: ({ pass }) => pass.strayTags?.join(" ") ?? null },
    { header: "bystanders_presented", value: ({ pass }) => pass.bystandersPresented },
    { header: "walked_by", value: ({ pass }) => joined(pass.walkedBy) },
    { header: "notes", value: ({ pass }) => joined(pass.notes) },
    ...extraColumnsOf(rows).map(
      (column): CsvColumn<PlacedPass> => ({
        header: column,
        unit: null,
        value: ({ pass }) => joined(pass.extras.find((extra) => extra.column === column)?.values ?? []),
      }),
    ),
    { header: "form", value: ({ pass }) => pass.form },
    { header: "manifest", value: ({ pass }) => pass.manifest },
    { header: "file", value: ({ pass }) => pass.file },
  ];
}

/** In the order in which they first occur. */
function extraColumnsOf(rows: PlacedPass[]): string[] {
  const columns = new Set<string>();
  for (const { pass } of rows) for (const { column } of pass.extras) columns.add(column);
  return [...columns];
}

function joined(values: string[]): string | null {
  return values.length > 0 ? values.join("; ") : null;
}
