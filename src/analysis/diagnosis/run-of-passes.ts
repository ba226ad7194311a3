import { timesAsOften } from "../../measures/rounding.ts";
import type { RunOfPasses } from "../../model/diagnosis/why.ts";
import { faultsInARun } from "../findings/faults-in-a-run.ts";
import type { Candidate, DiagnosedPoint, MissCounts, Source } from "./misses/candidate.ts";
import { chanceOf, countsOf, deviance, ratioOf, sumsBy } from "./misses/miss-counts.ts";
import { level } from "./suggestions.ts";

/**
 * Whether misses came in neighbouring passes, and the run that stands out most. A run is only looked for where a random order would
 * seldom bring the misses so near each other. Its p is then that of its misses, times the number of runs that there are to
 * choose from, and holds without its worst pass too.
 */
export const runOfPasses: Source<RunOfPasses> = (point) => {
  const none = { candidates: [], details: () => null };
  const { log } = point.walked;
  if (point.misses === 0) return none;
  const byPass = sumsBy(point, "pass");
  const found = faultsInARun(
    log,
    byPass.map(({ number, missed }) => ({ pass: number, faults: missed })),
  );
  if (found === null) return none;
  const details = { passesWithMisses: found.passes, p: found.p };
  if (found.p > level) return { candidates: [], details: () => ({ ...details, run: null }) };
  const [first, last] = densestRun(point, byPass);
  const inside = byPass.slice(first, last + 1);
  const counts = sumOf(point, inside);
  const isInside = new Set(inside.map(({ number }) => number));
  const [from, to] = [log.passes[inside[0]!.number]!.id, log.passes[inside.at(-1)!.number]!.id];
  const ratio = ratioOf(counts, point.confidence);
  const candidate: Candidate = {
    kind: "run-of-passes",
    subject: { from, to },
    p: Math.min(1, chanceOfRun(point, inside) * ((byPass.length * (byPass.length - 1)) / 2)),
    counts,
    ratio,
    covers: (row) => isInside.has(log.rows.pass[row]!),
    explains: 0,
    sentence: `Misses came in a run: passes ${from} to ${to} missed ${counts.missed} of ${counts.presented} tags, the others ${counts.elsewhereMissed} of ${counts.elsewherePresented}: ${timesAsOften(ratio)}.`,
  };
  return {
    candidates: [candidate],
    details: () => ({ ...details, run: { from, to, passes: inside.length, ...counts } }),
  };
};

interface PassSum {
  missed: number;
  presented: number;
}

/** How often as many misses fall on the passes, all of them or but for the worst one: the larger. */
function chanceOfRun(point: DiagnosedPoint, inside: readonly PassSum[]): number {
  const worst = Math.max(...inside.map(({ missed }) => missed));
  const without = inside.toSpliced(
    inside.findIndex(({ missed }) => missed === worst),
    1,
  );
  const { presented } = inside.find(({ missed }) => missed === worst)!;
  const rest = { ...point, misses: point.misses - worst, presentations: point.presentations - presented };
  return Math.max(chanceOf(sumOf(point, inside)), chanceOf(sumOf(rest, without)));
}

function sumOf(point: DiagnosedPoint, passes: readonly PassSum[]): MissCounts {
  return countsOf(
    point,
    passes.reduce((sum, { missed }) => sum + missed, 0),
    passes.reduce((sum, { presented }) => sum + presented, 0),
  );
}

/** The neighbouring passes, two or more and not all, whose misses differ most from those of the others. */
function densestRun(
  { misses, presentations }: DiagnosedPoint,
  byPass: readonly PassSum[],
): [first: number, last: number] {
  let best: [number, number] = [0, 1];
  let most = Number.NEGATIVE_INFINITY;
  for (let first = 0; first < byPass.length; first += 1) {
    if (byPass[first]!.missed === 0) continue;
    let missed = byPass[first]!.missed;
    let presented = byPass[first]!.presented;
    for (let last = first + 1; last < byPass.length; last += 1) {
      missed += byPass[last]!.missed;
      presented += byPass[last]!.presented;
      if (byPass[last]!.missed === 0 || presented === presentations) continue;
      const expected = (misses * presented) / presentations;
      const gain = missed > expected ? deviance(missed, misses, expected) : 0;
      if (gain <= most) continue;
      most = gain;
      best = [first, last];
    }
  }
  return best;
}
