import { countText } from "../../model/number-words.ts";
import type { CellOfPlan, PlannedRoute, PlanResult } from "../../model/plan.ts";
import type { Result } from "../../model/result.ts";
import { numberCell, type TableView, textCell } from "../figure-view.ts";
import { facilityPage, type Page } from "../page.ts";
import { facilityPaths, planLetter, relativeLink } from "../paths.ts";
import {
  planBasis,
  readPointPlanSentence,
  sizeSentences,
  uncountedSentence,
  unplannedSentence,
} from "../words/plans.ts";
import {
  anyPlanned,
  cellStates,
  cellText,
  cellWord,
  plannedSentence,
  walkedSentence,
} from "../words/walks.ts";
import { criterionSizes, sizesTable } from "./plan-sizes.ts";
import { riskFigures } from "./risk-figures.ts";

/** How much is to be walked, what was walked of it and what that risks; no page where nothing is planned. */
export function planPages(result: Result): Page[] {
  const { plan } = result;
  if (plan === null) return [];
  const paths = facilityPaths(result);
  const path = paths.plan;
  const link = (label: string, to: string) => ({ label, href: relativeLink(path, to) });
  const sizes = criterionSizes(plan, result.criteria);
  const csv = (name: string) => link(`${name}.csv`, paths.table(name));
  return [
    facilityPage(result, "plan", path, "How much to walk", {
      lead: [plannedSentence(plan.walks), walkedSentence(plan.walks.flatMap(({ cells }) => cells))]
        .filter((part) => part !== "")
        .join(" "),
      routes: plan.walks.map((route) => routeView(route, plan, result)),
      walked: csv("plan-walked"),
      aisle: link("the page to log a walk on", paths.aisle),
      listed: plan.load !== null,
      basis: planBasis(plan),
      sizes: sizesTable(sizes, result),
      sizesCsv: csv("plan-sizes"),
      sentences: sizes.flatMap(({ criterion, size, uncounted }) => {
        const text = [...sizeSentences(size, plan), uncountedSentence(uncounted, result)].filter(
          (part) => part !== "",
        );
        return [{ title: criterion.title, text: text.join(" ") }];
      }),
      unplanned: unplannedSentence(plan),
      risks: riskFigures(sizes, result, [csv("plan-risk")]),
    }),
  ];
}

function routeView(route: PlannedRoute, plan: PlanResult, result: Result) {
  const paths = facilityPaths(result);
  const { readPoint: id } = route;
  const link = (label: string, to = paths.overview) => ({ label, href: relativeLink(paths.plan, to) });
  const index = result.readPoints.findIndex((entry) => entry.id === id);
  const planned = plan.readPoints.find((entry) => entry.readPoint === id)!;
  return {
    letter: planLetter(index),
    point: link(result.readPoints[index]?.name ?? id, paths.readPoints.get(id)),
    round: result.rounds.find((entry) => entry.id === route.round)?.title ?? route.round,
    asked: readPointPlanSentence(planned),
    walked: anyPlanned(route.cells) ? walkedSentence(route.cells) : "",
    table: cellsTable(route, plan, result),
    sheet: route.passes.length === 0 ? null : link("walk sheet", paths.walkSheets.get(id)),
    log: route.passes.length === 0 ? null : link("pass log ready to fill", paths.walkLogs.get(id)),
  };
}

/** Worst first: what is missing, what is short, what is done. */
function cellsTable({ cells, readPoint }: PlannedRoute, plan: PlanResult, result: Result): TableView {
  const name = result.readPoints.find((entry) => entry.id === readPoint)?.name ?? readPoint;
  const order = (cell: CellOfPlan) => cellStates.indexOf(cell.state);
  return {
    caption: `Planned against done at ${name}`,
    columns: [
      { label: "Conditions", numeric: false },
      { label: "State", numeric: false },
      { label: "Passes planned", numeric: true },
      { label: "Done", numeric: true },
      { label: "Tags planned", numeric: true },
      { label: "Presented", numeric: true },
    ],
    rows: cells
      .toSorted((a, b) => order(a) - order(b))
      .map((cell) => [
        textCell(cellText(cell.conditions, result.conditions)),
        { ...textCell(cellWord(cell.state)), strong: cell.state === "missing" || cell.state === "short" },
        numberCell(cell.planned === null ? "none will do" : countText(cell.planned)),
        numberCell(countText(cell.done), true),
        numberCell(cell.planned === null ? "" : countText(cell.planned * plan.tagsPerPass)),
        numberCell(countText(cell.tagsDone)),
      ]),
  };
}
