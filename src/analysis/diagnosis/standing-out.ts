import { timesAsOften } from "../../measures/rounding.ts";
import type { Outlier, StandingOut } from "../../model/diagnosis/why.ts";
import { byCodePoint, byNaturalOrder } from "../../model/order.ts";
import type { Candidate, DiagnosedPoint, MissCounts, Source } from "./misses/candidate.ts";
import { chanceOf, countsOf, ratioOf, sumsBy } from "./misses/miss-counts.ts";
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

/* What a candidate says is worked out for the few that are shown. */

function ratioIn({ confidence }: DiagnosedPoint, counts: MissCounts): Candidate["ratio"] {
  return counts.missed === 0 ? null : ratioOf(counts, confidence);
}

function timesText(ratio: Candidate["ratio"]): string {
  return ratio === null ? "" : `: ${timesAsOften(ratio)}`;
}

function outlyingTags(point: DiagnosedPoint): Candidate[] {
  const { tags, rows } = point.walked.log;
  const totals = sumsBy(point, "tag");
  return totals.map(({ number, missed, presented }): Candidate => {
    const counts = countsOf(point, missed, presented);
    const tag = tags[number]!;
    return {
      kind: "tag",
      subject: { tag },
      p: chanceOf(counts),
      counts,
      get ratio() {
        return ratioIn(point, counts);
      },
      covers: (row) => rows.tag[row] === number,
      explains: 0,
      get sentence() {
        return `Tag ${tag} was missed in ${missed} of ${presented} passes, other tags in ${counts.elsewhereMissed} of ${counts.elsewherePresented} presentations${timesText(this.ratio)}.`;
      },
    };
  });
}

function outlyingPasses(point: DiagnosedPoint): Candidate[] {
  const { passes, rows } = point.walked.log;
  const totals = sumsBy(point, "pass");
  return totals.map(({ number, missed, presented }): Candidate => {
    const counts = countsOf(point, missed, presented);
    const { id } = passes[number]!;
    return {
      kind: "pass",
      subject: { pass: id },
      p: chanceOf(counts),
      counts,
      get ratio() {
        return ratioIn(point, counts);
      },
      covers: (row) => rows.pass[row] === number,
      explains: 0,
      get sentence() {
        return `Pass ${id} missed ${missed} of ${presented} tags, all other passes ${counts.elsewhereMissed} of ${counts.elsewherePresented}${timesText(this.ratio)}.`;
      },
    };
  });
}
