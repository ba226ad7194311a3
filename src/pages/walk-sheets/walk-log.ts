import type { PlannedRoute, PlanResult } from "../../model/plan.ts";
import type { Result } from "../../model/result.ts";
import type { SiteFile } from "../page.ts";
import { facilityPaths } from "../paths.ts";
import { type Cell, type Column, csvText } from "../tables/csv.ts";
import { type PassLeft, passesLeft } from "./passes-left.ts";
import { isBandName, walkColumns } from "./walk-columns.ts";

/** Stands where the codes of missed tags belong, and is refused as one: a row that nobody filled in is no faultless pass. */
const toFillIn = "?";

/** For each planned read point a pass log ready to fill, one row for every pass that is still to be walked. */
export function walkLogs(result: Result): SiteFile[] {
  const { plan } = result;
  if (plan === null) return [];
  const paths = facilityPaths(result);
  return plan.walks
    .filter(({ passes }) => passes.length > 0)
    .map((route) => ({
      path: paths.walkLogs.get(route.readPoint) as string,
      text: csvText(logColumns(result, plan, route), passesLeft(result, route)),
    }));
}

function logColumns(
  result: Result,
  { load, tagsPerPass }: PlanResult,
  { readPoint, round }: PlannedRoute,
): Column<PassLeft>[] {
  const blank = (header: string): Column<PassLeft> => ({ header, cell: () => null });
  return [
    { header: "round", cell: () => readBack(round) },
    { header: "pass", cell: ({ pass }) => pass },
    { header: "read_point", cell: () => readBack(readPoint) },
    blank("started_at"),
    blank("ended_at"),
    ...walkColumns(result, readPoint).map(({ column, condition }) => ({
      header: column,
      cell: ({ conditions }: PassLeft) => {
        const value = conditions[column];
        return value === undefined || isBandName(value, condition) ? null : readBack(value);
      },
    })),
    ...(load === null
      ? [{ header: "tags_presented", cell: () => tagsPerPass }, blank("tags_read"), blank("stray_tags")]
      : [
          { header: "manifest", cell: () => readBack(load.manifest) },
          { header: "missed_tags", cell: () => toFillIn },
          blank("stray_tags"),
        ]),
    blank("void_reason"),
    blank("walked_by"),
    blank("note"),
  ];
}

/** A text that must come back as it is: the guard against formulas would change it, a no-break space in front is read away. */
function readBack(text: string): Cell {
  if (!/^[=+\-@]/.test(text)) return text;
  const number = Number(text);
  return String(number) === text ? number : `\u00a0${text}`;
}
