import type { PassResult, ReadPointResult, Result, RoundResult } from "../../model/result.ts";
import type { CsvColumn } from "../parts/csv.ts";

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

/** Everything that the result keeps of a pass, with the columns that conditions and logs named. */
export function passColumns(result: Result, rows: PlacedPass[]): CsvColumn<PlacedPass>[] {
  return [
    ...placeColumns,
    { header: "started_at_utc", value: ({ pass }) => pass.startedAt },
    { header: "ended_at_utc", value: ({ pass }) => pass.endedAt },
    { header: "void_reason", value: ({ pass }) => pass.voidReason },
    ...result.conditions.map(
      ({ column }): CsvColumn<PlacedPass> => ({
        header: column,
        value: ({ pass }) => joined(pass.conditions[column] ?? []),
      }),
    ),
    { header: "tags_presented", value: ({ pass }) => pass.tagsPresented },
    { header: "tags_read", value: ({ pass }) => pass.tagsRead },
    { header: "missed_tags", value: ({ pass }) => pass.missedTags?.join(" ") ?? null },
    { header: "strays", value: ({ pass }) => pass.strays },
    { header: "stray_tags", value: ({ pass }) => pass.strayTags?.join(" ") ?? null },
    { header: "bystanders_presented", value: ({ pass }) => pass.bystandersPresented },
    { header: "walked_by", value: ({ pass }) => joined(pass.walkedBy) },
    { header: "notes", value: ({ pass }) => joined(pass.notes) },
    ...extraColumnsOf(rows).map(
      (column): CsvColumn<PlacedPass> => ({
        header: column,
        value: ({ pass }) => joined(pass.extras.find((extra) => extra.column === column)?.values ?? []),
      }),
    ),
    { header: "form", value: ({ pass }) => pass.form },
    { header: "manifest", value: ({ pass }) => pass.manifest },
    { header: "file", value: ({ pass }) => pass.file },
  ];
}

/** In the order in which the passes bring them up. */
function extraColumnsOf(rows: PlacedPass[]): string[] {
  const columns = new Set<string>();
  for (const { pass } of rows) for (const { column } of pass.extras) columns.add(column);
  return [...columns];
}

function joined(values: string[]): string | null {
  return values.length > 0 ? values.join("; ") : null;
}
