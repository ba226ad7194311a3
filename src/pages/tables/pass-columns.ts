import type { PassResult, ReadPointResult, Result, RoundResult } from "../../model/result.ts";
import type { Column } from "./csv.ts";

/** A pass with the place it belongs to: a pass is known by read point, round and id together. */
export interface PlacedPass {
  readPoint: ReadPointResult;
  round: RoundResult;
  pass: PassResult;
}

/** Where a pass happened and which it was: the first columns of every table of passes. */
export const placeColumns: Column<PlacedPass>[] = [
  { header: "read_point", cell: ({ readPoint }) => readPoint.id },
  { header: "round", cell: ({ round }) => round.id },
  { header: "pass", cell: ({ pass }) => pass.id },
  { header: "started_at_local", cell: ({ pass }) => pass.startedAtLocal },
];

/** Everything that the result keeps of a pass, with the columns that conditions and logs named. */
export function passColumns(result: Result, rows: PlacedPass[]): Column<PlacedPass>[] {
  return [
    ...placeColumns,
    { header: "started_at_utc", cell: ({ pass }) => pass.startedAt },
    { header: "ended_at_utc", cell: ({ pass }) => pass.endedAt },
    { header: "void_reason", cell: ({ pass }) => pass.voidReason },
    ...result.conditions.map(
      ({ column }): Column<PlacedPass> => ({
        header: column,
        cell: ({ pass }) => joined(pass.conditions[column] ?? []),
      }),
    ),
    { header: "tags_presented", cell: ({ pass }) => pass.tagsPresented },
    { header: "tags_read", cell: ({ pass }) => pass.tagsRead },
    { header: "missed_tags", cell: ({ pass }) => pass.missedTags?.join(" ") ?? null },
    { header: "strays", cell: ({ pass }) => pass.strays },
    { header: "stray_tags", cell: ({ pass }) => pass.strayTags?.join(" ") ?? null },
    { header: "bystanders_presented", cell: ({ pass }) => pass.bystandersPresented },
    { header: "walked_by", cell: ({ pass }) => joined(pass.walkedBy) },
    { header: "notes", cell: ({ pass }) => joined(pass.notes) },
    ...extraColumnsOf(rows).map(
      (column): Column<PlacedPass> => ({
        header: column,
        cell: ({ pass }) => joined(pass.extras.find((extra) => extra.column === column)?.values ?? []),
      }),
    ),
    { header: "form", cell: ({ pass }) => pass.form },
    { header: "manifest", cell: ({ pass }) => pass.manifest },
    { header: "file", cell: ({ pass }) => pass.file },
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
