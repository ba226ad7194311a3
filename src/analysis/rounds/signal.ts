import { median, quantileSorted } from "simple-statistics";
import { byNaturalOrder } from "../../model/order.ts";
import { noRssi, type PassLog } from "../../model/pass-log.ts";
import type { RoundResult, RssiSummary } from "../../model/result.ts";

const binWidthDb = 2;

/**
 * The strongest RSSI of the tags read, in dBm: five figures (quantiles of R's type 7) and counts in steps of 2 dB.
 * Null where nothing was recorded.
 */
export function summariseRssi(presented: Int32Array, log: PassLog): RssiSummary | null {
  const levelsDbm = rowsRead(presented, log)
    .map((row) => log.rows.rssiDbm[row]!)
    .filter((level) => level !== noRssi)
    .sort((a, b) => a - b);
  if (levelsDbm.length === 0) return null;
  const minDbm = levelsDbm[0]!;
  const maxDbm = levelsDbm.at(-1)!;
  const first = Math.floor(minDbm / binWidthDb);
  const counts = new Array<number>(Math.floor(maxDbm / binWidthDb) - first + 1).fill(0);
  for (const level of levelsDbm) counts[Math.floor(level / binWidthDb) - first]! += 1;
  return {
    n: levelsDbm.length,
    minDbm,
    q05Dbm: quantileSorted(levelsDbm, 0.05),
    medianDbm: quantileSorted(levelsDbm, 0.5),
    q95Dbm: quantileSorted(levelsDbm, 0.95),
    maxDbm,
    binWidthDb,
    bins: counts.map((count, i) => ({ fromDbm: (first + i) * binWidthDb, count })),
  };
}

/** How many of the tags read each antenna is named for, and their median RSSI; empty where the log names none. */
export function countAntennas(presented: Int32Array, log: PassLog): RoundResult["antennas"] {
  const { antenna, antennas, rssiDbm } = log.rows;
  const found = new Map<number, { tagsRead: number; levels: number[] }>();
  for (const row of rowsRead(presented, log)) {
    if (antenna[row] === -1) continue;
    const entry = found.get(antenna[row]!) ?? { tagsRead: 0, levels: [] };
    entry.tagsRead += 1;
    if (rssiDbm[row] !== noRssi) entry.levels.push(rssiDbm[row]!);
    found.set(antenna[row]!, entry);
  }
  return [...found]
    .map(([number, { tagsRead, levels }]) => ({
      antenna: antennas[number]!,
      tagsRead,
      medianRssiDbm: levels.length === 0 ? null : median(levels),
    }))
    .sort((a, b) => byNaturalOrder(a.antenna, b.antenna));
}

/** The rows of single tags that were read. */
function rowsRead(presented: Int32Array, log: PassLog): number[] {
  const { tagsRead, tag } = log.rows;
  return [...presented].filter((row) => tag[row] !== -1 && tagsRead[row]! > 0);
}
