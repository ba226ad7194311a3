import { z } from "zod";
import type { Concession, OpenPoint } from "../../model/facility.ts";
import type { YamlReport } from "../problems/reports.ts";
import {
  concessionDuplicate,
  concessionEndsBeforeStart,
  concessionWithoutFinding,
} from "../problems/yaml.ts";
import { day, type Entry, text, words } from "../yaml/shape.ts";
import { checkUnique, type Declared } from "./names.ts";

/* What people agree on beside the criteria: concessions, and what is still to be put right. */

export const concessionSchema = z.strictObject({
  criterion: text("The criterion's id."),
  read_point: text("The read point's id."),
  granted_by: text("Who granted it."),
  on: day("The day it was granted, YYYY-MM-DD."),
  until: day("The last day it holds, YYYY-MM-DD."),
  reason: words("Why."),
});

export type RawConcession = z.infer<typeof concessionSchema>;

/** @param covered the read points of a criterion; null where it covers all of them, or is not known */
export function checkConcessions(
  concessions: Entry<RawConcession>[],
  { criteria, readPoints, covered }: Declared & { covered: (criterion: string) => readonly string[] | null },
  report: YamlReport,
): void {
  const seen = new Map<string, number>();
  for (const { value, path } of concessions) {
    const { criterion, read_point: readPoint, on, until } = value;
    report.reference([...path, "criterion"], criterion, criteria);
    report.reference([...path, "read_point"], readPoint, readPoints);
    if (readPoints.names.has(readPoint) && covered(criterion)?.includes(readPoint) === false)
      report.value([...path, "read_point"], concessionWithoutFinding.with({ criterion }));
    const key = JSON.stringify([criterion, readPoint]);
    const firstLine = seen.get(key);
    if (firstLine === undefined) seen.set(key, report.places.valueAt(path).line);
    else report.value(path, concessionDuplicate.with({ criterion, readPoint, firstLine }));
    if (on != null && until != null && until < on)
      report.value([...path, "until"], concessionEndsBeforeStart.with({ on }));
  }
}

export function normaliseConcession(concession: RawConcession): Concession {
  return {
    criterion: concession.criterion,
    readPoint: concession.read_point,
    grantedBy: concession.granted_by,
    on: concession.on ?? null,
    until: concession.until ?? null,
    reason: concession.reason ?? null,
  };
}

export const openPointSchema = z.strictObject({
  id: text("Short name of the open point."),
  read_point: words("The read point it concerns."),
  text: text("What is still to be put right."),
  owner: words("Who is to do it."),
  due: day("By when, YYYY-MM-DD."),
  closed: day("The day it was put right, YYYY-MM-DD; blank while it is open."),
});

export function checkOpenPoints(
  openPoints: Entry<z.infer<typeof openPointSchema>>[],
  { readPoints }: Declared,
  report: YamlReport,
): void {
  checkUnique(openPoints, "id", report);
  for (const { value, path } of openPoints) {
    if (value.read_point != null) report.reference([...path, "read_point"], value.read_point, readPoints);
  }
}

export function normaliseOpenPoint(point: z.infer<typeof openPointSchema>): OpenPoint {
  return {
    id: point.id,
    readPoint: point.read_point ?? null,
    text: point.text,
    owner: point.owner ?? null,
    due: point.due ?? null,
    closed: point.closed ?? null,
  };
}
