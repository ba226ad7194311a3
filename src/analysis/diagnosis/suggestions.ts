import type { Suggestion } from "../../model/diagnosis/diagnosis.ts";
import { byCodePoint, stableBy } from "../../model/order.ts";
import { clopperPearsonTails } from "../../statistics/clopper-pearson.ts";
import { holmAdjusted } from "../../statistics/holm.ts";
import type { Candidate, DiagnosedPoint } from "./misses/candidate.ts";
import { deviance } from "./misses/miss-counts.ts";

/** The level that all tests of a read point keep together. */
export const level = 0.05;

const mostSuggestions = 5;
/** Candidates beyond so many, the strongest first, are not weighed against each other: a page has room for five. */
const mostWeighed = 40;

/** The adjusted p of each candidate, by Holm over all tests of the read point; null for a fact. */
export function adjusted(candidates: readonly Candidate[]): Map<Candidate, number | null> {
  const tested = candidates.filter(({ p }) => p !== null);
  const values = holmAdjusted(tested.map(({ p }) => p!));
  return new Map<Candidate, number | null>([
    ...candidates.map((candidate) => [candidate, null] as const),
    ...tested.map((candidate, i) => [candidate, values[i]!] as const),
  ]);
}

/**
 * Where to look, the one that explains most misses first. What the tests do not carry is left out, and so is what a better
 * one explains already: each is weighed again with those that were taken held fixed.
 */
export function suggestions(
  point: DiagnosedPoint,
  pAdjusted: ReadonlyMap<Candidate, number | null>,
): Suggestion[] {
  const carried = [...pAdjusted].filter(([, p]) => p === null || p <= level).map(([candidate]) => candidate);
  const counted = carried.filter(({ covers }) => covers !== null);
  const taken = [
    ...chosen(point, counted),
    ...carried
      .filter(({ covers }) => covers === null)
      .map((candidate) => ({ candidate, explains: candidate.explains })),
  ];
  return taken
    .sort(
      stableBy(
        (a, b) => b.explains - a.explains,
        (a, b) => byKindAndSubject(a.candidate, b.candidate),
      ),
    )
    .slice(0, mostSuggestions)
    .map(({ candidate }) => ({
      kind: candidate.kind,
      subject: candidate.subject,
      sentence: candidate.sentence,
      evidence: {
        missed: candidate.counts?.missed ?? null,
        presented: candidate.counts?.presented ?? null,
        elsewhereMissed: candidate.counts?.elsewhereMissed ?? null,
        elsewherePresented: candidate.counts?.elsewherePresented ?? null,
        ratio: candidate.ratio,
        p: pAdjusted.get(candidate) ?? null,
      },
    }));
}

const kindOrder = [
  "time-to-answer",
  "reach",
  "power",
  "radio-setting",
  "tag-model",
  "condition",
  "antenna",
  "run-of-passes",
  "tag",
  "pass",
  "stray-source",
  "setting",
];

function byKindAndSubject(a: Candidate, b: Candidate): number {
  return (
    kindOrder.indexOf(a.kind) - kindOrder.indexOf(b.kind) ||
    byCodePoint(JSON.stringify(a.subject), JSON.stringify(b.subject))
  );
}

/** How a candidate stands once some others are taken. */
interface Weighed {
  /** Misses beyond those expected. */
  excess: number;
  /** How much better the misses are described with it: a deviance. */
  gain: number;
  p: number;
}

const bestFirst = stableBy<Weighed & { candidate: Candidate }>(
  (a, b) => b.gain - a.gain,
  (a, b) => byKindAndSubject(a.candidate, b.candidate),
);

