import { listing, quoted } from "../quotation.ts";
import { didYouMean } from "../suggestion.ts";
import { trimmed } from "./cells.ts";
import type { LogContext, LogFile } from "./log-context.ts";
import type { Manifest } from "./manifest.ts";
import type { RowColumns } from "./row-columns.ts";

/** What a log with one row a pass takes from the manifest that the pass walked. */
export class ManifestWalk {
  readonly #context: LogContext;
  readonly #file: LogFile;

  constructor(context: LogContext, file: LogFile) {
    this.#context = context;
    this.#file = file;
  }

  /** The manifest that a cell names; null, with the reason reported, where there is none. */
  named(cell: string, ordinal: number, field: number): Manifest | null {
    const { manifests } = this.#context;
    const name = trimmed(cell);
    const manifest = manifests.get(name) ?? manifests.get(name.replace(/\.csv$/i, ""));
    if (manifest !== undefined) return manifest;
    const names = [...manifests.keys()];
    this.#file.report.cell(
      ordinal,
      field,
      name === "" ? "manifest-blank" : "manifest-unknown",
      name,
      names.length === 0
        ? "the name of a file in manifests/, where there is none"
        : `a manifest: ${listing(names)}`,
      name === ""
        ? "Name the manifest that was walked."
        : `${didYouMean(name, names)}Correct it, or add manifests/${name.replace(/\.csv$/i, "")}.csv.`,
    );
    return null;
  }

  /** What the manifest says of its tags; a condition is stated in one place, the log or the manifest. */
  fill(
    first: number,
    end: number,
    manifest: Manifest,
    rowColumns: RowColumns,
    record: string[],
    ordinal: number,
  ): void {
    const { rows } = this.#context;
    for (const [name, texts] of manifest.columns) {
      const column = rows.columns.find((each) => each.name === name)!;
      const logColumn = rowColumns.columns.indexOf(column);
      const inLog = logColumn < 0 ? -1 : rowColumns.idOf(logColumn, record);
      for (let row = first; row < end; row += 1) {
        const id = manifest.byTag.get(rows.tag[row]!)?.texts[texts] ?? -1;
        if (id < 0) continue;
        if (inLog < 0) {
          column.index[row] = id;
          continue;
        }
        this.#file.report.cell(
          ordinal,
          rowColumns.fields[logColumn]!,
          "condition-stated-twice",
          column.table.texts[inLog]!,
          "the condition in the log or in the manifest, not in both",
          `${manifest.path} states it as well (${quoted(column.table.texts[id]!)}): leave one of the two blank.`,
        );
        break;
      }
    }
  }
}
