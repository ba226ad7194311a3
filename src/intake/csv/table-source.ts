import type { FullText } from "../problems/card/problem.ts";
import type { CsvPlace } from "../problems/problem-list.ts";
import type { CsvFault, CsvRecord, CsvStyle } from "./records.ts";

/** Why a table could not be read to its end: `told` where the reason is known in words. */
export type TableFault = CsvFault | { kind: "told"; place: CsvPlace | null; problem: FullText };

/** Where the rows of a table come from: a CSV file, or a sheet of a workbook. The same rules read them. */
export interface TableSource {
  readonly isCsv: boolean;
  /** Of the file; complete once all records have been read. */
  readonly sha256: string;
  readonly bytes: number;
  /** How a CSV file is written; null before it is known, and for a sheet. */
  readonly style: CsvStyle | null;
  readonly fault: TableFault | null;
  /** The records, some thousand at a time. */
  records(): AsyncGenerator<CsvRecord[]>;
}
