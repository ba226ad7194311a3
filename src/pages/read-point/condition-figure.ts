import { percent } from "../../measures/scales.ts";
import { type FigureView, numberCell, textCell } from "../figure-view.ts";
import type { Link } from "../page.ts";
import { intervalPicture } from "../pictures/interval-picture.ts";
import type { ConditionRates } from "./condition-rates.ts";

/** Where the lowest rates were seen, and what was not walked. */
function captionOf(rates: ConditionRates[]): string {
  const lowest = rates.flatMap((rate) => (rate.lowest === "" ? [] : [`${rate.label}: ${rate.lowest}`]));
  const gaps = rates.flatMap(({ rows }) => rows.filter(({ walked }) => !walked).map(({ value }) => value));
  const first =
    lowest.length > 0
      ? `Read least often: ${lowest.join("; ")}.`
      : rates.some(({ rows }) => rows.some(({ walked }) => walked))
        ? "No tag was missed under any value of any condition."
        : "Nothing was walked in this round under any of the conditions.";
  return gaps.length === 0 ? first : `${first} Not walked: ${gaps.join(", ")}.`;
}

/** The read rate under each value of each condition, on one axis. */
export function conditionFigure(rates: ConditionRates[], downloads: Link[]): FigureView {
  const caption = captionOf(rates);
  return {
    id: "conditions",
    caption,
    howToRead:
      "Each line runs over the rates that the tags walked under that value leave possible; the upright is the rate observed. No limit is drawn, since these rows are not judged: they show where to look. Few passes make a long line.",
    picture: intervalPicture({
      id: "by-condition",
      title: "Read rate by each condition",
      description: caption,
      rows: rates.flatMap(({ label, rows }) =>
        rows.map((row) => ({
          label: row.value,
          detail: label,
          state: null,
          conceded: "none" as const,
          scale: percent,
          sense: "at-least" as const,
          limit: null,
          lines: [
            {
              label: null,
              estimate: row.estimate,
              count: row.walked ? row.rate.count : "",
              figures: row.rate.figures,
              earlier: false,
              emptyWord: "not walked",
            },
          ],
        })),
      ),
      scale: "stretched",
    }),
    table: {
      caption: "Read rate by each condition",
      columns: [
        { label: "Value", numeric: false },
        { label: "Passes", numeric: true },
        { label: "Tags read", numeric: true },
        { label: "Lower, %", numeric: true },
        { label: "Rate, %", numeric: true },
        { label: "Upper, %", numeric: true },
      ],
      rows: rates.flatMap(({ label, rows }) =>
        rows.map((row) => [
          textCell(row.value, label),
          numberCell(row.passes),
          numberCell(row.walked ? row.rate.count : "not walked"),
          numberCell(row.rate.figures.lower),
          numberCell(row.rate.figures.value, true),
          numberCell(row.rate.figures.upper),
        ]),
      ),
    },
    downloads,
  };
}
