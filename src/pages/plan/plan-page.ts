import { nonEmpty } from "../../model/number-words.ts";
import type { CellOfPlan, PlannedRoute, PlanResult } from "../../model/result/plan.ts";
import type { Result } from "../../model/result/result.ts";
import { countColumn } from "../parts/columns.ts";
import { type Column, fileOf, type TableView, tableView } from "../parts/figure.ts";
import { definePage, type Link, type PageContext } from "../parts/page.ts";
import { planLetter } from "../parts/paths.ts";
import {
  planBasis,
  readPointPlanSentence,
  sizeSentences,
  twoRoundsCaution,
  twoRoundsSentence,
  uncountedSentence,
  unplannedSentence,
} from "../words/plans.ts";
import {
  anyPlanned,
  cellStates,
  cellText,
  cellWord,
  plannedSentence,
  settlingAndPlan,
  walkedSentence,
} from "../words/walks.ts";
import { type RiskFigure, riskColumns, riskFigures, riskRows } from "./risk.ts";
import { criterionSizes, sizeColumns } from "./sizes.ts";

export interface PlanView {
  lead: string;
  /** Why it is another number than what would settle a finding; empty where nothing is to be settled. */
  beside: string;
  routes: RouteView[];
  walked: Link;
  aisle: Link;
  listed: boolean;
  basis: { label: string; text: string }[];
  sizes: TableView;
  sizesCsv: Link;
  sentences: { title: string; text: string }[];
  unplanned: string;
  /** Empty where there is no such size. */
  twoRounds: string;
  risks: RiskFigure[];
}

/** How many passes are planned, how many are walked, and the risks of the plan; no page where nothing is planned. */
export const planPage = definePage({
  template: "plan",
  navigation: "How much to walk",
  pages: ({ paths, result }) => {
    const { plan } = result;
    if (plan === null) return [];
    const sizes = criterionSizes(plan, result.criteria);
    const tables = [
      fileOf(
        {
          name: "plan-walked",
          holds:
            "Every planned combination of conditions at every read point: passes planned and done, tags planned and presented.",
        },
        cellColumns(plan, result),
        plan.walks.flatMap(cellRows),
      ),
      fileOf(
        {
          name: "plan-sizes",
          holds:
            "How many passes a finding of each criterion needs: by faults, and by the probability of met.",
        },
        sizeColumns(sizes, result),
        sizes,
      ),
      fileOf(
        {
          name: "plan-risk",
          holds: "The probability of each state by the true rate, for a walk of the planned length.",
        },
        riskColumns,
        riskRows(sizes),
      ),
    ];
    return [{ path: paths.plan, title: "How much to walk", subject: { plan, sizes }, tables }];
  },
  view: (here, { plan, sizes }): PlanView => ({
    lead: nonEmpty([
      plannedSentence(plan.walks),
      walkedSentence(plan.walks.flatMap(({ cells }) => cells)),
    ]).join(" "),
    beside: here.result.findings.some(({ toSettle }) => toSettle !== null) ? settlingAndPlan : "",
    routes: plan.walks.map((route) => routeView(route, plan, here)),
    walked: here.tableLink("plan-walked"),
    aisle: here.link("the page for logging a walk", here.paths.aisle),
    listed: plan.load !== null,
    basis: planBasis(plan),
    sizes: tableView(
      "Smallest number of passes by faults, and by the probability of “met”",
      sizeColumns(sizes, here.result),
      sizes,
    ),
    sizesCsv: here.tableLink("plan-sizes"),
    sentences: sizes.map(({ criterion, size, uncounted }) => ({
      title: criterion.title,
      text: nonEmpty([...sizeSentences(size, plan), uncountedSentence(uncounted, here.result)]).join(" "),
    })),
    unplanned: unplannedSentence(plan),
    twoRounds: twoRoundsSentence(plan) === "" ? "" : `${twoRoundsSentence(plan)} ${twoRoundsCaution}`,
    risks: riskFigures(sizes, here),
  }),
});

interface RouteView {
  letter: string;
  point: Link;
  round: string;
  asked: string;
  walked: string;
  table: TableView;
  /** Null where no pass is planned. */
  sheet: Link | null;
  log: Link | null;
  workbook: Link | null;
}

function routeView(route: PlannedRoute, plan: PlanResult, here: PageContext): RouteView {
  const { result, names, paths } = here;
  const { readPoint: id, cells } = route;
  const isWalked = route.passes.length > 0;
  return {
    letter: planLetter(result.readPoints.findIndex((entry) => entry.id === id)),
    point: here.link(names.readPoint(id), paths.readPoint(id)),
    round: names.round(route.round),
    asked: readPointPlanSentence(plan.readPoints.find(({ readPoint }) => readPoint === id)!),
    walked: anyPlanned(cells) ? walkedSentence(cells) : "",
    table: tableView(
      `Planned against done at ${names.readPoint(id)}`,
      cellColumns(plan, result),
      cellRows(route).toSorted((a, b) => rank(a) - rank(b)),
    ),
    sheet: isWalked ? here.link("walk sheet", paths.walkSheet(id)) : null,
    log: isWalked ? here.link("pass log ready to fill", paths.walkLog(id)) : null,
    workbook: isWalked ? here.link("workbook", paths.walkWorkbook(id)) : null,
  };
}

interface CellRow {
  route: PlannedRoute;
  cell: CellOfPlan;
}

function cellRows(route: PlannedRoute): CellRow[] {
  return route.cells.map((cell) => ({ route, cell }));
}

/** Worst first: what is missing, what is short, what is done. */
function rank({ cell }: CellRow): number {
  return cellStates.indexOf(cell.state);
}

function cellColumns(plan: PlanResult, { conditions }: Result): Column<CellRow>[] {
  const columns = new Set(plan.walks.flatMap(({ cells }) => Object.keys(cells[0]?.conditions ?? {})));
  const tagsWanted = ({ planned }: CellOfPlan) => (planned === null ? null : planned * plan.tagsPerPass);
  return [
    { header: "read_point", value: ({ route }) => route.readPoint },
    { header: "round", value: ({ route }) => route.round },
    { label: "Conditions", text: ({ cell }) => cellText(cell.conditions, conditions) },
    ...[...columns].map(
      (column): Column<CellRow> => ({
        header: column,
        unit: conditions.find((condition) => condition.column === column)?.unit ?? null,
        value: ({ cell }) => cell.conditions[column] ?? null,
      }),
    ),
    {
      header: "state",
      value: ({ cell }) => cell.state,
      label: "State",
      text: ({ cell: { state } }) => ({
        text: cellWord(state),
        strong: state === "missing" || state === "short",
      }),
    },
    countColumn(
      { header: "passes_planned", label: "Passes planned", none: "none is enough" },
      ({ cell }) => cell.planned,
    ),
    countColumn({ header: "passes_done", label: "Done", as: "strong number" }, ({ cell }) => cell.done),
    countColumn({ header: "tags_wanted", label: "Tags planned", none: "" }, ({ cell }) => tagsWanted(cell)),
    countColumn({ header: "tags_presented", label: "Presented" }, ({ cell }) => cell.tagsDone),
  ];
}
