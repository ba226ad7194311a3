import type { CsvReporter } from "./csv-reporter.ts";
import type { LogContext, LogFile } from "./log-context.ts";
import type { Manifest } from "./manifest.ts";

/** The cell that a row has its value of a column from, or ought to. */
export interface RowPlace {
  report: CsvReporter;
  record: number;
  field: number;
}

/** Where a row's value of a column stands: the pass log, or else the manifest; null where neither has the column. */
export function rowPlace(context: LogContext, row: number, column: string): RowPlace | null {
  const { rows, passes } = context;
  const pass = passes.passes[rows.pass[row]!]!;
  const file = context.files[pass.file]!;
  const manifest = context.manifests.get(pass.manifest ?? "") ?? null;
  const inLog = file.header.fields.get(column);
  const inManifest = manifest?.header?.fields.get(column);
  const manifestRecord = rows.manifestRecord[row]!;
  if (
    inManifest !== undefined &&
    manifest !== null &&
    manifestRecord >= 0 &&
    !filledInLog(context, row, column, file, manifest)
  ) {
    return { report: manifest.report, record: manifestRecord, field: inManifest };
  }
  return inLog === undefined ? null : { report: file.report, record: rows.record[row]!, field: inLog };
}

/** A listed row takes its value from the log where the manifest has none. */
function filledInLog(
  context: LogContext,
  row: number,
  column: string,
  file: LogFile,
  manifest: Manifest,
): boolean {
  if (!file.header.fields.has(column)) return false;
  const stored = context.rows.columns.find((each) => each.name === column);
  const texts = manifest.columns.get(column);
  const item = manifest.byTag.get(context.rows.tag[row]!);
  return (
    stored !== undefined && texts !== undefined && (item?.texts[texts] ?? -1) < 0 && stored.index[row]! >= 0
  );
}
