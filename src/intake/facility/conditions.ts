import { z } from "zod";
import type { Condition } from "../../model/facility.ts";
import type { YamlReport } from "../problems/reports.ts";
import { bandsNotRising } from "../problems/yaml.ts";
import { type Entry, optional, text, words } from "../yaml/shape.ts";
import { checkColumnName, checkUnique, type Declared } from "./names.ts";

export const conditionSchema = z.strictObject({
  column: text("The column of the pass log or manifest."),
  label: words("Name of the condition on the pages; the column's name if left out."),
  unit: words("The unit of its numbers, for example m/s."),
  bands: optional(
    z.array(z.number()).min(2),
    "Rising edges that cut the numbers into bands; without them the column is read as text.",
  ),
});

type RawCondition = z.infer<typeof conditionSchema>;

/** What is declared, with the conditions themselves by their columns. */
export interface DeclaredConditions extends Declared {
  conditions: ReadonlyMap<string, RawCondition>;
}

export function checkConditions(conditions: Entry<RawCondition>[], report: YamlReport): void {
  checkUnique(conditions, "column", report);
  for (const { value, path } of conditions) {
    checkColumnName([...path, "column"], value.column, report);
    const bands = value.bands ?? [];
    bands.forEach((edge, i) => {
      const above = bands[i - 1];
      if (above !== undefined && edge <= above)
        report.value([...path, "bands", i], bandsNotRising.with({ above }));
    });
  }
}

/** Bands that do not rise have been reported, and no value is held against them. */
export function normaliseCondition(condition: RawCondition): Condition {
  const bands = condition.bands ?? null;
  const isRising = bands?.every((edge, i) => i === 0 || edge > bands[i - 1]!) ?? false;
  return {
    column: condition.column,
    label: condition.label ?? condition.column,
    unit: condition.unit ?? null,
    bands: isRising ? bands : null,
  };
}
