import { valuesOf } from "./conditions.ts";
import type { Condition } from "./facility.ts";
import type { PassLog } from "./pass-log.ts";

/** Some conditions crossed: the combination of values that each row was walked under, by the names of the values. */
export interface RowCombinations {
  /** The number of a row's combination: alike rows have the same one, and it carries no other meaning. */
  of(row: number): number;
  /** A combination's value of one condition, by the condition's place in the list; null for a blank. */
  valueIn(combination: number, condition: number): string | null;
  /** By column. */
  record(combination: number): Record<string, string | null>;
  /** By the first condition, then the next: in the order of its values, blanks last. */
  inOrder(combinations: Iterable<number>): number[];
}

/**
 * The combinations of conditions in a log, numbered as they are met. A blank is a value of its own: rows that do not say how
 * they were walked are like each other, and like no others. Without conditions all rows have the same one.
 */
export function rowCombinations(conditions: readonly Condition[], log: PassLog): RowCombinations {
  const columns = conditions.map((condition) => namedColumn(condition, log));
  // One condition after the other: the number of a shorter combination and the next value give that of the longer one.
  const numbers = conditions.map((): (number | undefined)[] => []);
  const sizes = new Int32Array(conditions.length);
  const found: number[][] = conditions.length === 0 ? [[]] : [];
  const valueIn = (combination: number, condition: number): string | null =>
    columns[condition]!.names[found[combination]![condition]!] ?? null;
  const compare = (a: number, b: number): number => {
    for (const [i, { order }] of columns.entries()) {
      const left = valueIn(a, i);
      const right = valueIn(b, i);
      if (left === right) continue;
      if (left === null) return 1;
      return right === null ? -1 : order(left, right);
    }
    return 0;
  };
  return {
    of(row) {
      let combination = 0;
      for (let i = 0; i < columns.length; i += 1) {
        const { names, nameOf } = columns[i]!;
        const key = combination * (names.length + 1) + nameOf(row) + 1;
        const known = numbers[i]![key];
        combination = known ?? sizes[i]!;
        if (known !== undefined) continue;
        numbers[i]![key] = combination;
        sizes[i]! += 1;
        if (i === columns.length - 1) found.push(columns.map((column) => column.nameOf(row)));
      }
      return combination;
    },
    valueIn,
    record: (combination) =>
      Object.fromEntries(conditions.map(({ column }, i) => [column, valueIn(combination, i)])),
    inOrder: (combinations) => [...combinations].sort(compare),
  };
}

interface NamedColumn {
  names: readonly string[];
  /** Index into `names` of a row's value; -1 for a blank. */
  nameOf(row: number): number;
  order(a: string, b: string): number;
}

function namedColumn(condition: Condition, log: PassLog): NamedColumn {
  const values = valuesOf(condition);
  const column = log.rows.columns.get(condition.column);
  const order = (a: string, b: string) => values.order(a, b);
  if (column === undefined) return { names: [], nameOf: () => -1, order };
  const nameOfEach = column.values.map((text) => values.nameOf(text));
  const names = [...new Set([...(values.names ?? []), ...nameOfEach.filter((name) => name !== null)])];
  const places = new Map<string | null, number>(names.map((name, place) => [name, place]));
  const nameOfText = Int32Array.from(nameOfEach, (name) => places.get(name) ?? -1);
  return {
    names,
    nameOf: (row) => {
      const text = column.index[row]!;
      return text === -1 ? -1 : nameOfText[text]!;
    },
    order,
  };
}
