import { joined, nonEmpty } from "../../model/number-words.ts";
import type { PlannedFinding, RiskCurve, RiskPoint } from "../../model/result/plan.ts";
import { type Column, type FigureView, tableView } from "../parts/figure.ts";
import type { PageContext } from "../parts/page.ts";
import { operatingCharacteristicPicture } from "../pictures/operating-characteristic.ts";
import { chanceText, riskText, trueRateText } from "../words/figures.ts";
import { expectedSentence, wrongSignOffSentence } from "../words/plans.ts";
import type { CriterionSize } from "./sizes.ts";

/** A point of the curve of one criterion. */
export interface RiskRow {
  criterion: string;
  size: PlannedFinding;
  risk: RiskCurve;
  point: RiskPoint;
}

/** Empty for a criterion that no number of passes can meet. */
export function riskRows(sizes: CriterionSize[]): RiskRow[] {
  return sizes.flatMap(({ criterion, size }) => {
    const { risk, impossible } = size;
    if (risk === null || impossible) return [];
    return risk.points.map((point) => ({ criterion: criterion.id, size, risk, point }));
  });
}

export const riskColumns: Column<RiskRow>[] = [
  { header: "criterion", value: ({ criterion }) => criterion },
  { header: "passes", value: ({ risk }) => risk.passes },
  {
    header: "true_rate_fraction",
    value: ({ point }) => point.rate,
    label: "True rate",
    text: ({ risk, point }) => ({
      text: trueRateText(point.rate),
      detail: point.rate === risk.wrongSignOff.rate ? "the limit" : "",
    }),
  },
  {
    header: "met_fraction",
    value: ({ point }) => point.met,
    label: "Met",
    // On the wrong side of the limit the chance is a risk, which is never rounded down.
    text: (row) => (isWrongSide(row) ? riskText(row.point.met) : chanceText(row.point.met)),
    as: "strong number",
  },
  {
    header: "undecided_fraction",
    value: ({ point }) => point.undecided,
    label: "Undecided",
    text: ({ point }) => chanceText(point.undecided),
    as: "number",
  },
  {
    header: "not_met_fraction",
    value: ({ point }) => point.notMet,
    label: "Not met",
    text: ({ point }) => chanceText(point.notMet),
    as: "number",
  },
  { header: "layouts", value: ({ point }) => point.layouts },
];

function isWrongSide({ size, risk, point }: RiskRow): boolean {
  const limit = risk.wrongSignOff.rate;
  return size.sense === "at-least" ? point.rate <= limit : point.rate >= limit;
}

/** The risks of a walk, drawn once for all criteria that are judged alike. */
export interface RiskFigure {
  heading: string;
  /** The text beside the heading while the figure is folded. */
  brief: string;
  figure: FigureView;
}

/** One figure for each walk that differs from the others, the longest first, since it decides how much is walked. */
export function riskFigures(sizes: CriterionSize[], here: PageContext): RiskFigure[] {
  const alike = new Map<string, { title: string; rows: RiskRow[] }[]>();
  for (const size of sizes) {
    const rows = riskRows([size]);
    const [first] = rows;
    if (first === undefined) continue;
    const { measure, sense } = first.size;
    const key = JSON.stringify([measure, sense, first.risk]);
    alike.set(key, [...(alike.get(key) ?? []), { title: size.criterion.title, rows }]);
  }
  const walks = [...alike.values()].map((criteria) => ({
    titles: criteria.map(({ title }) => title),
    rows: criteria[0]!.rows,
    risk: criteria[0]!.rows[0]!.risk,
  }));
  return walks
    .toSorted((a, b) => b.risk.passes - a.risk.passes)
    .map(({ titles, rows, risk }, index) => ({
      heading: joined(titles),
      brief: `${riskText(risk.wrongSignOff.chance)} wrongly “met” at the limit`,
      figure: riskFigure({ titles: joined(titles), rows, index }, here),
    }));
}

function riskFigure(
  { titles, rows, index }: { titles: string; rows: RiskRow[]; index: number },
  here: PageContext,
): FigureView {
  const { size, risk } = rows[0]!;
  const caption = nonEmpty([expectedSentence(size), wrongSignOffSentence(size)]).join(" ");
  const id = `risk-${index + 1}`;
  return {
    id,
    caption,
    howToRead: index === 0 ? howToRead(here) : "",
    picture: operatingCharacteristicPicture({
      id: `${id}-picture`,
      title: "Probability of met, undecided and not met by the true rate",
      description: caption,
      risk,
      sense: size.sense,
    }),
    table: tableView(`Probability of each state by the true rate, in per cent: ${titles}`, riskColumns, rows),
    downloads: [here.tableLink("plan-risk")],
  };
}

function howToRead({ result }: PageContext): string {
  const half = result.plan === null ? 0 : (1 - result.plan.basis.confidence) / 2;
  return `The horizontal axis is the true rate, which an endless walk would show. The three curves are the probabilities that a walk of this length ends in each state. At the upright line, which is the limit, “met” should be rare: the interval aims at ${chanceText(half)} or less there. The filled area is the probability of signing off a read point that is not good enough (the consumer's risk).`;
}
