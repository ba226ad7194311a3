import { counted, countText, sentenceStart } from "../../model/number-words.ts";
import type { PlannedRoute, PlanResult } from "../../model/result/plan.ts";
import { type Cautions, cautionsView } from "../parts/cautions.ts";
import { roundOf } from "../parts/names.ts";
import { definePage, type Link, type PageContext } from "../parts/page.ts";
import { planLetter } from "../parts/paths.ts";
import { dateOrWords } from "../words/dates.ts";
import { valueText } from "../words/labels.ts";
import { loadWords, readPointPlanSentence } from "../words/plans.ts";
import { soFarSentence } from "../words/walks.ts";
import { passesLeft } from "./passes-left.ts";
import { isBandName, type WalkColumn, walkColumns, walkLog, walkWorkbook } from "./walk-log.ts";

interface WalkSheetView extends Cautions {
  letter: string;
  readPoint: string;
  round: string;
  roundDate: string;
  asked: string;
  walked: string;
  load: string;
  left: string;
  headings: string[];
  outcome: string;
  rows: { pass: string; cells: WalkCell[] }[];
  /** How many columns the table has. */
  width: string;
  listed: boolean;
  spare: number[];
  plan: Link;
  log: Link;
  /** The same, with lists to choose from. */
  workbook: Link;
  aisle: Link;
}

interface WalkCell {
  text: string;
  /** Whether the walker writes the value down. */
  fill: boolean;
}

/** Rows without a number: for passes that have to be walked again. */
const spareRows = 4;

/** A page for print for each planned read point: the passes still to walk, in order, with boxes to fill in by pen. */
export const walkSheetPage = definePage({
  template: "walk-sheet",
  pages: (facility) => {
    const { plan } = facility.result;
    if (plan === null) return [];
    return plan.walks
      .filter(({ passes }) => passes.length > 0)
      .map((route) => ({
        path: facility.paths.walkSheet(route.readPoint),
        title: `Walk sheet, ${facility.names.readPoint(route.readPoint)}`,
        subject: { plan, route },
        files: [walkLog(facility, plan, route)],
        workbooks: [walkWorkbook(facility, plan, route)],
      }));
  },
  view: walkSheetView,
});

function walkSheetView(
  here: PageContext,
  { plan, route }: { plan: PlanResult; route: PlannedRoute },
): WalkSheetView {
  const { result, names, paths } = here;
  const { readPoint: id, passes } = route;
  const columns = walkColumns(result, id);
  const left = passesLeft(result, route);
  const same = loadWords(plan.sameTags);
  const carried = plan.load === null ? "" : `, manifest ${plan.load.manifest}`;
  return {
    letter: planLetter(result.readPoints.findIndex((entry) => entry.id === id)),
    readPoint: names.readPoint(id),
    round: names.round(route.round),
    roundDate: dateOrWords(roundOf(result, route.round)?.date ?? null, "no date stated"),
    asked: sentenceStart(readPointPlanSentence(plan.readPoints.find((entry) => entry.readPoint === id)!)),
    walked: soFarSentence(route.cells),
    load: `${countText(plan.tagsPerPass)} per pass, ${same}${carried}`,
    left: leftSentence(left.length, passes.length),
    headings: columns.map(({ column }) => names.condition(column)),
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
    ...cautionsView,
    plan: here.link("How much to walk", paths.plan),
    log: here.link("pass log ready to fill", paths.walkLog(id)),
    workbook: here.link("workbook", paths.walkWorkbook(id)),
    aisle: here.link("the page for logging a walk", paths.aisle),
  };
}

function leftSentence(left: number, planned: number): string {
  if (left === 0) return "No pass is left to walk.";
  const order = "in the random order below";
  return left === planned
    ? `${sentenceStart(order)}.`
    : `${sentenceStart(counted(left, "is", "are"))} left, ${order}.`;
}

/** The planned value in words. A band and an unplanned condition ask for the value that was walked. */
function cellOf({ condition }: WalkColumn, value: string | undefined): WalkCell {
  if (value === undefined) return { text: "", fill: true };
  return { text: valueText(value, condition), fill: isBandName(value, condition) };
}
