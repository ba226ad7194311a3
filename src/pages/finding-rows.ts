import { measures } from "../measures/index.ts";
import { onMissOf } from "../model/estimate.ts";
import { countText, thinSpace } from "../model/number-words.ts";
import { stableBy } from "../model/order.ts";
import type { Finding, Result } from "../model/result.ts";
import { byState } from "../model/state.ts";
import { type FigureView, numberCell, stateCell, type TableView, textCell } from "./figure-view.ts";
import { facilityPaths, relativeLink } from "./paths.ts";
import type { IntervalRow } from "./pictures/interval-line.ts";
import { intervalPicture } from "./pictures/interval-picture.ts";
import { concededOf } from "./pictures/signs.ts";
import { shownConcession } from "./shown-concession.ts";
import { stateMark } from "./state-mark.ts";

import { limitOf, printedFigures, shortCount } from "./words/findings.ts";
import { groupText } from "./words/labels.ts";
import { findingsSentence, stateWord } from "./words/verdicts.ts";

/** How far a finding's estimate lies on the wrong side of its limit. */
function shortfall({ estimate, limit, sense, measure }: Finding): number {
  const value = estimate.value ?? (onMissOf(estimate).value ? Number.NEGATIVE_INFINITY : limit);
  return measures.get(measure).scale.shortfall(value, limit, sense);
}

/** Worst first: by state, then by how far the estimate lies beyond its limit, then in the order of the file. */
export function worstFirst(findings: Finding[]): Finding[] {
  return [...findings].sort(
    stableBy(
      (a: Finding, b: Finding) => byState(a.state, b.state),
      (a: Finding, b: Finding) => {
        const [left, right] = [shortfall(a), shortfall(b)];
        return left === right ? 0 : right - left;
      },
    ),
  );
}

/** A finding as a row of the interval picture, named as the caller wants it. */
export function findingRow(finding: Finding, label: string, detail: string): IntervalRow {
  const { estimate, measure, sense, limit } = finding;
  return {
    label,
    detail,
    state: finding.state,
    conceded: concededOf(shownConcession(finding)),
    scale: measures.get(measure).scale,
    sense,
    limit,
    lines: [
      {
        label: null,
        estimate,
        count: shortCount(finding),
        figures: printedFigures(finding, estimate),
        earlier: false,
        emptyWord: finding.passes === 0 ? "no pass walked" : "nothing counted",
      },
    ],
  };
}

interface Panel {
  key: string;
  heading: string;
  findings: Finding[];
}

const scaleOf = ({ measure }: Finding) => measures.get(measure).scale;

/** Findings that can share an axis, those of one scale and sense: rates that must be high, rates that must be low, and so on. */
function panels(findings: Finding[]): Panel[] {
  const scales = [...new Set(measures.all().map(({ scale }) => scale))];
  return scales
    .flatMap((scale) =>
      (["at-least", "at-most"] as const).map((sense) => ({
        ...scale.panels[sense],
        findings: worstFirst(
          findings.filter((finding) => scaleOf(finding) === scale && finding.sense === sense),
        ),
      })),
    )
    .filter((panel) => panel.findings.length > 0);
}

