import { intervals } from "../../src/intervals/index.ts";
import type { Interval, Settings } from "../../src/intervals/interval.ts";
import { type ClusteredSample, clusterSums } from "../../src/statistics/effective-sample.ts";

/** Passes by tags, and up to how many misses are laid out in all. */
export interface Layout {
  passes: number;
  tags: number;
  most: number;
}

/** Misses by pass, the most first; passes without one are left out. */
type Misses = readonly number[];

const better = { met: 2, undecided: 1, "not-met": 0 };

/**
 * The first layout of misses in which one more miss is judged better, if each tag is presented once: undecided becomes met,
 * or not met becomes undecided. Null where there is none.
 */
export function firstTurn(
  interval: Interval,
  layout: Layout,
  { limit, settings }: { limit: number; settings: Settings },
): { before: Misses; after: Misses } | null {
  const known = new Map<string, number>();
  const standing = (missed: Misses): number => {
    const key = missed.join(" ");
    const found =
      known.get(key) ??
      better[interval.decide(sampleOf(layout, missed), { sense: "at-least", limit }, settings)];
    known.set(key, found);
    return found;
  };
  for (const before of misses(layout)) {
    for (const after of withOneMore(before, layout))
      if (standing(after) > standing(before)) return { before, after };
  }
  return null;
}

/** All layouts with fewer than the most misses. */
export function* misses({ passes, tags, most }: Layout): Generator<Misses> {
  for (let missed = 0; missed < most; missed += 1) yield* divided(missed, passes, tags);
}

function* divided(missed: number, passes: number, largest: number): Generator<Misses> {
  if (missed === 0) yield [];
  if (missed === 0 || passes === 0) return;
  for (let first = Math.min(missed, largest); first >= 1; first -= 1)
    for (const rest of divided(missed - first, passes - 1, first)) yield [first, ...rest];
}

function withOneMore(missed: Misses, { passes, tags }: Layout): Misses[] {
  const more = missed.flatMap((count, i) =>
    count < tags && missed[i - 1] !== count ? [missed.with(i, count + 1)] : [],
  );
  return missed.length < passes ? [...more, [...missed, 1]] : more;
}

function sampleOf({ passes, tags }: Layout, missed: Misses): ClusteredSample {
  const n = passes * tags;
  const byPass = clusterSums(
    Array.from({ length: passes }, (_, i) => ({ n: tags, failures: missed[i] ?? 0 })),
  );
  return { n, k: n - missed.reduce((sum, one) => sum + one, 0), clusterings: [byPass] };
}

const searched: Layout[] = [
  { passes: 8, tags: 100, most: 20 },
  { passes: 11, tags: 100, most: 16 },
  { passes: 20, tags: 40, most: 14 },
  { passes: 70, tags: 20, most: 14 },
  { passes: 82, tags: 20, most: 12 },
];

/** For each interval and size of walk: the limits from 92 to 99 % at which one more miss is judged better, as lines to print. */
export function* turnTable(): Generator<string> {
  yield "One more miss judged better, each tag presented once: limits in per cent, and the misses by pass before and after";
  const settings = { confidence: 0.95, missCorrelation: 0.02 };
  for (const interval of intervals.all()) {
    for (const layout of searched) {
      const turns = [92, 93, 94, 95, 96, 97, 98, 99].flatMap((limit) => {
        const turn = firstTurn(interval, layout, { limit: limit / 100, settings });
        return turn === null ? [] : [`${limit}: ${turn.before.join(" ")} -> ${turn.after.join(" ")}`];
      });
      const { passes, tags, most } = layout;
      yield `  ${interval.id}, ${passes} x ${tags}, up to ${most}: ${turns.join("; ") || "none"}`;
    }
  }
}
