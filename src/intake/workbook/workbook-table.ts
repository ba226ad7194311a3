import { createHash } from "node:crypto";
import { readFile } from "node:fs/promises";
import type { Cell, ReadOptions, Sheet } from "hucre/xlsx";
import { type CsvRecord, mostColumns } from "../csv/records.ts";
import type { TableFault, TableSource } from "../csv/table-source.ts";
import type { FullText } from "../problems/card/problem.ts";
import { columnsTooMany } from "../problems/csv-file.ts";
import { fileUnreadable } from "../problems/folder.ts";
import type { SheetReport } from "../problems/reports.ts";
import {
  cellWithError,
  formulaWithoutValue,
  sheetsNotRead,
  sheetUnknown,
  workbookTooLarge,
  workbookUnreadable,
} from "../problems/workbook.ts";
import { cellText } from "./cell-text.ts";
import { mostUnpackedBytes, zipKind } from "./zip-bounds.ts";

/** A sheet of a workbook, row by row: the same records as a CSV file would give, placed by row and column of the sheet. */
export class WorkbookTable implements TableSource {
  readonly isCsv = false;
  readonly style = null;
  sha256 = "";
  bytes = 0;
  fault: TableFault | null = null;
  readonly #onDisk: string;
  readonly #sheetName: string | null;
  readonly #report: SheetReport;
  /** Rows of which a cell holds no value. */
  readonly #withoutValue = new Set<number>();

  /** @param sheetName null for the first sheet that is not hidden */
  constructor(onDisk: string, sheetName: string | null, report: SheetReport) {
    this.#onDisk = onDisk;
    this.#sheetName = sheetName;
    this.#report = report;
  }

  async *records(): AsyncGenerator<CsvRecord[]> {
    const bytes = await readFile(this.#onDisk).catch((error: NodeJS.ErrnoException) => error);
    if (!Buffer.isBuffer(bytes)) {
      if (bytes.syscall === undefined) throw bytes;
      this.#refuse(fileUnreadable.with({ reason: bytes.code ?? "" }));
      return;
    }
    this.bytes = bytes.length;
    this.sha256 = createHash("sha256").update(bytes).digest("hex");
    const sheet = await this.#sheet(bytes);
    if (sheet !== null) yield this.#recordsOf(sheet);
  }

  async #sheet(bytes: Buffer): Promise<Sheet | null> {
    const kind = zipKind(bytes);
    if (kind === "too large") return this.#refuse(workbookTooLarge.with({ most: mostUnpackedBytes }));
    if (kind !== "fine") return this.#refuse(workbookUnreadable.with({ reason: kind }));
    const names: { name: string; isHidden: boolean }[] = [];
    const sheets: ReadOptions["sheets"] = ({ name, hidden, veryHidden }) => {
      const isHidden = hidden === true || veryHidden === true;
      const isChosen =
        this.#sheetName === null
          ? !isHidden && names.every((other) => other.isHidden)
          : name === this.#sheetName;
      names.push({ name, isHidden });
      return isChosen;
    };
    const read = await sheetsOf(bytes, { sheets, readStyles: true });
    if (typeof read === "string") return this.#refuse(workbookUnreadable.with({ reason: read }));
    const visible = names.filter(({ isHidden }) => !isHidden).map(({ name }) => name);
    const sheet = read[0];
    if (sheet === undefined) {
      const known = names.map(({ name }) => name);
      return this.#refuse(
        this.#sheetName === null
          ? sheetUnknown.noneVisible({ known })
          : sheetUnknown.with({ name: this.#sheetName, known }),
      );
    }
    this.#report.sheet = sheet.name;
    if (this.#sheetName === null) await this.#remarkOnOthers(bytes, sheet.name, visible);
    return sheet;
  }

  async #remarkOnOthers(bytes: Buffer, read: string, visible: string[]): Promise<void> {
    if (visible.length < 2) return;
    const sheets: ReadOptions["sheets"] = ({ name }) => name !== read && visible.includes(name);
    const others = await sheetsOf(bytes, { sheets, maxRows: 1 });
    if (typeof others === "string") return;
    const filled = others.filter(({ rows }) => rows.some((row) => row.some((value) => value !== null)));
    if (filled.length === 0) return;
    const facts = { read, others: filled.map(({ name }) => name), path: this.#report.file };
    this.#report.whole(sheetsNotRead.with(facts));
  }

  #recordsOf({ rows, cells }: Sheet): CsvRecord[] {
    const texts = rows.map((row, r) =>
      row.map((value, c) => this.#textOf(value, cells?.get(`${r},${c}`), { row: r, column: c })),
    );
    const used = usedColumns(texts);
    this.#report.columns = used;
    if (used.length > mostColumns) {
      const problem = columnsTooMany.with({ cells: used.length, most: mostColumns });
      this.fault = { kind: "told", place: { record: 1, field: null }, problem };
      return [];
    }
    const records = texts.map((row, r) => ({ cells: used.map((column) => row[column] ?? ""), at: r + 1 }));
    // That a cell holds no value has been reported; what is missing for it would only be said again.
    return records.filter(({ at }) => !this.#withoutValue.has(at));
  }

  #textOf(
    value: Sheet["rows"][number][number],
    cell: Cell | undefined,
    at: { row: number; column: number },
  ): string {
    const place = { record: at.row + 1, column: at.column + 1 };
    const isError = cell?.type === "error";
    const isUnsaved = value === null && (cell?.formula ?? "") !== "";
    if (isError) this.#report.inCell(place, cellWithError.with({ text: String(value) }));
    if (isUnsaved) this.#report.inCell(place, formulaWithoutValue);
    if (isError || isUnsaved) this.#withoutValue.add(place.record);
    return cellText(value, cell);
  }

  #refuse(problem: FullText): null {
    this.fault = { kind: "told", place: null, problem };
    return null;
  }
}

/** The names of the sheets that are not hidden; none where the file is no workbook that can be read. */
export async function visibleSheets(onDisk: string): Promise<string[]> {
  const bytes = await readFile(onDisk);
  if (zipKind(bytes) !== "fine") return [];
  const names: string[] = [];
  const sheets: ReadOptions["sheets"] = ({ name, hidden, veryHidden }) => {
    if (hidden !== true && veryHidden !== true) names.push(name);
    return false;
  };
  await sheetsOf(bytes, { sheets });
  return names;
}

/** The sheets asked for; the reason where the workbook cannot be read. */
async function sheetsOf(bytes: Buffer, options: ReadOptions): Promise<Sheet[] | string> {
  const { readXlsx } = await import("hucre/xlsx");
  try {
    return (await readXlsx(bytes, options)).sheets;
  } catch (error) {
    return error instanceof Error ? error.message : String(error);
  }
}

/** The columns in which anything stands: a table may begin anywhere in a sheet, and have gaps. */
function usedColumns(texts: readonly string[][]): number[] {
  const used: boolean[] = [];
  for (const row of texts) for (const [c, text] of row.entries()) used[c] ||= text.trim() !== "";
  return used.flatMap((isUsed, c) => (isUsed ? [c] : []));
}
