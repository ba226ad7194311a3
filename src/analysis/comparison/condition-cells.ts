import { nameColumn, nameIndexOf } from "../../model/condition-values.ts";
import type { Condition } from "../../model/facility.ts";
import { byCodePoint } from "../../model/order.ts";
import type { PassLog } from "../../model/pass-log.ts";

/** Every declared condition crossed: which combination of values a row was walked under. */
export interface ConditionCells {
  /** The combination of one row; the numbers carry no meaning but that alike rows have the same one. */
  cellOf(row: number): number;
  /** A combination's value of one condition, by the condition's place in the list; null for a blank. */
  valueIn(cell: number, condition: number): string | null;
  /** A combination as column and value. */
  record(cell: number): Record<string, string | null>;
  /** By the first condition, then the next: bands rising, else by code point, blanks last. */
  inOrder(cells: Iterable<number>): number[];
}

/**
 * The combinations of conditions in a log, numbered as they are met. A blank is a value of its own: rows that do not
 * say how they were walked are like each other, and like no others. Without conditions every row is in one cell.
 */
export function conditionCells(conditions: Condition[], log: PassLog): ConditionCells {
  const named = conditions.map(({ column, bands }) => {
    const texts = log.rows.columns.get(column);
    return texts === undefined ? null : nameColumn(texts, bands);
  });
  // One condition after the other: the number of a shorter combination and the next value give that of the longer one.
  const numbers = conditions.map(() => new Map<number, number>());
  const namesOfCell: number[][] = conditions.length === 0 ? [[]] : [];
  const cellOf = (row: number): number => {
    let cell = 0;
    for (let i = 0; i < named.length; i += 1) {
      const column = named[i]!;
      const name = column === null ? -1 : nameIndexOf(column, row);
      const key = cell * ((column?.names.length ?? 0) + 1) + name + 1;
      const known = numbers[i]!.get(key);
      if (known !== undefined) cell = known;
      else {
        cell = numbers[i]!.size;
        numbers[i]!.set(key, cell);
        if (i === named.length - 1) {
          namesOfCell.push(named.map((one) => (one === null ? -1 : nameIndexOf(one, row))));
        }
      }
    }
    return cell;
  };
  const valueIn = (cell: number, condition: number): string | null => {
    const name = namesOfCell[cell]![condition]!;
    return name === -1 ? null : named[condition]!.names[name]!;
  };
  const compare = (a: number, b: number): number => {
    for (const [i, { bands }] of conditions.entries()) {
      const left = valueIn(a, i);
      const right = valueIn(b, i);
      if (left === right) continue;
      if (left === null) return 1;
      if (right === null) return -1;
      return bands === null ? byCodePoint(left, right) : namesOfCell[a]![i]! - namesOfCell[b]![i]!;
    }
    return 0;
  };
  return {
    cellOf,
    valueIn,
    record: (cell) =>
      Object.fromEntries(conditions.map(({ column }, i) => [column, valueIn(cell, i)] as const)),
    inOrder: (cells) => [...cells].sort(compare),
  };
}
