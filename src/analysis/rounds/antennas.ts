import { median } from "simple-statistics";
import { byNaturalOrder } from "../../model/order.ts";
import { noRssi, type PassLog } from "../../model/pass-log.ts";
import type { RoundResult } from "../../model/result.ts";

/** How many of the tags read each antenna is named for, and their median RSSI; empty where the log names none. */
export function countAntennas(readRows: number[], log: PassLog): RoundResult["antennas"] {
  const { antenna, antennas, rssiDbm } = log.rows;
  const found = new Map<number, { tagsRead: number; levels: number[] }>();
  for (const row of readRows) {
    const number = antenna[row]!;
    if (number === -1) continue;
    const entry = found.get(number) ?? { tagsRead: 0, levels: [] };
    entry.tagsRead += 1;
    if (rssiDbm[row] !== noRssi) entry.levels.push(rssiDbm[row]!);
    found.set(number, entry);
  }
  return [...found]
    .map(([number, { tagsRead, levels }]) => ({
      antenna: antennas[number]!,
      tagsRead,
      medianRssiDbm: levels.length === 0 ? null : median(levels),
    }))
    .sort((a, b) => byNaturalOrder(a.antenna, b.antenna));
}
