import { valueNotWalked } from "../problems/pass-log.ts";
import type { YamlReport } from "../problems/reports.ts";
import { suggest } from "../problems/wording.ts";
import type { LogContext } from "./log-context.ts";

/** Remarks on a value that a criterion selects and nobody walked, where one that was walked looks much like it. */
export function remarkOnWalkedValues({ facility, rows, vocabulary }: LogContext, report: YamlReport): void {
  const isOpen = (column: string) => (vocabulary.values.get(column)?.names ?? null) === null;
  facility.criteria.forEach((criterion, i) => {
    for (const clause of criterion.where) {
      const column = rows.columns.find((each) => each.name === clause.column);
      if (clause.kind !== "values" || column === undefined || !isOpen(clause.column)) continue;
      const walked = column.table.texts;
      clause.values.forEach((value, at) => {
        if (column.table.find(value) >= 0) return;
        const near = suggest(value, walked);
        // Values told apart by a number are not slips of the pen, and one that is listed anyway is not meant.
        if (near === null || withoutDigits(near) === withoutDigits(value) || clause.values.includes(near))
          return;
        const path = ["criteria", i, "where", clause.column];
        const entry = report.places.sourceAt(path) === null ? [...path, at] : path;
        report.value(
          entry,
          valueNotWalked.with({ column: clause.column, value, criterion: criterion.id, walked, near }),
        );
      });
    }
  });
}

function withoutDigits(text: string): string {
  return text.replace(/\d+/g, "");
}
