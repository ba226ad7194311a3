import { measures } from "../../measures/index.ts";
import { onMissOf } from "../../model/estimate.ts";
import { thinSpace } from "../../model/number-words.ts";
import { stableBy } from "../../model/order.ts";
import type { Finding } from "../../model/result.ts";
import { byState } from "../../model/state.ts";
import type { IntervalRow } from "../pictures/interval-line.ts";
import { intervalPicture } from "../pictures/interval-picture.ts";
import { concededOf } from "../pictures/signs.ts";
import { printedFigures, shortCount } from "../words/findings.ts";
import { findingsSentence, stateWord } from "../words/verdicts.ts";
import type { CsvTable, TableFile } from "./csv.ts";
import { type FigureView, fileOf, tableView } from "./figure.ts";
import { type FindingName, findingColumns } from "./finding-columns.ts";
import type { FacilityContext, PageContext } from "./page.ts";
import { shownConcession } from "./state-mark.ts";

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

/** Findings as a file, named as on the page of a read point or of the facility. */
export function findingsFile(facility: FacilityContext, findings: Finding[], file: TableFile): CsvTable {
  return fileOf(file, findingColumns(facility, findingNames(facility, "read-point")), findings);
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

/** The intervals of findings that share an axis. */
export interface FindingPicture extends Omit<FigureView, "table" | "downloads"> {
  heading: string;
}

export interface FindingFigure extends FindingPicture, FigureView {}

/** The intervals of findings of any read point, worst first, one for each axis they need, with the rows behind them. */
export function findingFigures(here: PageContext, findings: Finding[]): FindingFigure[] {
  const names = findingNames(here, "read-point");
  const columns = findingColumns(here, names);
  return panels(findings).map((panel, index) => {
    const picture = panelPicture(here, panel, { names, again: index > 0 });
    return {
      ...picture,
      table: tableView(picture.caption, columns, panel.findings),
      downloads: [here.tableLink("findings")],
    };
  });
}

/** The same of one read point, whose page has a table of findings of its own. */
export function readPointPictures(here: PageContext, findings: Finding[]): FindingPicture[] {
  const names = findingNames(here, "criterion");
  return panels(findings).map((panel, index) => panelPicture(here, panel, { names, again: index > 0 }));
}

function panelPicture(
  { names, result }: PageContext,
  { key, heading, findings }: Panel,
  { names: { label, detail }, again }: { names: FindingName; again: boolean },
): FindingPicture {
  const first = findings[0] as Finding;
  const isOneCriterion = findings.every(({ criterion }) => criterion === first.criterion);
  const caption = captionOf(findings, isOneCriterion ? names.criterion(first.criterion) : null);
  const id = `findings-${key}`;
  return {
    id,
    heading,
    caption,
    howToRead: howToRead(first, result.basis.confidence, again),
    picture: intervalPicture({
      id,
      title: `${heading}: intervals against their limits, worst first`,
      description: caption,
      rows: findings.map((finding) =>
        // The caption names the criterion where there is only one.
        findingRow(finding, label(finding), isOneCriterion ? names.group(finding.group) : detail(finding)),
      ),
      scale: stretches(findings) ? "stretched" : "even",
    }),
  };
}

function findingNames({ names }: FacilityContext, named: "read-point" | "criterion"): FindingName {
  return named === "criterion"
    ? { label: ({ criterion }) => names.criterion(criterion), detail: ({ group }) => names.group(group) }
    : {
        label: ({ readPoint }) => names.readPoint(readPoint),
        detail: ({ group, criterion }) =>
          [names.group(group), names.criterion(criterion)].filter((part) => part !== "").join(" \u00b7 "),
      };
}

/** A limit near an end means that rates crowd there: only then is the scale stretched. */
function stretches(findings: Finding[]): boolean {
  return findings.some(
    (finding) =>
      scaleOf(finding).axis === "share" &&
      (finding.sense === "at-least" ? finding.limit >= 0.9 : finding.limit <= 0.1),
  );
}

/** `Of 20 findings, two are not met ...`; the criterion comes first where there is only one. */
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
  const met = `line entirely ${side} of the limit is met`;
  if (again)
    return words.howToRead === undefined
      ? `As in the first picture, but a ${met}.`
      : `As in the first picture, but in ${scale.unit}; ${words.howToRead}. A ${met}.`;
  const what = `Each line covers the ${scale.quantity} that fit the counts, at ${percent} confidence`;
  return `${what}; the upright mark is the observed value. The heavy line is the limit and the tinted side is the good one: a ${met}, a line that crosses it is undecided.`;
}
