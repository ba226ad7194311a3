import type { LogDatabase } from "./log-database.ts";
import type { PassWindow } from "./reader-log.ts";

/** How a read's point and time become the key under which its window is found. */
export interface WindowKey {
  bucketUs: number;
  baseUs: number;
  stride: number;
}

const shortestBucketUs = 1_000_000;

/**
 * Windows cut into equal stretches of time, so that a read finds its own by equality: then only its two ends are compared.
 * As long as a window on average, so that the table stays small enough to be looked up fast.
 */
export async function fillWindows(
  database: LogDatabase,
  windows: readonly PassWindow[],
  points: ReadonlyMap<string, number>,
): Promise<WindowKey> {
  await database.run("CREATE TABLE windows (key BIGINT, pass BIGINT, from_us BIGINT, to_us BIGINT)");
  const totalUs = windows.reduce((sum, { fromUs, toUs }) => sum + toUs - fromUs, 0);
  const bucketUs = Math.max(shortestBucketUs, Math.ceil(totalUs / Math.max(1, windows.length)));
  const baseUs = windows.reduce((least, { fromUs }) => Math.min(least, fromUs), Number.MAX_SAFE_INTEGER);
  // Times before the base come out negative: a stride far above any bucket keeps them off other points.
  const key = { bucketUs, baseUs: windows.length === 0 ? 0 : baseUs, stride: 2 ** 40 };
  const rows: number[][] = [];
  for (const { pass, readPoint, fromUs, toUs } of windows) {
    const point = points.get(readPoint)!;
    const last = Math.floor((toUs - key.baseUs) / bucketUs);
    for (let bucket = Math.floor((fromUs - key.baseUs) / bucketUs); bucket <= last; bucket += 1)
      rows.push([point * key.stride + bucket, pass, fromUs, toUs]);
  }
  await database.fill("windows", rows);
  return key;
}
