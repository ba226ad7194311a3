import { quantileSorted } from "simple-statistics";
import type { RssiSummary } from "../../model/result.ts";

const binWidthDb = 2;

/**
 * The strongest RSSI of the tags read, in dBm: five figures (quantiles of R's type 7) and counts in steps of 2 dB.
 * Null where nothing was recorded.
 */
export function summariseRssi(levelsDbm: number[]): RssiSummary | null {
  if (levelsDbm.length === 0) return null;
  const sorted = [...levelsDbm].sort((a, b) => a - b);
  const minDbm = sorted[0]!;
  const maxDbm = sorted[sorted.length - 1]!;
  const first = Math.floor(minDbm / binWidthDb);
  const last = Math.floor(maxDbm / binWidthDb);
  const counts = new Array<number>(last - first + 1).fill(0);
  for (const level of sorted) counts[Math.floor(level / binWidthDb) - first]! += 1;
  return {
    n: sorted.length,
    minDbm,
    q05Dbm: quantileSorted(sorted, 0.05),
    medianDbm: quantileSorted(sorted, 0.5),
    q95Dbm: quantileSorted(sorted, 0.95),
    maxDbm,
    binWidthDb,
    bins: counts.map((count, i) => ({ fromDbm: (first + i) * binWidthDb, count })),
  };
}
