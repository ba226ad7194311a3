import { measures } from "../../measures/index.ts";
import { decimalOf } from "../../model/decimal.ts";
import type { Criterion } from "../../model/facility.ts";
import { Role } from "../../model/pass-log.ts";
import {
  conditionBlank,
  conditionColumnMissing,
  conditionNotANumber,
  valueOutsideBands,
} from "../problems/log-rules.ts";
import type { CsvReport } from "../problems/reports.ts";
import type { FacilityLogs } from "./read.ts";
import { isValid } from "./rows/passes.ts";
import type { TextColumn } from "./rows/table.ts";

/* The rules on conditions: their values are numbers and lie in bands where they have to, and none that a criterion asks for is blank. */

/** The values of banded columns, and of those taken as a range, are numbers. */
export function checkNumbers(logs: FacilityLogs): void {
  for (const column of logs.table.columns) {
    if (!logs.declared.numeric.has(column.name)) continue;
    for (const { cell, text } of wrongCells(column, logs, (text) => Number.isNaN(decimalOf(text))))
      cell.report.cell({ ...cell, value: text }, conditionNotANumber.with({ text }));
  }
}

export function checkBands(logs: FacilityLogs): void {
  for (const column of logs.table.columns) {
    const values = logs.declared.values.get(column.name);
    if (values === undefined || values.names === null) continue;
    const bands = [...values.names];
    const isOutside = (text: string) => !Number.isNaN(decimalOf(text)) && values.nameOf(text) === null;
    for (const { cell, text } of wrongCells(column, logs, isOutside))
      cell.report.cell({ ...cell, value: text }, valueOutsideBands.with({ bands }));
  }
}

/** The cells of the column that hold a wrong text, each once. */
function* wrongCells(
  column: TextColumn,
  logs: FacilityLogs,
  isWrong: (text: string) => boolean,
): Generator<{ cell: Cell; text: string }> {
  const wrong = column.texts.texts.map(isWrong);
  if (!wrong.includes(true)) return;
  const visited = new Set<string>();
  for (let row = 0; row < logs.table.length; row += 1) {
    const id = column.ids[row]!;
    const cell = id >= 0 && wrong[id] ? cellOf(row, column, logs) : null;
    if (cell === null || visited.has(keyOf(cell))) continue;
    visited.add(keyOf(cell));
    yield { cell, text: column.texts.texts[id]! };
  }
}

/** The cell that a row has its value of a column from, or ought to have. */
interface Cell {
  report: CsvReport;
  record: number;
  field: number;
}

function keyOf({ report, record, field }: Cell): string {
  return `${report.file}\u0000${record}\u0000${field}`;
}

/** In the manifest, or else in the pass log; null where neither has the column. */
export function cellOf(row: number, column: TextColumn, { table, passes }: FacilityLogs): Cell | null {
  const { manifest, file } = passes[table.pass[row]!]!;
  const inLog = file.header.fields.get(column.name);
  const inManifest = manifest?.header?.fields.get(column.name);
  const item = manifest?.items.get(table.tag[row]!);
  if (manifest !== null && item !== undefined && inManifest !== undefined) {
    // Where the manifest leaves the cell blank, the log may fill it in.
    const isLogs =
      inLog !== undefined && item.texts[table.columns.indexOf(column)]! < 0 && column.ids[row]! >= 0;
    if (!isLogs) return { report: manifest.sheet.report, record: item.at, field: inManifest };
  }
  return inLog === undefined ? null : { report: file.report, record: table.at[row]!, field: inLog };
}

/** One criterion's use of one column at one read point. */
interface Need {
  criterion: Criterion;
  column: TextColumn;
  /** The roles of the rows that its measure counts, as bits. */
  roles: number;
  /** By pass: whether it enters; null where every one does. */
  enters: Uint8Array | null;
}

