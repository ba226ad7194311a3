import type { LogDatabase } from "./log-database.ts";
import type { SecondCount } from "./reader-log.ts";

/**
 * When reads fell, second by second, at the read points where fewer than half of them fall inside windows: elsewhere the
 * clocks need no looking at, and nothing is counted. Repeats of rows are not taken out: they fall where the others do.
 */
export async function doubtfulSeconds(
  database: LogDatabase,
  points: readonly string[],
  pointOfPass: ReadonlyMap<number, number>,
): Promise<SecondCount[]> {
  const inside = new Map<number, number>();
  const passes = await database.rows<{ pass: number; reads: number }>(
    "SELECT pass::INTEGER AS pass, sum(reads)::DOUBLE AS reads FROM heard GROUP BY pass",
  );
  for (const { pass, reads } of passes) {
    const point = pointOfPass.get(pass)!;
    inside.set(point, (inside.get(point) ?? 0) + reads);
  }
  const outside = await database.rows<{ point: number; reads: number }>(
    "SELECT point::INTEGER AS point, sum(reads)::DOUBLE AS reads FROM idle GROUP BY point",
  );
  const doubtful = outside.filter(({ point, reads }) => (inside.get(point) ?? 0) < reads);
  if (doubtful.length === 0) return [];
  const rows = await database.rows<{ point: number; second: number; reads: number }>(
    `SELECT point, (t // 1000000)::DOUBLE AS second, sum(reads.reads)::DOUBLE AS reads
      FROM reads JOIN used ON id = voice
      WHERE point IN (${doubtful.map(({ point }) => point).join(", ")})
      GROUP BY ALL ORDER BY point, second`,
  );
  return rows.map(({ point, second, reads }) => ({ readPoint: points[point]!, second, reads }));
}
