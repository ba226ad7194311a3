import { measureCard, measureCards } from "../../measures/journey/cards.ts";
import { onMissOf } from "../../model/estimate.ts";
import { nonEmpty, statedPercent } from "../../model/number-words.ts";
import { stableBy } from "../../model/order.ts";
import type { Finding } from "../../model/result/finding.ts";
import type { Result } from "../../model/result/result.ts";
import { byState } from "../../model/state.ts";
import type { IntervalRow } from "../pictures/interval-line.ts";
import { intervalPicture } from "../pictures/interval-picture.ts";
import { concededOf } from "../pictures/signs.ts";
import { printedFigures, shortCount } from "../words/findings.ts";
import { findingsSentence } from "../words/verdicts.ts";
import type { CsvTable, TableFile } from "./csv.ts";
import { type Column, type FigureView, fileOf, tableView } from "./figure.ts";
import { type FindingName, findingColumns } from "./finding-columns.ts";
import type { FacilityContext, Link, PageContext } from "./page.ts";
import { findingAnchors } from "./paths.ts";
import { shownConcession } from "./state-mark.ts";

/** How far a finding's estimate lies on the wrong side of its limit. */
function shortfall({ estimate, limit, sense, measure }: Finding): number {
  const value = estimate.value ?? (onMissOf(estimate).value ? Number.NEGATIVE_INFINITY : limit);
  return measureCard(measure).scale.shortfall(value, limit, sense);
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

/** How a row of the interval picture is named, and what stands around it. */
type RowWords = Pick<IntervalRow, "label" | "detail" | "heading" | "href" | "notes">;

/** A finding as a row of the interval picture, named as the caller wants it. */
export function findingRow(finding: Finding, words: RowWords): IntervalRow {
  const { estimate, measure, sense, limit } = finding;
  return {
    ...words,
    state: finding.state,
    conceded: concededOf(shownConcession(finding)),
    scale: measureCard(measure).scale,
    sense,
    limit,
    lines: [
      {
        label: null,
        estimate,
        count: shortCount(finding),
        figures: printedFigures(finding, estimate),
        earlier: false,
        emptyWord: finding.passes === 0 ? emptyWord(measureCard(measure)) : nothingCounted,
      },
    ],
  };
}

const nothingCounted = "nothing counted";

/** Of a finding without a pass. Runs may have been made all the same. */
function emptyWord({ besidePasses, walked }: ReturnType<typeof measureCard>): string {
  if (walked !== undefined) return nothingCounted;
  return besidePasses?.none ?? "no pass walked";
}

/** Findings as a file, named as on the page of a read point or of the facility. */
export function findingsFile(facility: FacilityContext, findings: Finding[], file: TableFile): CsvTable {
  return fileOf(file, findingColumns(facility, findingNames(facility)), findings);
}

interface Panel {
  key: string;
  heading: string;
  findings: Finding[];
}

const scaleOf = ({ measure }: Finding) => measureCard(measure).scale;

/** Findings that can share an axis, those of one scale and sense: rates that must be high, rates that must be low, and so on. */
function panels(findings: Finding[]): Panel[] {
  const scales = [...new Set(measureCards().map(({ scale }) => scale))];
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

/**
 * The intervals of findings of any read point, one picture for each axis they need, with the rows behind them: by read point,
 * worst first, and each criterion's words once.
 */
export function findingFigures(here: PageContext, findings: Finding[], prefix = "findings"): FindingFigure[] {
  const columns = findingColumns(here, findingNames(here));
  const anchorOf = findingAnchors(here.result.findings);
  return panelPictures(findings, {
    prefix,
    confidence: here.result.basis.confidence,
    inOrder: (some) => byReadPoint(here.result, some),
    wordsOf: (finding, before) => placedWords(here, { finding, before, anchor: anchorOf(finding) }),
  }).map(({ panel, picture }) => {
    const caption = `${panel.heading}. ${picture.caption}`;
    return {
      ...picture,
      caption,
      table: tableView(caption, columns, panel.findings),
      downloads: [],
    };
  });
}

/** The read point with the worst finding first, and of each the findings of one criterion together. */
function byReadPoint({ criteria }: Result, findings: Finding[]): Finding[] {
  const points = [...new Set(findings.map(({ readPoint }) => readPoint))];
  return points.flatMap((point) => {
    return byCriterion(
      findings.filter(
        ({ readPoint, criterion }) => readPoint === point && criteria.some(({ id }) => id === criterion),
      ),
    );
  });
}

/** The name of the read point above its first row, the criterion's words at its first row, else the group alone. */
function placedWords(
  here: PageContext,
  { finding, before, anchor }: { finding: Finding; before: Finding | undefined; anchor: string },
): RowWords {
  const { names, paths, href } = here;
  const { readPoint } = finding;
  const samePoint = before?.readPoint === readPoint;
  return {
    ...criterionOnce(here, finding, samePoint ? before : undefined),
    href: `${href(paths.readPoint(readPoint))}#${anchor}`,
    ...(samePoint
      ? {}
      : { heading: { text: names.readPoint(readPoint), href: href(paths.readPoint(readPoint)) } }),
  };
}

/** The criterion's words, unless the finding before has said them; then the group alone. */
function criterionOnce(
  { names }: FacilityContext,
  { criterion, group }: Finding,
  before: Finding | undefined,
): Pick<IntervalRow, "label" | "detail"> {
  return saidOnce({ label: names.criterion(criterion), own: names.group(group) }, { criterion }, before);
}

function saidOnce(
  { label, own }: { label: string; own: string },
  { criterion }: Pick<Finding, "criterion">,
  before: Finding | undefined,
): Pick<IntervalRow, "label" | "detail"> {
  const said = before?.criterion === criterion && own !== "";
  return said ? { label: own, detail: "" } : { label, detail: own };
}

/** The criterion of the first finding with all of its findings, then the next. */
function byCriterion(findings: Finding[]): Finding[] {
  return [...new Set(findings.map(({ criterion }) => criterion))].flatMap((id) =>
    findings.filter(({ criterion }) => criterion === id),
  );
}

/** The same of one read point, worst first; the rows carry what `notes` says of each. */
export function readPointPictures(
  here: PageContext,
  findings: Finding[],
  notes: (finding: Finding) => string[],
): FindingPicture[] {
  const anchorOf = findingAnchors(findings);
  return panelPictures(findings, {
    prefix: "findings",
    confidence: here.result.basis.confidence,
    inOrder: (some) => byReadPoint(here.result, some),
    wordsOf: (finding, before) => ({
      ...criterionOnce(here, finding, before),
      href: `#${anchorOf(finding)}`,
      notes: notes(finding),
    }),
  }).map(({ picture }) => picture);
}

/** The same of findings that belong to no read point, worst first; those of one criterion together, and its words once. */
export function namedFindingFigures(
  findings: Finding[],
  {
    prefix,
    name,
    columns,
    confidence,
    downloads,
  }: {
    prefix: string;
    name: FindingName;
    columns: Column<Finding>[];
    confidence: number;
    downloads: Link[];
  },
): FindingFigure[] {
  return panelPictures(findings, {
    prefix,
    confidence,
    inOrder: byCriterion,
    wordsOf: (finding, before) =>
      saidOnce({ label: name.label(finding), own: name.detail(finding) }, finding, before),
  }).map(({ panel, picture }) => ({
    ...picture,
    caption: `${panel.heading}. ${picture.caption}`,
    table: tableView(picture.caption, columns, panel.findings),
    downloads,
  }));
}

/** How the findings of each axis are laid out, and what each row says. */
interface PanelLayout {
  prefix: string;
  confidence: number;
  inOrder(findings: Finding[]): Finding[];
  wordsOf(finding: Finding, before: Finding | undefined): RowWords;
}

/** A picture for each axis that the findings need. */
function panelPictures(
  findings: Finding[],
  { prefix, confidence, inOrder, wordsOf }: PanelLayout,
): { panel: Panel; picture: FindingPicture }[] {
  return panels(findings).map((panel, index) => {
    const rows = inOrder(panel.findings);
    const words = rows.map((finding, at) => wordsOf(finding, rows[at - 1]));
    const named = { prefix, words, again: index > 0 };
    return { panel, picture: panelPicture(confidence, { ...panel, findings: rows }, named) };
  });
}

function panelPicture(
  confidence: number,
  { key, heading, findings }: Panel,
  { prefix, words, again }: { prefix: string; words: RowWords[]; again: boolean },
): FindingPicture {
  const caption = findingsSentence(findings);
  const id = `${prefix}-${key}`;
  return {
    id,
    heading,
    caption,
    howToRead: howToRead(findings[0] as Finding, confidence, again),
    picture: intervalPicture({
      id,
      title: `${heading}: intervals against their limits, worst first`,
      description: caption,
      rows: findings.map((finding, index) => findingRow(finding, words[index] as RowWords)),
      scale: stretches(findings) ? "stretched" : "even",
    }),
  };
}

function findingNames({ names }: FacilityContext): FindingName {
  return {
    label: ({ readPoint }) => names.readPoint(readPoint),
    detail: ({ group, criterion }) =>
      nonEmpty([names.group(group), names.criterion(criterion)]).join(" \u00b7 "),
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

function howToRead({ measure, sense }: Finding, confidence: number, again: boolean): string {
  const percent = statedPercent(confidence);
  const side = sense === "at-least" ? "right" : "left";
  const { scale, words } = measureCard(measure);
  const met = `line entirely ${side} of the limit is met`;
  if (again)
    return words.howToRead === undefined
      ? `As in the first picture, but a ${met}.`
      : `As in the first picture, but in ${scale.unit}; ${words.howToRead}. A ${met}.`;
  const what = `Each line covers the ${scale.quantity} that fit the counts, at ${percent} confidence`;
  return `${what}; the upright mark is the observed value. The heavy line is the limit and the tinted side is the good one: a ${met}, a line that crosses it is undecided.`;
}
