import { counted, countText, sentenceStart } from "../../model/number-words.ts";
import type { PlannedRoute, PlanResult } from "../../model/plan.ts";
import type { Result } from "../../model/result.ts";
import { cautions, cautionsDefer } from "../cautions.ts";
import { facilityPage, type Page } from "../page.ts";
import { facilityPaths, planLetter, relativeLink } from "../paths.ts";
import { dateOrWords } from "../words/dates.ts";
import { columnLabel, valueText } from "../words/labels.ts";
import { readPointPlanSentence } from "../words/plans.ts";
import { soFarSentence } from "../words/walks.ts";
import { passesLeft } from "./passes-left.ts";
import { isBandName, type WalkColumn, walkColumns } from "./walk-columns.ts";

/** Rows without a number: for passes that have to be walked again. */
const spareRows = 4;

/** A printed page for each planned read point: the passes it still lacks in the order to walk them, with boxes to fill in by pen. */
export function walkSheetPages(result: Result): Page[] {
  const { plan } = result;
  if (plan === null) return [];
  return plan.walks
    .filter(({ passes }) => passes.length > 0)
    .map((route) => walkSheetPage(route, plan, result));
}

function walkSheetPage(route: PlannedRoute, plan: PlanResult, result: Result): Page {
  const { readPoint: id, passes } = route;
  const paths = facilityPaths(result);
  const path = paths.walkSheets.get(id) as string;
  const link = (label: string, to: string) => ({ label, href: relativeLink(path, to) });
  const index = result.readPoints.findIndex((entry) => entry.id === id);
  const point = result.readPoints[index]!;
  const round = result.rounds.find((entry) => entry.id === route.round);
  const columns = walkColumns(result, id);
  const left = passesLeft(result, route);
  const same = plan.sameTags ? "the same in every pass" : "other tags each time";
  const carried = plan.load === null ? "" : `, manifest ${plan.load.manifest}`;
  return facilityPage(result, "walk-sheet", path, `Walk sheet, ${point.name}`, {
    letter: planLetter(index),
    readPoint: point.name,
    kind: point.kind ?? "",
    round: round?.title ?? route.round,
    roundDate: dateOrWords(round?.date ?? null, "no date stated"),
    asked: sentenceStart(readPointPlanSentence(plan.readPoints.find((entry) => entry.readPoint === id)!)),
    walked: soFarSentence(route.cells),
    load: `${countText(plan.tagsPerPass)} a pass, ${same}${carried}`,
    left: leftSentence(left.length, passes.length),
    headings: columns.map(({ column }) => columnLabel(column, result.conditions)),
    // With a load the tags missed are named; without one the tags read are counted.
    outcome: plan.load === null ? "Tags read" : "Tags missed",
    rows: left.map(({ pass, conditions }) => ({
      pass,
      cells: columns.map((column) => cellOf(column, conditions[column.column])),
    })),
    // Of the table: the pass, its conditions, and five boxes for the pen.
    width: countText(columns.length + 6),
    // A load's own list may say how each of its tags sat.
    listed: plan.load !== null && columns.some(({ planned }) => !planned),
    spare: Array.from({ length: spareRows }, (_, i) => i),
    cautions,
    cautionsDefer,
    plan: link("How much to walk", paths.plan),
    log: link("pass log ready to fill", paths.walkLogs.get(id) as string),
    aisle: link("the page to log a walk on", paths.aisle),
  });
}

function leftSentence(left: number, planned: number): string {
  if (left === 0) return "None is left to walk.";
  const order = "in the order below, which is random";
  return left === planned
    ? `${sentenceStart(order)}.`
    : `${sentenceStart(counted(left, "is", "are"))} left, ${order}.`;
}

/** The planned value in words; a band asks for the number that was walked, and so does what the plan leaves open. */
function cellOf({ condition }: WalkColumn, value: string | undefined): { text: string; fill: boolean } {
  if (value === undefined) return { text: "", fill: true };
  return { text: valueText(value, condition), fill: isBandName(value, condition) };
}
