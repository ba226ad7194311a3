import { neighbourTest } from "../../statistics/numerics/shuffle.ts";

/** Passes by their numbers, which follow the order of their times. */
export interface TimedPasses {
  passes: readonly { startedAt: string | null }[];
}

/** Passes with faults, and how often chance alone puts them so near each other. */
export interface RunOfFaults {
  passes: number;
  p: number;
}

/** What was tested already, by log and faults: findings and the diagnosis ask of the same passes. */
const tested = new WeakMap<TimedPasses, Map<string, number>>();

/**
 * Whether faults came in a run of neighbouring passes, in the order of time; null where fewer than three passes have any, or
 * where a pass has no time.
 */
export function faultsInARun(
  log: TimedPasses,
  byPass: readonly { pass: number; faults: number }[],
): RunOfFaults | null {
  const passes = byPass.filter(({ faults }) => faults > 0).length;
  if (passes < 3) return null;
  // Passes are numbered in the order of their times.
  const walked = [...byPass].sort((a, b) => a.pass - b.pass);
  const times = new Set(walked.map(({ pass }) => log.passes[pass]!.startedAt));
  if (times.has(null) || times.size === 1) return null;
  const counts = walked.map(({ faults }) => faults);
  const known = tested.get(log) ?? new Map<string, number>();
  tested.set(log, known);
  const key = counts.join();
  const p = known.get(key) ?? neighbourTest(counts);
  known.set(key, p);
  return { passes, p };
}
