/** The columns that the tool itself reads. */
export const passColumns = [
  "round",
  "pass",
  "read_point",
  "started_at",
  "ended_at",
  "void_reason",
  "walked_by",
  "note",
] as const;

export const itemisedColumns = ["tag", "presented", "read", "rssi_dbm", "antenna", "reads"] as const;
export const listedColumns = ["manifest", "missed_tags", "stray_tags"] as const;
export const timedColumns = ["manifest"] as const;
export const tallyColumns = ["tags_presented", "tags_read", "stray_tags"] as const;

/** Names that no condition may take: they already mean something. */
export const reservedColumns: ReadonlySet<string> = new Set([
  ...passColumns,
  ...itemisedColumns,
  ...listedColumns,
  ...tallyColumns,
]);
