import { joined } from "../../model/number-words.ts";
import type { PlannedFinding, RiskCurve } from "../../model/plan.ts";
import type { Result } from "../../model/result.ts";
import { type FigureView, numberCell, textCell } from "../figure-view.ts";
import type { Link } from "../page.ts";
import { operatingCharacteristicPicture } from "../pictures/operating-characteristic.ts";
import { chanceText, riskText, trueRateText } from "../words/figures.ts";
import { expectedSentence, wrongSignOffSentence } from "../words/plans.ts";
import type { CriterionSize } from "./plan-sizes.ts";

/** What a walk risks, drawn once for all criteria that are judged alike. */
export interface RiskFigure {
  heading: string;
  /** What stands beside the heading while the figure is folded. */
  brief: string;
  figure: FigureView;
}

/** One figure for each walk that differs from the others, the longest first, since it decides how much is walked; none for a criterion that no number of passes will do for. */
export function riskFigures(sizes: CriterionSize[], result: Result, downloads: Link[]): RiskFigure[] {
  const alike = new Map<string, { size: PlannedFinding; risk: RiskCurve; titles: string[] }>();
  for (const { criterion, size } of sizes) {
    const { measure, sense, risk, impossible } = size;
    if (risk === null || impossible) continue;
    const key = JSON.stringify([measure, sense, risk]);
    const entry = alike.get(key) ?? { size, risk, titles: [] };
    entry.titles.push(criterion.title);
    alike.set(key, entry);
  }
  const longestFirst = [...alike.values()].toSorted((a, b) => b.risk.passes - a.risk.passes);
  return longestFirst.map(({ size, risk, titles }, i) => ({
    heading: joined(titles),
    brief: `${riskText(risk.wrongSignOff.chance)} wrongly met at the limit`,
    figure: riskFigure(size, risk, `risk-${i + 1}`, i === 0, result, downloads),
  }));
}

function riskFigure(
  size: PlannedFinding,
  risk: RiskCurve,
  id: string,
  first: boolean,
  result: Result,
  downloads: Link[],
): FigureView {
  const { sense } = size;
  const wrong = (rate: number) =>
    sense === "at-least" ? rate <= risk.wrongSignOff.rate : rate >= risk.wrongSignOff.rate;
  const caption = [expectedSentence(size), wrongSignOffSentence(size)]
    .filter((part) => part !== "")
    .join(" ");
  const half = result.plan === null ? 0 : (1 - result.plan.basis.confidence) / 2;
  return {
    id,
    caption,
    howToRead: first
      ? `Go up from a true rate, what the read point would show in an endless walk: the three curves say how often a walk of this length ends in each state. At the rule, the limit itself, met should be rare: the interval aims at ${chanceText(half)} or less there. The filled ground is the chance of signing off a read point that is not good enough.`
      : "",
    picture: operatingCharacteristicPicture({
      id: `${id}-picture`,
      title: "Chance of met, undecided and not met against the true rate",
      description: caption,
      risk,
      sense,
    }),
    table: {
      caption: "Chance of each state by the true rate, in per cent",
      columns: [
        { label: "True rate", numeric: false },
        { label: "Met", numeric: true },
        { label: "Undecided", numeric: true },
        { label: "Not met", numeric: true },
      ],
      rows: risk.points.map((point) => [
        textCell(trueRateText(point.rate), point.rate === risk.wrongSignOff.rate ? "the limit" : ""),
        // On the wrong side of the limit the chance is a risk, and is printed no smaller than it is.
        numberCell(wrong(point.rate) ? riskText(point.met) : chanceText(point.met), true),
        numberCell(chanceText(point.undecided)),
        numberCell(chanceText(point.notMet)),
      ]),
    },
    downloads,
  };
}
