import type { Outlier, StandingOut } from "../../model/diagnosis/why.ts";
import { byCodePoint, byNaturalOrder } from "../../model/order.ts";
import type { Candidate, DiagnosedPoint, Source } from "./candidate.ts";
import { chanceOf, countsOf, ratioOf } from "./miss-counts.ts";
import { level } from "./suggestions.ts";

/** Tags and passes that are missed more often than chance explains. */
export const standingOut: Source<StandingOut> = (point) => {
  if (point.misses === 0) return { candidates: [], details: () => null };
  const tags = point.namesTags ? outlyingTags(point) : [];
  const passes = outlyingPasses(point);
  return {
    candidates: [...tags, ...passes],
    details: (pAdjusted) => {
      const carried = (candidates: Candidate[]) =>
        candidates.flatMap((candidate): Outlier[] => {
          const p = pAdjusted(candidate);
          if (p === null || p > level) return [];
          return [{ id: idOf(candidate), ...candidate.counts!, ratio: candidate.ratio!, pAdjusted: p }];
        });
      return {
        tags: carried(tags).sort((a, b) => b.missed - a.missed || byCodePoint(a.id, b.id)),
        passes: carried(passes).sort((a, b) => b.missed - a.missed || byNaturalOrder(a.id, b.id)),
      };
    },
  };
};

function idOf({ subject }: Candidate): string {
  return Object.values(subject)[0]!;
}

function outlyingTags(point: DiagnosedPoint): Candidate[] {
  const { tags, rows } = point.walked.log;
  const totals = tally(point, rows.tag, tags.length);
  return totals.map(({ number, missed, presented }): Candidate => {
    const counts = countsOf(point, missed, presented);
    const tag = tags[number]!;
    return {
      kind: "tag",
      subject: { tag },
      p: chanceOf(counts),
      counts,
      ratio: missed === 0 ? null : ratioOf(counts, point.confidence),
      covers: (row) => rows.tag[row] === number,
      explains: 0,
      sentence: `Tag ${tag} was missed in ${missed} of ${presented} passes, other tags in ${counts.elsewhereMissed} of ${counts.elsewherePresented} presentations.`,
    };
  });
}

function outlyingPasses(point: DiagnosedPoint): Candidate[] {
  const { passes, rows } = point.walked.log;
  const totals = tally(point, rows.pass, passes.length);
  return totals.map(({ number, missed, presented }): Candidate => {
    const counts = countsOf(point, missed, presented);
    const { id } = passes[number]!;
    return {
      kind: "pass",
      subject: { pass: id },
      p: chanceOf(counts),
      counts,
      ratio: missed === 0 ? null : ratioOf(counts, point.confidence),
      covers: (row) => rows.pass[row] === number,
      explains: 0,
      sentence: `Pass ${id} missed ${missed} of ${presented} tags, all other passes ${counts.elsewhereMissed} of ${counts.elsewherePresented}.`,
    };
  });
}

/** Presentations and misses by tag or by pass, of those that were presented at all. */
function tally(
  { walked, presented }: DiagnosedPoint,
  numbers: Int32Array,
  length: number,
): { number: number; missed: number; presented: number }[] {
  const { presentations, tagsRead } = walked.log.rows;
  const all = new Int32Array(length);
  const read = new Int32Array(length);
  for (const row of presented) {
    const number = numbers[row]!;
    all[number]! += presentations[row]!;
    read[number]! += tagsRead[row]!;
  }
  const found: { number: number; missed: number; presented: number }[] = [];
  all.forEach((n, number) => {
    if (n > 0) found.push({ number, missed: n - read[number]!, presented: n });
  });
  return found;
}
