import { bandNames, bandsOf } from "../model/condition-values.ts";
import type { Condition, Criterion, WhereClause } from "../model/facility.ts";
import { byCodePoint } from "../model/order.ts";
import type { PassLog } from "../model/pass-log.ts";

/** The group of a finding: column and value; null for a criterion without `for_each`. */
export type Group = Record<string, string> | null;

/**
 * The combinations that a criterion must hold for, each on its own.
 *
 * Values of a column are those its `where` lists, in that order; else its bands, rising, but for those that a `where`
 * range leaves nothing of; else every value seen in any round at any read point of the criterion, by code point.
 * Several columns are crossed, the last one varying fastest. A combination that nobody walked is among them: that is
 * what makes it a finding.
 */
export function criterionGroups(criterion: Criterion, conditions: Condition[], log: PassLog): Group[] {
  if (criterion.forEach.length === 0) return [null];
  let groups: Record<string, string>[] = [{}];
  for (const column of criterion.forEach) {
    const values = groupValues(column, criterion, conditions, log);
    groups = groups.flatMap((group) => values.map((value) => ({ ...group, [column]: value })));
  }
  return groups;
}

function groupValues(column: string, criterion: Criterion, conditions: Condition[], log: PassLog): string[] {
  const clauses = criterion.where.filter((clause) => clause.column === column);
  for (const clause of clauses) if (clause.kind === "values") return clause.values;
  const bands = bandsOf(conditions, column);
  if (bands !== null) {
    return bandNames(bands).filter((_, index) =>
      clauses.every((clause) => bandReached(clause, bands, index)),
    );
  }
  return seenValues(column, criterion.readPoints, log);
}

/** Whether a range leaves anything of a band; the first band holds its lower edge, later ones do not. */
export function bandReached(clause: WhereClause, bands: number[], index: number): boolean {
  if (clause.kind !== "range") return true;
  const low = bands[index]!;
  const high = bands[index + 1]!;
  if (clause.from !== null && clause.from > high) return false;
  if (clause.to === null) return true;
  return index === 0 ? clause.to >= low : clause.to > low;
}

/** Every value of a text column at some read points, in any round, void passes included; by code point. */
export function seenValues(column: string, readPoints: string[], log: PassLog): string[] {
  const texts = log.rows.columns.get(column);
  if (texts === undefined) return [];
  const wanted = new Set(readPoints);
  const passWanted = log.passes.map((pass) => wanted.has(pass.readPoint));
  const seen = new Uint8Array(texts.values.length);
  for (let row = 0; row < log.rows.length; row += 1) {
    const text = texts.index[row]!;
    if (text !== -1 && passWanted[log.rows.pass[row]!]) seen[text] = 1;
  }
  return texts.values.filter((_, index) => seen[index] === 1).sort(byCodePoint);
}
