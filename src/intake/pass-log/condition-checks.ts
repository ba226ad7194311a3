import { measures } from "../../measures/index.ts";
import type { Criterion } from "../../model/facility.ts";
import { Role } from "../../model/pass-log.ts";
import { quoted } from "../quotation.ts";
import type { LogContext } from "./log-context.ts";
import { rowPlace } from "./row-place.ts";
import type { StoredColumn } from "./row-store.ts";

/** One criterion's use of one column at one read point. */
interface Need {
  criterion: Criterion;
  column: StoredColumn;
  roles: number;
  /** By pass, whether the measure counts it at all; null where it counts every one. */
  counts: Uint8Array | null;
}

/** Objects to blanks in the conditions that a criterion filters or groups by: such a row would silently drop out. */
export function checkConditions(context: LogContext): void {
  const { rows, passes, facility } = context;
  const needs = facility.readPoints.map((point) => needsAt(point.id, context));
  if (needs.every((each) => each.length === 0)) return;
  const blamed = new Set<string>();
  const carried = carriedPasses(context);
  for (let row = 0; row < rows.length; row += 1) {
    const pass = passes.passes[rows.pass[row]!]!;
    if (pass.voidReasons !== null) continue;
    const role = 1 << rows.role[row]!;
    for (const need of needs[pass.readPoint]!) {
      if (need.column.index[row]! >= 0) continue;
      // Where a pass has nothing but strays and bystanders, only they can say how it was made.
      const speaks = (need.roles & role) !== 0 || (need.counts !== null && carried[pass.index] === 0);
      if (!speaks) continue;
      if (need.counts === null || need.counts[pass.index] === 1) reportBlank(row, need, context, blamed);
    }
  }
}

/** By pass: whether a row of it presents something, or says that nothing was presented. */
function carriedPasses({ rows, passes }: LogContext): Uint8Array {
  const carried = new Uint8Array(passes.passes.length);
  for (let row = 0; row < rows.length; row += 1) {
    if (rows.role[row] === Role.presented || rows.role[row] === Role.nothing) carried[rows.pass[row]!] = 1;
  }
  return carried;
}

function needsAt(readPoint: string, context: LogContext): Need[] {
  const needs: Need[] = [];
  for (const criterion of context.facility.criteria) {
    if (!criterion.readPoints.includes(readPoint)) continue;
    const names = new Set([...criterion.where.map((clause) => clause.column), ...criterion.forEach]);
    for (const name of names) {
      const column = context.rows.columns.find((each) => each.name === name);
      if (column === undefined) continue;
      const roles = measures.get(criterion.measure).log.roles.reduce((bits, role) => bits | (1 << role), 0);
      const twin = needs.find(
        (need) => need.column === column && (need.roles & roles) === roles && need.counts === null,
      );
      if (twin === undefined)
        needs.push({ criterion, column, roles, counts: countedPasses(criterion, context) });
    }
  }
  return needs;
}

/** By pass: whether its measure counts it; null where it counts every one. */
function countedPasses(criterion: Criterion, { rows, passes }: LogContext): Uint8Array | null {
  const { enters } = measures.get(criterion.measure).log;
  if (enters === undefined) return null;
  const filled = new Map<string, Uint8Array>();
  const filledIn = (name: string) => {
    const known = filled.get(name);
    if (known !== undefined) return known;
    const byPass = new Uint8Array(passes.passes.length);
    const column = rows.columns.find((each) => each.name === name);
    for (let row = 0; row < rows.length; row += 1) {
      if (column !== undefined && column.index[row]! >= 0) byPass[rows.pass[row]!] = 1;
    }
    filled.set(name, byPass);
    return byPass;
  };
  return Uint8Array.from(passes.passes, ({ straysRecorded }, i) =>
    enters({ straysRecorded, isFilled: (name) => filledIn(name)[i] === 1 }, criterion) ? 1 : 0,
  );
}

function reportBlank(
  row: number,
  { criterion, column }: Need,
  context: LogContext,
  blamed: Set<string>,
): void {
  const { rows, passes, files } = context;
  const pass = passes.passes[rows.pass[row]!]!;
  const use = `criterion ${quoted(criterion.id)} selects or groups by it`;
  const place = rowPlace(context, row, column.name);
  if (place === null) {
    const key = `${pass.file}\u0000${pass.manifest ?? ""}\u0000${column.name}`;
    if (blamed.has(key)) return;
    blamed.add(key);
    const { report, header } = files[pass.file]!;
    report.error(
      header.record,
      null,
      "condition-column-missing",
      `no column ${quoted(column.name)}`,
      `${column.name} for passes at ${quoted(context.facility.readPoints[pass.readPoint]!.id)}: ${use}`,
      pass.manifest === null
        ? "Add the column and fill it in."
        : `Add the column here or in the manifest ${quoted(pass.manifest)}, and fill it in.`,
    );
    return;
  }
  const key = `${place.report.file}\u0000${place.record}\u0000${place.field}`;
  if (blamed.has(key)) return;
  blamed.add(key);
  place.report.cell(
    place.record,
    place.field,
    "condition-blank",
    "",
    `a value: ${use}`,
    "Fill it in, or void the pass with a void_reason if nobody knows any more.",
  );
}
