import type { WrittenPlan } from "../facility-schema.ts";
import { checkBanded, checkListed } from "./criterion-checks.ts";
import type { YamlReporter } from "./reporter.ts";
import { asFraction } from "./schema-faults.ts";
import type { WrittenSections } from "./written-facility.ts";

/** A plan of more combinations than this is no plan that anybody walks. */
const mostCells = 1000;

/** Whether the plan can be walked: its read points and conditions exist, and its values fit them. */
export function checkPlan(sections: WrittenSections, report: YamlReporter): void {
  if (sections.plan === null) return;
  const { value: plan, path } = sections.plan;
  checkExpected(plan, report);
  checkListed(plan.read_points ?? [], [...path, "read_points"], report, (entry, id) =>
    report.reference(entry, id, sections.ids.readPoints, "the id of a read point", "read_points"),
  );
  const conditions = new Map(sections.conditions.map(({ value }) => [value.column, value]));
  let cells = 1;
  for (const [column, values] of Object.entries(plan.each ?? {})) {
    const key = [...path, "each", column];
    report.keyReference(key, column, sections.ids.columns, "a declared condition column", "conditions");
    checkListed(values.map(String), key, report, (entry, text) => {
      const bands = conditions.get(column)?.bands ?? null;
      if (text.trim() === "" || text === "null") {
        report.error(entry, "value-blank", "a value of the column", "Name the value that is to be walked.");
      } else if (bands !== null) checkBanded(text, entry, bands, report);
    });
    cells *= values.length;
  }
  if (cells > mostCells) {
    report.keyError(
      [...path, "each"],
      "plan-too-large",
      `${cells} combinations under "each"`,
      `at most ${mostCells}`,
      "Every combination is walked: name fewer values, or fewer columns.",
    );
  }
}

function checkExpected({ expected_rate: rate }: WrittenPlan, report: YamlReporter): void {
  if (rate > 0 && rate < 1) return;
  let advice = "Write the rate as a fraction, for instance 0.998.";
  if (rate === 1) advice = "Nothing reads every tag for ever: state what is believed, 0.999 say.";
  else if (rate > 1 && rate < 100) advice = `Write ${asFraction(String(rate))}.`;
  report.error(["plan", "expected_rate"], "expected-rate-out-of-range", "a rate above 0 and below 1", advice);
}
