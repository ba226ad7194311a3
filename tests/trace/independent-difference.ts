import { effectiveSize, type Interval, wilson } from "./independent-interval.ts";
import { bandOf } from "./pass-rows.ts";
import type { RawRow } from "./raw-rows.ts";
import { type Count, presented, tagsRead } from "./recount.ts";

/** Two rounds over the conditions that both walked, the earlier one in the later one's mix. */
export interface RecountedDifference {
  /** `size` is how many independent presentations it is worth. */
  before: Count & { interval: Interval; size: number };
  after: Count & { interval: Interval; size: number };
  difference: Interval;
  p: number;
}

interface Arm {
  share: number;
  size: number;
}

const cellOf = ({ speed, orientation }: RawRow) => `${bandOf(speed)} ${orientation}`;

/**
 * R. G. Newcombe (1998), Stat. Med. 17, 873-890, method 10, on what the presentations are worth, with the earlier round
 * weighted cell by cell. The rows traced here are not pairs: this throws where they are.
 */
export function differenceOf(earlier: RawRow[], later: RawRow[]): RecountedDifference {
  const cells = [...new Set(presented(later).map(cellOf))].filter((cell) =>
    presented(earlier).some((row) => cellOf(row) === cell),
  );
  const shared = (rows: RawRow[]) => tagsRead(rows.filter((row) => cells.includes(cellOf(row))));
  const before = shared(earlier);
  const after = shared(later);
  if (isPaired(before.rows, after.rows)) throw new Error("every presentation has its partner");
  let share = 0;
  let cost = 0;
  for (const cell of cells) {
    const weight = after.rows.filter((row) => cellOf(row) === cell).length / after.n;
    const own = tagsRead(before.rows.filter((row) => cellOf(row) === cell));
    share += weight * (own.k / own.n);
    cost += (weight * weight * before.n) / own.n;
  }
  const first: Arm = { share, size: lentSize(before, after) / cost };
  const second: Arm = { share: after.k / after.n, size: lentSize(after, before) };
  return {
    before: { ...before, size: first.size, interval: wilson(first.share, first.size) },
    after: { ...after, size: second.size, interval: wilson(second.share, second.size) },
    difference: apart(first, second),
    p: surpriseOf(first, second),
  };
}

/**
 * What the presentations of one round are worth, if its misses lie together at least half as much, on a scale of
 * ratios, as those of both rounds do; but no worse than if its passes and tags came out whole. Only where both have some.
 */
function lentSize(own: Count, other: Count): number {
  const [mine, theirs] = [own, other].map((count) => count.n / effectiveSize(count, 0.02)) as [
    number,
    number,
  ];
  const whole = largestWhole(own);
  if (whole === 1 || largestWhole(other) === 1) return own.n / mine;
  return own.n / Math.max(mine, Math.min(Math.exp((Math.log(mine) + Math.log(theirs)) / 2), whole));
}

/** How many presentations share the pass, or the tag, of a presentation on average: the larger of the two. */
function largestWhole({ rows }: Count): number {
  const companions = (["pass", "tag"] as const).map(
    (dimension) =>
      rows.reduce((sum, row) => sum + rows.filter((one) => one[dimension] === row[dimension]).length, 0) /
      rows.length,
  );
  return Math.max(...companions);
}

function isPaired(before: RawRow[], after: RawRow[]): boolean {
  const key = (row: RawRow) => [row.pass, row.tag, cellOf(row)].join("|");
  const partners = before.filter((row) => after.some((other) => key(other) === key(row)));
  return partners.length === before.length && before.length === after.length;
}

function apart(before: Arm, after: Arm, z?: number): Interval {
  const one = wilson(before.share, before.size, z);
  const two = wilson(after.share, after.size, z);
  const value = after.share - before.share;
  return {
    value,
    lower: value - Math.hypot(after.share - two.lower, one.upper - before.share),
    upper: value + Math.hypot(two.upper - after.share, before.share - one.lower),
  };
}

/** Twice the tail beyond the `z` at which the interval just touches 0. */
function surpriseOf(before: Arm, after: Arm): number {
  if (before.share === after.share) return 1;
  let inside = 0;
  let outside = 20;
  for (let step = 0; step < 100; step += 1) {
    const z = (inside + outside) / 2;
    const { lower, upper } = apart(before, after, z);
    if (lower > 0 || upper < 0) inside = z;
    else outside = z;
  }
  return 2 * tailBeyond(inside);
}

/** The normal density from `z` to where nothing is left of it, by Simpson's rule. */
function tailBeyond(z: number): number {
  const steps = 4000;
  const width = 12 / steps;
  const density = (x: number) => Math.exp((-x * x) / 2) / Math.sqrt(2 * Math.PI);
  let sum = density(z) + density(z + 12);
  for (let i = 1; i < steps; i += 1) sum += (i % 2 === 1 ? 4 : 2) * density(z + i * width);
  return (sum * width) / 3;
}
