import { median, quantileSorted } from "simple-statistics";
import { byNaturalOrder } from "../../model/order.ts";
import { noRssi, type PassLog } from "../../model/pass-log.ts";
import type { RoundResult, RssiSummary } from "../../model/result/round.ts";

const binWidthDb = 2;

/** What the logs say of the signal of the tags that were read, and of the antennas that read them. */
export function describeSignal(presented: Int32Array, log: PassLog): Pick<RoundResult, "rssi" | "antennas"> {
  const { tagsRead, tag } = log.rows;
  const read = presented.filter((row) => tag[row] !== -1 && tagsRead[row]! > 0);
  return { rssi: summariseRssi(read, log), antennas: countAntennas(read, log) };
}

/**
 * The strongest RSSI of the tags read, in dBm: five figures (quantiles of R's type 7) and counts in steps of 2 dB.
 * Null where nothing was recorded.
 */
function summariseRssi(read: Int32Array, log: PassLog): RssiSummary | null {
  const levelsDbm = Array.from(read, (row) => log.rows.rssiDbm[row]!)
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
function countAntennas(read: Int32Array, log: PassLog): RoundResult["antennas"] {
  const { antenna, antennas, rssiDbm } = log.rows;
  const found = new Map<number, { tagsRead: number; levels: number[] }>();
  for (const row of read) {
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
