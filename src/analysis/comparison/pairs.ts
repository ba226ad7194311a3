import type { PassLog } from "../../model/pass-log.ts";
import type { PairTable } from "../../model/result/comparison.ts";
import type { Walk } from "./walk.ts";

/** Counts the pairs of two rounds under some combinations of conditions. */
export type PairCounter = (wanted: ReadonlySet<number>) => { table: PairTable; pairs: number };

/**
 * Finds for each presentation of the later round its partner in the earlier one: the same tag in the pass of the same
 * name under the same conditions. Each has one partner at most; rows that name no tag have none.
 *
 * @param names `passNames` of the log
 */
export function pairUp(before: Walk, after: Walk, names: Int32Array): PairCounter {
  const { log } = after;
  const { pass, tag, presentations, tagsRead } = log.rows;
  const keyOf = (row: number): number => names[pass[row]!]! * log.tags.length + tag[row]!;
  const isSingle = (row: number) => tag[row] !== -1 && presentations[row] === 1;
  const waiting = new Map<number, { combination: number; read: number }>();
  before.rows.forEach((row, i) => {
    const combination = before.combinationOf[i]!;
    if (isSingle(row)) waiting.set(keyOf(row), { combination, read: tagsRead[row]! });
  });
  // Partners have the same combination, so each has its own table.
  const tables = new Map<number, PairTable>();
  after.rows.forEach((row, i) => {
    const combination = after.combinationOf[i]!;
    const key = keyOf(row);
    const partner = isSingle(row) ? waiting.get(key) : undefined;
    if (partner === undefined || partner.combination !== combination) return;
    waiting.delete(key);
    const table = tables.get(combination) ?? noPairs();
    tables.set(combination, table);
    if (tagsRead[row] === 1) table[partner.read === 1 ? "readBoth" : "readOnlyAfter"] += 1;
    else table[partner.read === 1 ? "readOnlyBefore" : "missedBoth"] += 1;
  });
  return (wanted) => {
    const all = noPairs();
    for (const combination of wanted) {
      const table = tables.get(combination);
      if (table === undefined) continue;
      all.readBoth += table.readBoth;
      all.readOnlyBefore += table.readOnlyBefore;
      all.readOnlyAfter += table.readOnlyAfter;
      all.missedBoth += table.missedBoth;
    }
    const pairs = all.readBoth + all.readOnlyBefore + all.readOnlyAfter + all.missedBoth;
    return { table: all, pairs };
  };
}

function noPairs(): PairTable {
  return { readBoth: 0, readOnlyBefore: 0, readOnlyAfter: 0, missedBoth: 0 };
}

/** The name of each pass as a number: passes of different rounds that are called the same have the same. */
export function passNames(log: PassLog): Int32Array {
  const numbers = new Map<string, number>();
  return Int32Array.from(log.passes, ({ id }) => {
    const number = numbers.get(id) ?? numbers.size;
    numbers.set(id, number);
    return number;
  });
}
