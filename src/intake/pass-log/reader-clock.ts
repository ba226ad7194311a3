import type { ReaderLogSpec } from "../../model/facility.ts";
import { clockShifted } from "../problems/reader-log.ts";
import type { YamlReport } from "../problems/reports.ts";
import { type PassWindow, type ReaderLogs, readPointsOf } from "../reader-log/reader-log.ts";

/** What is known of one read point: when tags were carried past it, and when its reader read any. Seconds since 1970, in any order. */
export interface ClockInput {
  /** Both ends included. */
  windows: readonly { fromS: number; toS: number }[];
  /** When reads fell on the reader's clock, and how many fell then; of a histogram by second, the middle of each second. */
  reads: readonly { atS: number; count: number }[];
}

export interface ClockShift {
  /** Seconds to add to the reader's clock. */
  shiftS: number;
  /** Reads inside windows as the clocks stand. */
  insideNow: number;
  /** Reads inside windows once shifted. */
  insideShifted: number;
  total: number;
}

/** Time zones differ from UTC by at most 14 hours; the rest leaves room for a clock that is wrong besides. */
const farthestS = 15 * 3600;
/** Fewer passes than this fall into place by chance too often. */
const fewestWindows = 5;
/** Of all reads, what the shift must bring inside. */
const manyShare = 0.5;
/** Of the reads inside at the shift, what may at most be inside as the clocks stand. */
const fewShare = 0.5;
/** Of the reads inside at the shift, what any shift away from it may bring at most. */
const runnerUpShare = 0.8;
/** Shifts that bring nearly as many are the same peak; its middle is the answer. */
const plateauShare = 0.995;

/**
 * The constant error of a reader's clock that explains best why its reads miss the passes: which shift of up to 15 hours, in whole seconds, brings the
 * most reads inside pass windows. Each pair of a read and a window votes for the shifts that bring the one into the other. Windows are wider than the
 * reads in them: where neighbouring shifts bring all but half a percent as many reads, the middle of that stretch is taken.
 *
 * The answer is null unless the shift is clearly better than none and than any other. All of these must hold (thresholds are ours, no source): at least
 * five windows hold reads at the shift; at least half of all reads are inside at the shift; at most half as many are inside now; and no shift farther
 * away than the peak is wide brings more than four fifths as many. Passes in an exact rhythm fit again one beat later, so they give null, and so do reads
 * that come all the time.
 *
 * Example: windows at 100, 160, 250, 290 and 400 s, 10 s long, and reads in the middle of each, but 32 s late on the reader's clock: shiftS is -32.
 */
export function bestShift(input: ClockInput): ClockShift | null {
  const windows = joinedWindows(input.windows);
  const reads = input.reads.filter(({ count }) => count > 0).sort((a, b) => a.atS - b.atS);
  const total = reads.reduce((sum, { count }) => sum + count, 0);
  if (windows.length < fewestWindows || total === 0) return null;
  const inside = readsInside(windows, reads);
  const at = (shift: number) => inside[shift + farthestS] ?? 0;
  let best = 0;
  for (let distance = 1; distance <= farthestS; distance += 1)
    for (const shift of [-distance, distance]) if (at(shift) > at(best)) best = shift;
  let [left, right] = [best, best];
  while (at(left - 1) >= plateauShare * at(best)) left -= 1;
  while (at(right + 1) >= plateauShare * at(best)) right += 1;
  const shiftS = (left + right) / 2;
  const [insideNow, insideShifted] = [at(0), at(Math.round(shiftS))];
  if (insideShifted < manyShare * total || insideNow > fewShare * insideShifted) return null;
  if (windowsHolding(windows, reads, shiftS) < fewestWindows) return null;
  const reachS = typicalLength(windows) + (right - left) / 2 + 1;
  const isRival = (count: number, i: number) =>
    Math.abs(i - farthestS - shiftS) > reachS && count > runnerUpShare * insideShifted;
  return inside.some(isRival) ? null : { shiftS, insideNow, insideShifted, total };
}

type Windows = ClockInput["windows"];
type Reads = ClockInput["reads"];

