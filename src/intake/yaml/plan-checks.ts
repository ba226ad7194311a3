import { type ConditionValues, valuesOf } from "../../model/conditions.ts";
import type { WrittenPlan } from "../plan-schema.ts";
import { quoted } from "../quotation.ts";
import { checkListed, checkValue } from "./criterion-checks.ts";
import type { YamlReporter } from "./reporter.ts";
import { asFraction } from "./schema-faults.ts";
import type { WrittenSections } from "./written-facility.ts";
import type { Path } from "./yaml-tree.ts";

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
  if (plan.manifest != null && plan.same_tags === false) {
    report.error(
      [...path, "same_tags"],
      "plan-tags-contradict",
      "true, or nothing, where the plan names a manifest",
      "A manifest is one load, and every pass carries it: remove one of the two.",
    );
  }
  const conditions = new Map(sections.conditions.map(({ value }) => [value.column, value]));
  let cells = 1;
  for (const [column, values] of Object.entries(plan.each ?? {})) {
    const key = [...path, "each", column];
    report.keyReference(key, column, sections.ids.columns, "a declared condition column", "conditions");
    const known = valuesOf(conditions.get(column) ?? {});
    checkListed(values.map(String), key, report, (entry, text) => {
      if (text.trim() === "" || text === "null") {
        report.error(entry, "value-blank", "a value of the column", "Name the value that is to be walked.");
      } else checkValue(text, entry, known, report);
    });
    checkApart(values.map(String), known, key, report);
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

/** Passes are counted by band, so two values of one band could not be told apart when they are counted. */
function checkApart(values: string[], known: ConditionValues, path: Path, report: YamlReporter): void {
  const seen = new Map<string, string>();
  values.forEach((value, i) => {
    const band = known.nameOf(value);
    if (band === null || values.indexOf(value) < i) return;
    const first = seen.get(band);
    if (first === undefined) seen.set(band, value);
    else
      report.error(
        [...path, i],
        "plan-values-in-one-band",
        "each value in a band of its own",
        `${quoted(first)} and ${quoted(value)} both lie in the band ${quoted(band)} and would be counted as one: remove one of them, or part the band.`,
      );
  });
}
