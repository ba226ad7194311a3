import type { LogDatabase } from "./log-database.ts";
import type { PassWindow } from "./reader-log.ts";

const shortestBucketUs = 1_000_000;

/**
 * Windows cut into equal stretches of time, so that a read finds its own by equality: then only its two ends are compared.
 * As long as a window on average, so that the table stays small enough to be looked up fast.
 *
 * @returns the condition under which a `wall` of the table `windows` holds a read's `point` and `t`
 */
export async function fillWindows(
  database: LogDatabase,
  windows: readonly PassWindow[],
  points: ReadonlyMap<string, number>,
): Promise<string> {
  await database.run("CREATE TABLE windows (key BIGINT, pass BIGINT, from_us BIGINT, to_us BIGINT)");
  const totalUs = windows.reduce((sum, { fromUs, toUs }) => sum + toUs - fromUs, 0);
  const bucketUs = Math.max(shortestBucketUs, Math.ceil(totalUs / Math.max(1, windows.length)));
  const firstUs = windows.reduce((least, { fromUs }) => Math.min(least, fromUs), Number.MAX_SAFE_INTEGER);
  const baseUs = windows.length === 0 ? 0 : firstUs;
  // Times before the base come out negative: a stride far above any bucket keeps them off other points.
  const stride = 2 ** 40;
  const rows: number[][] = [];
  for (const { pass, readPoint, fromUs, toUs } of windows) {
    const point = points.get(readPoint)!;
    const last = Math.floor((toUs - baseUs) / bucketUs);
    for (let bucket = Math.floor((fromUs - baseUs) / bucketUs); bucket <= last; bucket += 1)
      rows.push([point * stride + bucket, pass, fromUs, toUs]);
  }
  await database.fill("windows", rows);
  return `wall.key = point * ${stride} + (t - ${baseUs}) // ${bucketUs} AND t >= wall.from_us AND t <= wall.to_us`;
}
