import { statedNames } from "../../model/conditions.ts";
import type { Criterion } from "../../model/facility.ts";
import { groupsTooMany } from "../problems/log-rules.ts";
import type { YamlReport } from "../problems/reports.ts";
import type { FacilityLogs } from "./read.ts";

/** Far more than anybody walks, and few enough to be judged and shown in seconds. */
const mostGroups = 2000;

/** A criterion is judged for each combination of its `for_each`, walked or not: several columns multiply. */
export function checkGroups(logs: FacilityLogs, yaml: YamlReport): void {
  for (const [i, criterion] of logs.facility.criteria.entries()) {
    const counts = criterion.forEach.map((column) => ({ column, values: valuesOf(column, criterion, logs) }));
    const groups = counts.reduce((product, { values }) => product * values, 1);
    if (groups <= mostGroups) continue;
    yaml.value(
      ["criteria", i, "for_each"],
      groupsTooMany.with({ criterion: criterion.id, counts, groups, most: mostGroups }),
    );
  }
}

/** How many values of a column the criterion is judged for: those that are stated, or those seen. */
function valuesOf(column: string, { where, readPoints }: Criterion, logs: FacilityLogs): number {
  const stated = statedNames(where, column, logs.facility.conditions);
  return stated?.length ?? seenAt(column, new Set(readPoints), logs);
}

function seenAt(
  name: string,
  readPoints: ReadonlySet<string>,
  { table, passes, facility }: FacilityLogs,
): number {
  const column = table.column(name);
  if (column === null) return 0;
  const isHere = passes.map(({ readPoint }) => readPoints.has(facility.readPoints[readPoint]?.id ?? ""));
  const seen = new Set<number>();
  for (let row = 0; row < table.length; row += 1) if (isHere[table.pass[row]!]) seen.add(column.ids[row]!);
  seen.delete(-1);
  return seen.size;
}
