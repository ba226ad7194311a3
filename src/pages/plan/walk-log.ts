import type { PlannedRoute, PlanResult } from "../../model/plan.ts";
import type { Result } from "../../model/result.ts";
import { type CsvColumn, tableText } from "../parts/csv.ts";
import { forPassLogs } from "../parts/csv-text.ts";
import type { FacilityContext, SiteFile } from "../parts/page.ts";
import { type PassLeft, passesLeft } from "./passes-left.ts";
import { isBandName, walkColumns } from "./walk-columns.ts";

/** Stands where the codes of missed tags belong, and is refused as one: a row that nobody filled in is no faultless pass. */
const toFillIn = "?";

/** A pass log ready to fill, one row for every pass that is still to be walked. */
export function walkLog({ result, paths }: FacilityContext, plan: PlanResult, route: PlannedRoute): SiteFile {
  return {
    path: paths.walkLog(route.readPoint),
    text: tableText(logColumns(result, plan, route), passesLeft(result, route), forPassLogs),
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
