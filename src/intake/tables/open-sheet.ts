import { CsvFile } from "../csv/csv-file.ts";
import { Sheet } from "../csv/sheet.ts";
import type { ProblemList } from "../problems/problem-list.ts";
import { CsvReport, SheetReport } from "../problems/reports.ts";
import { WorkbookTable } from "../workbook/workbook-table.ts";

/** A table of a facility's folder. */
export interface TableFile {
  /** Relative to the folder, with `/`. */
  path: string;
  onDisk: string;
  /** What a row of it is: `passes`, `tags`. */
  rowsAre: string;
  /** The sheet of a workbook; null for its first one, and for a CSV file. */
  sheet: string | null;
}

export const workbookName = /\.xlsx$/i;

/** Opens a table, whatever it stands in: the same rules read it from there on. */
export function openSheet({ path, onDisk, rowsAre, sheet }: TableFile, problems: ProblemList): Sheet {
  if (!workbookName.test(path)) {
    const report = new CsvReport(path, problems);
    return new Sheet({ report, source: new CsvFile(onDisk), onDisk, rowsAre });
  }
  const report = new SheetReport(path, problems);
  return new Sheet({ report, source: new WorkbookTable(onDisk, sheet, report), onDisk, rowsAre });
}