/** One candidate after the other, the one that describes the misses best first, until the rest add nothing. */
function chosen(
  point: DiagnosedPoint,
  candidates: readonly Candidate[],
): { candidate: Candidate; explains: number }[] {
  const taken: { candidate: Candidate; explains: number }[] = [];
  let left = candidates
    .map((candidate) => ({ candidate, ...weigh(point, candidate, []) }))
    .sort(bestFirst)
    .slice(0, mostWeighed)
    .map(({ candidate }) => candidate);
  while (left.length > 0 && taken.length < mostSuggestions) {
    const fixed = taken.map(({ candidate }) => candidate);
    const holds = ({ p }: Weighed) => p * left.length <= level;
    const weighed = left
      .map((candidate) => ({ candidate, ...weigh(point, candidate, fixed) }))
      .filter(holds)
      .sort(bestFirst);
    const best = weighed[0];
    if (best === undefined) break;
    const explains = (cause: Candidate) => goesBefore(point, cause, { other: best.candidate, fixed, holds });
    const next = weighed.find(({ candidate }) => candidate !== best.candidate && explains(candidate)) ?? best;
    taken.push({ candidate: next.candidate, explains: next.excess });
    left = weighed.map(({ candidate }) => candidate).filter((candidate) => candidate !== next.candidate);
  }
  return taken;
}

/** Whether a candidate is a value of the condition that the cause goes by: how fast, or how far away. */
function isOfItsColumn(other: Candidate, { column }: Candidate): boolean {
  return column !== undefined && other.kind === "condition" && column in other.subject;
}

/** What is found by looking at each tag, at each pass or at their order, and so may have a cause in how it was walked. */
const effects: readonly string[] = ["tag", "pass", "run-of-passes"];

/**
 * Whether a cause is said before a tag, a pass or a run that describes the misses better: it covers most of the other's misses,
 * and either leaves nothing of it unexplained or, with a tag, explains more than that one tag. The same of a cause and a value of the
 * condition that it goes by.
 */
function goesBefore(
  point: DiagnosedPoint,
  cause: Candidate,
  {
    other,
    fixed,
    holds,
  }: { other: Candidate; fixed: readonly Candidate[]; holds: (one: Weighed) => boolean },
): boolean {
  const isOwn = isOfItsColumn(other, cause);
  if (!isOwn && (effects.includes(cause.kind) || !effects.includes(other.kind))) return false;
  const { presentations, tagsRead } = point.walked.log.rows;
  let misses = 0;
  let covered = 0;
  for (const row of point.missedRows) {
    if (!other.covers!(row)) continue;
    const missed = presentations[row]! - tagsRead[row]!;
    misses += missed;
    if (cause.covers!(row)) covered += missed;
  }
  if (covered * 2 < misses) return false;
  if (!holds(weigh(point, other, [...fixed, cause]))) return true;
  return (isOwn || other.kind === "tag") && holds(weigh(point, cause, [...fixed, other]));
}

/**
 * Weighs a candidate with others held fixed: each set of rows that the same of them cover keeps its own rate of misses, and
 * the candidate is asked for misses beyond those that these rates expect of its rows.
 */
function weigh(point: DiagnosedPoint, { covers }: Candidate, fixed: readonly Candidate[]): Weighed {
  const { of, presented } = point;
  const strata = 1 << fixed.length;
  const all = new Float64Array(strata);
  const missed = new Float64Array(strata);
  const own = new Float64Array(strata);
  let ownMissed = 0;
  for (let at = 0; at < presented.length; at += 1) {
    const row = presented[at]!;
    let stratum = 0;
    for (let i = 0; i < fixed.length; i += 1) if (fixed[i]!.covers!(row)) stratum |= 1 << i;
    const n = of.n[at]!;
    const k = of.missed[at]!;
    all[stratum]! += n;
    missed[stratum]! += k;
    if (!covers!(row)) continue;
    own[stratum]! += n;
    ownMissed += k;
  }
  let expected = 0;
  for (let i = 0; i < strata; i += 1) if (own[i]! > 0) expected += (own[i]! * missed[i]!) / all[i]!;
  const excess = ownMissed - expected;
  const { misses } = point;
  if (excess <= 0 || expected === 0) return { excess, gain: 0, p: 1 };
  return {
    excess,
    gain: deviance(ownMissed, misses, expected),
    p: clopperPearsonTails(ownMissed / misses, misses, expected / misses).asMany,
  };
}
