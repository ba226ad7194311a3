import { valuesOf } from "../../model/conditions.ts";
import type { Condition } from "../../model/facility.ts";
import { byCodePoint } from "../../model/order.ts";
import type { PlannedRoute, PlanResult } from "../../model/result/plan.ts";
import type { Result } from "../../model/result/result.ts";
import { type CsvColumn, tableText } from "../parts/csv.ts";
import { forPassLogs } from "../parts/csv-text.ts";
import type { FacilityContext, SiteFile } from "../parts/page.ts";
import type { SiteWorkbook } from "../parts/workbook.ts";
import { type PassLeft, passesLeft } from "./passes-left.ts";
import { voidReasons } from "./void-reasons.ts";

/** In the column of missed tags. It is refused as a code, so that a row nobody filled in is not read as a faultless pass. */
const toFillIn = "?";

/** A pass log ready to fill, one row for every pass that is still to be walked. */
export function walkLog({ result, paths }: FacilityContext, plan: PlanResult, route: PlannedRoute): SiteFile {
  return {
    path: paths.walkLog(route.readPoint),
    text: tableText(logColumns(result, plan, route), passesLeft(result, route), forPassLogs),
  };
}

/** The same as a workbook, whose cells offer what may stand in them. */
export function walkWorkbook(
  { result, paths }: FacilityContext,
  plan: PlanResult,
  route: PlannedRoute,
): SiteWorkbook {
  const columns = logColumns(result, plan, route);
  const choices = choicesOf(result, plan, route);
  return {
    path: paths.walkWorkbook(route.readPoint),
    sheet: "Pass log",
    columns: columns.map(({ header }) => ({
      header,
      isTime: header === "started_at" || header === "ended_at",
      choices: choices[header] ?? [],
      isClosed: header === "round" || header === "read_point" || header === "manifest",
    })),
    rows: passesLeft(result, route).map((pass) => columns.map(({ value }) => value(pass))),
  };
}

/** By column: what its cells offer. */
function choicesOf(result: Result, { load }: PlanResult, route: PlannedRoute): Record<string, string[]> {
  const conditions = walkColumns(result, route.readPoint).map(({ column, condition }) => {
    const planned = route.cells.flatMap((cell) => cell.conditions[column] ?? []);
    const asked = result.criteria
      .filter(({ readPoints }) => readPoints.includes(route.readPoint))
      .flatMap(({ where }) => where)
      .flatMap((clause) => (clause.column === column && "values" in clause ? clause.values : []));
    const values = new Set([...planned, ...asked].filter((value) => !isBandName(value, condition)));
    return [column, [...values]] as const;
  });
  const walked = result.readPoints.flatMap(({ rounds }) => rounds).flatMap(({ passList }) => passList);
  return {
    ...Object.fromEntries(conditions),
    round: result.rounds.map(({ id }) => id),
    read_point: result.readPoints.map(({ id }) => id),
    ...(load === null ? {} : { manifest: [load.manifest], missed_tags: ["none"], stray_tags: ["none"] }),
    void_reason: voidReasons,
    walked_by: [...new Set(walked.flatMap((pass) => pass.walkedBy))].sort(byCodePoint),
  };
}

function logColumns(
  result: Result,
  { load, tagsPerPass }: PlanResult,
  { readPoint, round }: PlannedRoute,
): CsvColumn<PassLeft>[] {
  const blank = (header: string): CsvColumn<PassLeft> => ({ header, value: () => null });
  return [
    { header: "round", value: () => round },
    { header: "pass", value: ({ pass }) => pass },
    { header: "read_point", value: () => readPoint },
    blank("started_at"),
    blank("ended_at"),
    ...walkColumns(result, readPoint).map(({ column, condition }) => ({
      header: column,
      value: ({ conditions }: PassLeft) => {
        const value = conditions[column];
        return value === undefined || isBandName(value, condition) ? null : value;
      },
    })),
    ...(load === null
      ? [{ header: "tags_presented", value: () => tagsPerPass }, blank("tags_read"), blank("stray_tags")]
      : [
          { header: "manifest", value: () => load.manifest },
          { header: "missed_tags", value: () => toFillIn },
          blank("stray_tags"),
        ]),
    blank("void_reason"),
    blank("walked_by"),
    blank("note"),
  ];
}

/** A column of the walk log that says how a pass was made. */
export interface WalkColumn {
  column: string;
  condition: Condition | undefined;
  /** Whether the plan gives the value; else the walker writes it down. */
  planned: boolean;
}

/**
 * The conditions of a walk at one read point: those that the plan varies, then the others that criteria use, each group in the
 * order of facility.yaml, and last the columns that a criterion compares. Columns that the load itself states are left out.
 */
export function walkColumns(result: Result, readPoint: string): WalkColumn[] {
  const route = result.plan?.walks.find((walk) => walk.readPoint === readPoint);
  const planned = Object.keys(route?.cells[0]?.conditions ?? {});
  const criteria = result.criteria.filter((criterion) => criterion.readPoints.includes(readPoint));
  const asked = criteria.flatMap(({ where, forEach }) => [...where.map(({ column }) => column), ...forEach]);
  const compared = criteria.flatMap(({ expected, observed }) => [expected, observed]);
  const declared = result.conditions.map(({ column }) => column);
  const inOrder = (columns: string[]) => declared.filter((column) => columns.includes(column));
  const all = [
    ...inOrder(planned),
    ...inOrder(asked),
    ...compared.filter((column): column is string => column !== null),
  ];
  const stated = result.plan?.load?.columns ?? [];
  return [...new Set(all)]
    .filter((column) => !stated.includes(column))
    .map((column) => ({
      column,
      condition: result.conditions.find((entry) => entry.column === column),
      planned: planned.includes(column),
    }));
}

/** Whether a planned value is the name of a band: the walked value is a number that is only known afterwards. */
export function isBandName(value: string, condition: Condition | undefined): boolean {
  return condition !== undefined && valuesOf(condition).isRange(value);
}
