import { columnValues, includes, namesOf } from "../../model/conditions.ts";
import type { Condition } from "../../model/facility.ts";
import { byNaturalOrder } from "../../model/order.ts";
import type { PlanCell, PlannedRoute, PlanResult } from "../../model/result/plan.ts";
import type { Result } from "../../model/result/result.ts";
import { facilityPaths, planLetter, relativeLink, slug } from "../parts/paths.ts";
import { type PlannedPass, plannedPasses } from "../plan/passes-left.ts";
import { walkColumns } from "../plan/walk-log.ts";
import { columnLabel } from "../words/labels.ts";

/** What the script of the aisle page knows of the walk; it stands in the page as JSON. */
export interface WalkData {
  /** Under which the browser keeps the log: one for each facility, report and revision. */
  key: string;
  /** What the log is called when it is saved, before the mark of the walk and its extension. */
  fileStem: string;
  /** Of the log kept in the browser and of its file, for people. */
  title: string;
  load: PlanResult["load"];
  tagsPerPass: number;
  /** In the order of the log's header. */
  columns: AskedColumn[];
  routes: WalkRoute[];
}

/** A condition as the page asks for it. */
export interface AskedColumn {
  column: string;
  label: string;
  unit: string | null;
  /** As facility.yaml declares it. */
  bands: Condition["bands"];
  /** Whether only a number is a value. */
  numeric: boolean;
  /** Known values, to tap instead of typing. */
  values: string[];
}

export interface WalkRoute {
  readPoint: string;
  name: string;
  letter: string;
  round: string;
  roundTitle: string;
  /** Null where no pass is planned, and so no sheet is made. */
  sheetHref: string | null;
  /** Asked for at this read point: what the plan varies, then what a criterion wants to know besides. */
  columns: string[];
  /** Those of them that the plan varies. */
  varied: string[];
  /** Those of them that a valid pass may not leave open. */
  needed: string[];
  cells: { conditions: PlanCell; names: PlanCell; planned: number | null }[];
  /** As planned, in the order to walk, with the combination each is one of. */
  passes: PlannedPass[];
  /** Already in the files of this report, with the combinations that each counts for and the tags that it presented. */
  before: { pass: string; valid: boolean; cells: number[]; tags: number }[];
}

/** More values than this are typed, not picked. */
const mostValues = 12;

export function walkData(result: Result, plan: PlanResult): WalkData {
  const routes = plan.walks.map((route) => walkRoute(route, result));
  const { report, facility } = result;
  const revision = report === null ? [] : [report.number, report.revision];
  return {
    key: `proofwalk aisle ${JSON.stringify([facility.id, ...revision])}`,
    fileStem: slug(["aisle", facility.id, ...revision].join(" ")),
    title: [facility.name, ...revision].join(", "),
    load: plan.load,
    tagsPerPass: plan.tagsPerPass,
    columns: askedColumns(result, routes),
    routes,
  };
}

function walkRoute(route: PlannedRoute, result: Result): WalkRoute {
  const { readPoint: id, round, passes, cells } = route;
  const paths = facilityPaths(result);
  const index = result.readPoints.findIndex((entry) => entry.id === id);
  const readPoint = result.readPoints[index]!;
  const criteria = result.criteria.filter((criterion) => criterion.readPoints.includes(id));
  const selecting = criteria.flatMap(({ where, forEach }) => [
    ...where.map(({ column }) => column),
    ...forEach,
  ]);
  const columns = walkColumns(result, id);
  const names = cells.map(({ conditions }) => namesOf(conditions, result.conditions));
  const walked = readPoint.rounds.find((entry) => entry.id === round)?.passList ?? [];
  return {
    readPoint: id,
    name: readPoint.name,
    letter: planLetter(index),
    round,
    roundTitle: result.rounds.find((entry) => entry.id === round)?.title ?? round,
    sheetHref: passes.length === 0 ? null : relativeLink(paths.aisle, paths.walkSheet(id)),
    columns: columns.map(({ column }) => column),
    varied: columns.filter(({ planned }) => planned).map(({ column }) => column),
    needed: columns
      .filter(({ column, planned }) => planned || selecting.includes(column))
      .map(({ column }) => column),
    cells: cells.map((cell, place) => ({
      conditions: cell.conditions,
      names: names[place]!,
      planned: cell.planned,
    })),
    passes: plannedPasses(route),
    before: walked.map((pass) => ({
      pass: pass.id,
      valid: pass.voidReason === null,
      cells: names.flatMap((wanted, place) => (includes(pass.conditions, wanted) ? [place] : [])),
      tags: pass.tagsPresented,
    })),
  };
}

/** Declared conditions in the order of facility.yaml, then what criteria compare. */
function askedColumns(result: Result, routes: WalkRoute[]): AskedColumn[] {
  const asked = new Set(routes.flatMap(({ columns }) => columns));
  const declared = result.conditions.map(({ column }) => column).filter((column) => asked.has(column));
  return [...new Set([...declared, ...asked])].map((column) => {
    const condition = result.conditions.find((entry) => entry.column === column);
    const ranged = result.criteria.some(({ where }) =>
      where.some((clause) => clause.column === column && clause.kind === "range"),
    );
    const numeric = columnValues(result.conditions, column).numeric || ranged;
    return {
      column,
      label: columnLabel(column, result.conditions),
      unit: condition?.unit ?? null,
      bands: condition?.bands ?? null,
      numeric,
      values: knownValues({ column, numeric }, result, routes).slice(0, mostValues),
    };
  });
}

function knownValues(
  { column, numeric }: Pick<AskedColumn, "column" | "numeric">,
  result: Result,
  routes: WalkRoute[],
): string[] {
  const planned = routes.flatMap(({ cells }) => cells.map(({ conditions }) => conditions[column]));
  const named = result.criteria.flatMap(({ where }) =>
    where.flatMap((clause) => (clause.kind === "values" && clause.column === column ? clause.values : [])),
  );
  const walked = result.readPoints
    .flatMap(({ rounds }) => rounds.flatMap(({ byCondition }) => byCondition))
    .flatMap((entry) => (entry.column === column ? entry.groups.map(({ value }) => value) : []));
  const values = [...planned, ...named, ...walked].filter((value) => value !== undefined);
  // The name of a band says where a measured value lies, and is none itself.
  const fitting = numeric ? values.filter((value) => !Number.isNaN(Number(value))) : values;
  return [...new Set(fitting)].sort(byNaturalOrder);
}
