import { bandNames, bandsOf, nameColumn, nameIndexOf } from "./condition-values.ts";
import type { Condition, WhereClause } from "./facility.ts";
import { type PassLog, Role } from "./pass-log.ts";

/** How one row stands to a criterion's `where` and group. */
export const Match = {
  no: 0,
  yes: 1,
  /**
   * A code heard uninvited whose own condition is blank: nobody placed it, so nobody knows how it lay. It belongs to
   * its pass whatever the condition.
   */
  unplaced: 2,
} as const;

export type Matcher = (row: number) => 0 | 1 | 2;

/**
 * Says which rows a criterion takes: all `where` clauses hold, and the row's values are those of the `group`. A row with
 * a blank in one of the columns is not taken. A column that no log has matches nothing, or, for want of any value,
 * leaves a stray unplaced.
 */
export function rowMatcher(
  log: PassLog,
  conditions: Condition[],
  where: WhereClause[],
  group: Record<string, string> | null,
): Matcher {
  const tests = [
    ...where.map((clause) => clauseTest(log, conditions, clause)),
    ...Object.entries(group ?? {}).map(([column, name]) => nameTest(log, conditions, column, [name])),
  ];
  const { role } = log.rows;
  return (row) => {
    let unplaced = false;
    for (const test of tests) {
      const answer = test(row);
      if (answer === false) return Match.no;
      if (answer === null) unplaced = true;
    }
    if (!unplaced) return Match.yes;
    return role[row] === Role.stray || role[row] === Role.notPresented ? Match.unplaced : Match.no;
  };
}

/** True or false for a row's value in one column, null for a blank. */
type ColumnTest = (row: number) => boolean | null;

function clauseTest(log: PassLog, conditions: Condition[], clause: WhereClause): ColumnTest {
  if (clause.kind === "values") return nameTest(log, conditions, clause.column, clause.values);
  const column = log.rows.columns.get(clause.column);
  if (column === undefined) return () => null;
  const numbers = column.numbers ?? column.values.map(Number);
  const from = clause.from ?? Number.NEGATIVE_INFINITY;
  const to = clause.to ?? Number.POSITIVE_INFINITY;
  const allowed = numbers.map((number) => number >= from && number <= to);
  return (row) => {
    const text = column.index[row]!;
    return text === -1 ? null : allowed[text]!;
  };
}

/** Values are band names where the column has bands (a bare number stands for itself), else the texts. */
function nameTest(log: PassLog, conditions: Condition[], columnName: string, values: string[]): ColumnTest {
  const column = log.rows.columns.get(columnName);
  if (column === undefined) return () => null;
  const bands = bandsOf(conditions, columnName);
  const named = nameColumn(column, bands);
  const bandSet = bands === null ? values : values.filter((value) => bandNames(bands).includes(value));
  const allowedName = named.names.map((name) => bandSet.includes(name));
  const exactNumbers = new Set(
    bands === null ? [] : values.filter((value) => !bandSet.includes(value)).map(Number),
  );
  const numbers = column.numbers ?? [];
  return (row) => {
    const text = column.index[row]!;
    if (text === -1) return null;
    const name = nameIndexOf(named, row);
    return (name !== -1 && allowedName[name]!) || exactNumbers.has(numbers[text]!);
  };
}
