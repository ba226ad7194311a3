import type { PassLog } from "../../model/pass-log.ts";
import type { PairTable } from "../../model/result/comparison.ts";
import type { Walk } from "./walk.ts";

/** Counts the pairs of two rounds under some combinations of conditions. */
export type PairCounter = (wanted: ReadonlySet<number>) => { table: PairTable; pairs: number };

const noPartner = -1;

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
  const partnerRead = Int8Array.from(after.rows, (row, i) => {
    if (!isSingle(row)) return noPartner;
    const key = keyOf(row);
    const partner = waiting.get(key);
    if (partner === undefined || partner.combination !== after.combinationOf[i]) return noPartner;
    waiting.delete(key);
    return partner.read;
  });
  return (wanted) => {
    const table: PairTable = { readBoth: 0, readOnlyBefore: 0, readOnlyAfter: 0, missedBoth: 0 };
    let pairs = 0;
    after.rows.forEach((row, i) => {
      const earlier = partnerRead[i]!;
      if (earlier === noPartner || !wanted.has(after.combinationOf[i]!)) return;
      pairs += 1;
      if (tagsRead[row] === 1) table[earlier === 1 ? "readBoth" : "readOnlyAfter"] += 1;
      else table[earlier === 1 ? "readOnlyBefore" : "missedBoth"] += 1;
    });
    return { table, pairs };
  };
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