/** In the order of time, those that touch made one, so that no read counts twice. */
function joinedWindows(windows: Windows): Windows {
  const joined: { fromS: number; toS: number }[] = [];
  for (const { fromS, toS } of [...windows].sort((a, b) => a.fromS - b.fromS || a.toS - b.toS)) {
    const last = joined.at(-1);
    if (last !== undefined && fromS <= last.toS) last.toS = Math.max(last.toS, toS);
    else if (toS >= fromS) joined.push({ fromS, toS });
  }
  return joined;
}

/** Pairs of reads and windows that are looked at; of more reads, every so many stand for all. */
const mostVotes = 100_000_000;

/** How many reads each whole shift brings inside, from the farthest back on. */
function readsInside(windows: Windows, reads: Reads): Float64Array {
  const stride = Math.ceil((windows.length * reads.length) / mostVotes);
  const changes = new Float64Array(2 * farthestS + 2);
  let first = 0;
  for (let i = 0; i < reads.length; i += stride) {
    const { atS, count } = reads[i]!;
    while (first < windows.length && windows[first]!.toS < atS - farthestS) first += 1;
    for (let w = first; w < windows.length && windows[w]!.fromS <= atS + farthestS; w += 1) {
      const from = Math.max(-farthestS, Math.ceil(windows[w]!.fromS - atS)) + farthestS;
      const to = Math.min(farthestS, Math.floor(windows[w]!.toS - atS)) + farthestS;
      if (from > to) continue;
      changes[from] = changes[from]! + count * stride;
      changes[to + 1] = changes[to + 1]! - count * stride;
    }
  }
  for (let i = 1; i < changes.length; i += 1) changes[i] = changes[i]! + changes[i - 1]!;
  return changes.subarray(0, 2 * farthestS + 1);
}

function windowsHolding(windows: Windows, reads: Reads, shiftS: number): number {
  const held = new Set<number>();
  let window = 0;
  for (const { atS } of reads) {
    while (window < windows.length && windows[window]!.toS < atS + shiftS) window += 1;
    if (window < windows.length && windows[window]!.fromS <= atS + shiftS) held.add(window);
  }
  return held.size;
}

/** The middle length of the windows, seconds. */
function typicalLength(windows: Windows): number {
  const lengths = windows.map(({ fromS, toS }) => toS - fromS).sort((a, b) => a - b);
  return lengths[lengths.length >>> 1] ?? 0;
}

/** Two shifts nearer to each other than this are of one clock: each is good to about a second. */
const sameClockS = 2;

/** Remarks on read points most of whose reads miss the passes although a constant shift would bring them in. It suggests; nothing is shifted. */
export function remarkOnClocks(
  specs: readonly ReaderLogSpec[],
  { windows, doubtfulSeconds }: { windows: readonly PassWindow[] } & Pick<ReaderLogs, "doubtfulSeconds">,
  report: YamlReport,
): void {
  const shifts = new Map<string, ClockShift>();
  for (const point of new Set(doubtfulSeconds.map(({ readPoint }) => readPoint))) {
    const isHere = ({ readPoint }: { readPoint: string }) => readPoint === point;
    const shift = bestShift({
      windows: windows.filter(isHere).map(({ fromUs, toUs }) => ({ fromS: fromUs / 1e6, toS: toUs / 1e6 })),
      reads: doubtfulSeconds.filter(isHere).map(({ second, reads }) => ({ atS: second + 0.5, count: reads })),
    });
    if (shift !== null) shifts.set(point, shift);
  }
  const walked = new Set(windows.map(({ readPoint }) => readPoint));
  for (const [readPoint, shift] of shifts) {
    const index = specs.findIndex((spec) => readPointsOf(spec).includes(readPoint));
    const spec = specs[index]!;
    const isShared = readPointsOf(spec).some(
      (other) => walked.has(other) && Math.abs((shifts.get(other)?.shiftS ?? 0) - shift.shiftS) > sameClockS,
    );
    const facts = { readPoint, ...shift, statedOffsetS: spec.clockOffsetS, isShared };
    report.value(["reader_logs", index], clockShifted.with(facts));
  }
}