/** The interval pictures of findings, worst first, one for each axis they need. */
export function findingFigures(
  result: Result,
  findings: Finding[],
  place: { path: string; id: string; named: "read-point" | "criterion" },
): (FigureView & { heading: string })[] {
  const pointName = (id: string) => result.readPoints.find((point) => point.id === id)?.name ?? id;
  const criterionTitle = (id: string) => result.criteria.find((entry) => entry.id === id)?.title ?? id;
  const detailOf = (finding: Finding) =>
    [
      groupText(finding.group, result.conditions),
      place.named === "read-point" ? criterionTitle(finding.criterion) : "",
    ]
      .filter((part) => part !== "")
      .join(" \u00b7 ");
  const labelOf = (finding: Finding) =>
    place.named === "read-point" ? pointName(finding.readPoint) : criterionTitle(finding.criterion);
  const shortDetail = (finding: Finding) => groupText(finding.group, result.conditions);
  return panels(findings).map((panel, index) => {
    const alone = new Set(panel.findings.map((finding) => finding.criterion)).size === 1;
    const first = panel.findings[0] as Finding;
    const caption = captionOf(panel.findings, alone ? criterionTitle(first.criterion) : null);
    return {
      id: `${place.id}-${panel.key}`,
      heading: panel.heading,
      caption,
      howToRead: howToRead(first, result.basis.confidence, index > 0),
      picture: intervalPicture({
        id: `${place.id}-${panel.key}`,
        title: `${panel.heading}: intervals against their limits, worst first`,
        description: caption,
        rows: panel.findings.map((finding) =>
          findingRow(
            finding,
            labelOf(finding),
            alone && place.named === "read-point" ? shortDetail(finding) : detailOf(finding),
          ),
        ),
        scale: stretches(panel.findings) ? "stretched" : "even",
      }),
      table: findingTable(panel.findings, labelOf, detailOf, caption),
      downloads: [
        {
          label: "findings.csv",
          href: relativeLink(place.path, facilityPaths(result).table("findings")),
        },
      ],
    };
  });
}

/** Limits near an end crowd the rates there: only then is the scale worth drawing out. */
function stretches(findings: Finding[]): boolean {
  return findings.some(
    (finding) =>
      scaleOf(finding).axis === "share" &&
      (finding.sense === "at-least" ? finding.limit >= 0.9 : finding.limit <= 0.1),
  );
}

/** `Of 20 findings, two are not met ...`; a criterion that stands alone is named before its state. */
function captionOf(findings: Finding[], criterion: string | null): string {
  if (criterion === null) return findingsSentence(findings);
  const [only] = findings;
  if (only !== undefined && findings.length === 1) return `${criterion}: ${stateWord(only.state)}.`;
  return `${criterion}. ${findingsSentence(findings)}`;
}

function howToRead({ measure, sense }: Finding, confidence: number, again: boolean): string {
  const percent = `${String(Number((confidence * 100).toPrecision(6)))}${thinSpace}%`;
  const side = sense === "at-least" ? "right" : "left";
  const { scale, words } = measures.get(measure);
  if (again) {
    const besides = words.howToRead === undefined ? "" : ` in ${scale.unit}, ${words.howToRead}:`;
    return `As in the first picture, but${besides === "" ? " here" : besides} a line wholly to the ${side} of its rule is met.`;
  }
  const what = `Each line runs over the ${scale.quantity} that the evidence leaves possible`;
  return `${what}, at ${percent} confidence; the upright is what was counted. The heavy rule is the limit and the tinted side is the good one: a line wholly to the ${side} of its rule is met, one across it is undecided.`;
}

/** The rows behind an interval picture. */
function findingTable(
  findings: Finding[],
  labelOf: (finding: Finding) => string,
  detailOf: (finding: Finding) => string,
  caption: string,
): TableView {
  return {
    caption,
    columns: [
      { label: "Finding", numeric: false },
      { label: "State", numeric: false },
      { label: "Passes", numeric: true },
      { label: "Count", numeric: true },
      { label: "Lower", numeric: true },
      { label: "Value", numeric: true },
      { label: "Upper", numeric: true },
      { label: "Limit", numeric: true },
    ],
    rows: findings.map((finding) => {
      const figures = printedFigures(finding, finding.estimate);
      return [
        textCell(labelOf(finding), detailOf(finding) === labelOf(finding) ? "" : detailOf(finding)),
        stateCell(stateMark(finding.state, shownConcession(finding))),
        numberCell(countText(finding.passes)),
        numberCell(shortCount(finding)),
        numberCell(figures.lower),
        numberCell(figures.value, true),
        numberCell(figures.upper),
        numberCell(limitOf(finding)),
      ];
    }),
  };
}