/** A row with a blank in a condition that a criterion filters or groups by would silently drop out. */
export function checkConditions(logs: FacilityLogs): void {
  const { table, passes, facility } = logs;
  const needs = facility.readPoints.map(({ id }) => needsAt(id, logs));
  if (needs.every((own) => own.length === 0)) return;
  const reported = new Set<string>();
  const carried = carriedPasses(logs);
  const { role, length, pass: passOfRow } = table;
  for (let row = 0; row < length; row += 1) {
    const pass = passes[passOfRow[row]!]!;
    // What is not known of a pass has been reported, and may be stated where it could not be read.
    if (!isValid(pass) || pass.isLoadUnknown) continue;
    for (const need of needs[pass.readPoint] ?? []) {
      if (need.column.ids[row]! >= 0) continue;
      const isCounted = (need.roles & (1 << role[row]!)) !== 0;
      // Where a pass has nothing but strays and bystanders, only they can say how it was made.
      const speaksForPass = need.enters !== null && carried[pass.number] === 0;
      if (!isCounted && !speaksForPass) continue;
      if (need.enters === null || need.enters[pass.number] === 1) reportBlank(row, need, { logs, reported });
    }
  }
}

/** By pass: whether a row of it presents something, or says that nothing was presented. */
function carriedPasses({ table, passes }: FacilityLogs): Uint8Array {
  const carried = new Uint8Array(passes.length);
  const { role, pass, length } = table;
  for (let row = 0; row < length; row += 1) {
    if (role[row] === Role.presented || role[row] === Role.nothing) carried[pass[row]!] = 1;
  }
  return carried;
}

function needsAt(readPoint: string, logs: FacilityLogs): Need[] {
  const needs: Need[] = [];
  for (const criterion of logs.facility.criteria) {
    if (!criterion.readPoints.includes(readPoint)) continue;
    const names = new Set([...criterion.where.map((clause) => clause.column), ...criterion.forEach]);
    const roles = measures.get(criterion.measure).log.roles.reduce((bits, role) => bits | (1 << role), 0);
    for (const name of names) {
      const column = logs.table.column(name);
      if (column === null) continue;
      const isCovered = needs.some(
        (need) => need.column === column && (need.roles & roles) === roles && need.enters === null,
      );
      if (!isCovered) needs.push({ criterion, column, roles, enters: enteringPasses(criterion, logs) });
    }
  }
  return needs;
}

function enteringPasses(criterion: Criterion, { passes, table }: FacilityLogs): Uint8Array | null {
  const { enters } = measures.get(criterion.measure).log;
  if (enters === undefined) return null;
  const filled = new Map<string, Uint8Array>();
  const filledIn = (name: string): Uint8Array => {
    const known = filled.get(name) ?? passesFilledIn(table.column(name));
    filled.set(name, known);
    return known;
  };
  const passesFilledIn = (column: TextColumn | null): Uint8Array => {
    const byPass = new Uint8Array(passes.length);
    if (column === null) return byPass;
    for (let row = 0; row < table.length; row += 1) if (column.ids[row]! >= 0) byPass[table.pass[row]!] = 1;
    return byPass;
  };
  return Uint8Array.from(passes, ({ straysRecorded, number }) =>
    enters({ straysRecorded, isFilled: (name) => filledIn(name)[number] === 1 }, criterion) ? 1 : 0,
  );
}

function reportBlank(
  row: number,
  { criterion, column }: Need,
  { logs, reported }: { logs: FacilityLogs; reported: Set<string> },
): void {
  const { file, manifest, readPoint } = logs.passes[logs.table.pass[row]!]!;
  const cell = cellOf(row, column, logs);
  const key = cell === null ? `${file.report.file}\u0000${manifest?.name}\u0000${column.name}` : keyOf(cell);
  if (reported.has(key)) return;
  reported.add(key);
  if (cell !== null) {
    cell.report.cell({ ...cell, value: "" }, conditionBlank.with({ criterion: criterion.id }));
    return;
  }
  const facts = {
    column: column.name,
    readPoint: logs.facility.readPoints[readPoint]!.id,
    criterion: criterion.id,
    manifest: manifest?.name ?? null,
  };
  file.report.at({ record: file.header.at, field: null }, conditionColumnMissing.with(facts));
}
