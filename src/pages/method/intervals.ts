import { fewestPasses } from "../../analysis/plan/sample-size.ts";
import { defaultInterval, intervals } from "../../intervals/index.ts";
import type { Interval } from "../../intervals/interval.ts";
import { statedPercent } from "../../model/number-words.ts";

/** A piece of a formula, all in one type and on one line. */
export interface FormulaPart {
  text: string;
  isVariable: boolean;
  place: "line" | "below" | "above";
}

/** What the method page prints of one interval's formulas. */
interface Formulas {
  lines: { lead: string; parts: FormulaPart[] }[];
  where: FormulaPart[];
}

/** What the method page says of the intervals. */
export interface IntervalViews {
  /** That the report uses it, and what it assumes. */
  used: string;
  /** Of the intervals that have no chapter of their own. */
  formulas: Formulas[];
  chapters: { id: string; title: string; paragraphs: string[]; formulas: Formulas }[];
  prices: { columns: string[]; rows: { rate: string; tags: string; passes: string[] }[] };
  effectiveSample: string | null;
  sources: Interval["words"]["sources"];
}

export function intervalViews(usedId: string): IntervalViews {
  const cards = intervals.all();
  const { words } = intervals.get(usedId);
  return {
    used: `${words.used} ${words.assumes}`,
    formulas: cards.filter((card) => card.words.chapter === null).map(formulasOf),
    chapters: cards.flatMap((card) => {
      const { chapter } = card.words;
      if (chapter === null) return [];
      const { id, title } = chapter;
      return [{ id, title, paragraphs: chapter.paragraphs(card.id === usedId), formulas: formulasOf(card) }];
    }),
    prices: prices(),
    effectiveSample: words.effectiveSample,
    sources: cards.flatMap((card) => card.words.sources),
  };
}

function formulasOf({ words }: Interval): Formulas {
  return {
    lines: words.formulas.map(({ lead, formula }) => ({ lead, parts: formulaParts(formula) })),
    where: formulaParts(words.where),
  };
}

const usualCorrelation = 0.02;
const raisedCorrelation = 0.1;

const pricesOf = new Map<string, IntervalViews["prices"]>();

/** Passes without a miss that show a rate at 95 %, each tag walked once, by interval: the same for every facility. */
function prices(): IntervalViews["prices"] {
  const key = intervals.ids().join();
  const known = pricesOf.get(key) ?? madePrices();
  pricesOf.set(key, known);
  return known;
}

function madePrices(): IntervalViews["prices"] {
  const columns = [
    ...intervals
      .all()
      .map(({ id, words }) => ({ id, title: words.short, missCorrelation: usualCorrelation })),
    {
      id: defaultInterval().id,
      title: `${defaultInterval().words.short}, correlation ${raisedCorrelation}`,
      missCorrelation: raisedCorrelation,
    },
  ];
  const passesTo = (limit: number, trialsPerPass: number) =>
    columns.map(({ id, missCorrelation }) => {
      const passes = fewestPasses(
        {
          trialsPerPass,
          unit: "presentations",
          sameTags: false,
          sense: "at-least",
          limit,
          minimumPasses: 1,
          basis: { confidence: 0.95, interval: id, missCorrelation },
        },
        0,
      );
      return passes === null ? "none" : `${passes}`;
    });
  return {
    columns: columns.map(({ title }) => title),
    rows: [0.99, 0.97, 0.95].flatMap((limit) =>
      [20, 40].map((tags) => ({
        rate: statedPercent(limit),
        tags: `${tags}`,
        passes: passesTo(limit, tags),
      })),
    ),
  };
}

/** Pieces of a formula in which `*x*` is a variable, `_{i}` stands below the line and `^{2}` above it. */
export function formulaParts(formula: string): FormulaPart[] {
  return formula.split(/([_^]\{[^}]*\})/).flatMap((piece) => {
    const place = /^_\{/.test(piece) ? "below" : /^\^\{/.test(piece) ? "above" : "line";
    const text = place === "line" ? piece : piece.slice(2, -1);
    return text
      .split("*")
      .map((part, i): FormulaPart => ({ text: part, isVariable: i % 2 === 1, place }))
      .filter((part) => part.text !== "");
  });
}
