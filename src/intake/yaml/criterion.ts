import { z } from "zod";
import { type ConditionValues, valuesOf } from "../../model/conditions.ts";
import type { Criterion, WhereClause } from "../../model/facility.ts";
import { agreementColumnMissing } from "../problems/pass-log.ts";
import type { Path, YamlReport } from "../problems/reports.ts";
import {
  agreementColumnSame,
  bandUnknown,
  entryDuplicate,
  keyUnused,
  limitDouble,
  limitMissing,
  limitOutOfRange,
  quantileMissing,
  quantileOutOfRange,
  rangeEmpty,
  rangeReversed,
  valueBlank,
} from "../problems/yaml.ts";
import { checkColumnName, checkNames, checkUnique, type Declared, type RawCondition } from "./entries.ts";
import { asFraction, type Entry, optional, scalar, text, words } from "./shape.ts";

/* What is asked of the read points: the criteria of facility.yaml. */

const range = z.strictObject({
  from: optional(z.number(), "The lowest value taken."),
  to: optional(z.number(), "The highest value taken."),
});

const whereSchema = z.union([scalar, z.array(scalar).min(1), range]);

const measureNames = [
  "tag-read-rate",
  "complete-pass-rate",
  "stray-pass-rate",
  "bystander-read-rate",
  "agreement-rate",
  "rssi-quantile",
  "idle-read-rate",
] as const;

export const criterionSchema = z.strictObject({
  id: text("Short name of the criterion."),
  title: words("The criterion in words, as the report prints it; the id if left out."),
  measure: z.enum(measureNames).meta({ description: "What is counted." }),
  at_least: optional(
    z.number(),
    "The limit from below: a rate between 0 and 1 (0.99), or dBm for rssi-quantile.",
  ),
  at_most: optional(
    z.number(),
    "The limit from above: a rate between 0 and 1 (0.01), dBm for rssi-quantile, tags a minute for idle-read-rate.",
  ),
  read_points: optional(
    z.array(text("A read point's id.")).min(1),
    "The read points it is asked of; every one where left out.",
  ),
  where: optional(
    z.record(z.string(), whereSchema),
    "Which rows it takes: by condition column a value, a list of values, or a range {from, to}, both inclusive.",
  ),
  for_each: optional(
    z.array(text("A condition's column.")).min(1),
    "Condition columns whose every value must hold on its own.",
  ),
  minimum_passes: optional(z.int().min(1), "Fewer valid passes than this leave it untested."),
  quantile: optional(z.number(), "For rssi-quantile: which quantile, between 0 and 1 (0.05)."),
  observed: words("For agreement-rate: the column that says what the read point concluded."),
  expected: words("For agreement-rate: the column that says what was true."),
});

type RawCriterion = z.infer<typeof criterionSchema>;

export function checkCriteria(
  criteria: Entry<RawCriterion>[],
  { readPoints, columns }: Declared,
  conditions: ReadonlyMap<string, RawCondition>,
  report: YamlReport,
): void {
  checkUnique(criteria, "id", report);
  for (const { value, path } of criteria) {
    checkLimit(value, path, report);
    checkQuantile(value, path, report);
    checkAgreement(value, path, report);
    checkIdle(value, path, report);
    checkNames(value.read_points ?? [], [...path, "read_points"], report, (entry, id) =>
      report.reference(entry, id, readPoints),
    );
    checkNames(value.for_each ?? [], [...path, "for_each"], report, (entry, column) =>
      report.reference(entry, column, columns),
    );
    for (const [column, where] of Object.entries(value.where ?? {})) {
      const key = [...path, "where", column];
      report.keyReference(key, column, columns);
      checkWhere(where, key, valuesOf(conditions.get(column) ?? {}), report);
    }
  }
}

/** Between passes there is no pass whose conditions could be asked for. */
function checkIdle(criterion: RawCriterion, path: Path, report: YamlReport): void {
  const { measure } = criterion;
  if (measure !== "idle-read-rate") return;
  for (const key of ["where", "for_each"] as const) {
    if (criterion[key] != null) report.key([...path, key], keyUnused.betweenPasses({ key, measure }));
  }
}

function checkLimit(criterion: RawCriterion, path: Path, report: YamlReport): void {
  const { at_least: atLeast, at_most: atMost, measure } = criterion;
  if (atLeast == null && atMost == null) {
    const example = measure === "rssi-quantile" ? "at_least: -65" : "at_least: 0.99";
    report.value(path, limitMissing.with({ criterion: criterion.id, example }));
    return;
  }
  if (atLeast != null && atMost != null)
    report.key([...path, "at_most"], limitDouble.with({ atLeast, atMost }));
  for (const key of ["at_least", "at_most"] as const) {
    const limit = criterion[key];
    if (limit == null) continue;
    if (measure === "rssi-quantile") checkDbm(limit, [...path, key], report);
    else if (measure === "idle-read-rate") checkTagsAMinute(limit, [...path, key], key, report);
    else checkRate(limit, [...path, key], key, report);
  }
}

function checkTagsAMinute(limit: number, path: Path, key: string, report: YamlReport): void {
  if (key === "at_least") {
    const advice = "Tags heard with nothing presented can only be too many: write at_most.";
    report.key(
      path,
      limitOutOfRange.with({ found: `at_least: ${limit}`, expected: "at_most, in tags a minute", advice }),
    );
  } else if (limit <= 0) {
    const advice = "No log can show that nothing is ever heard: state what is meant, 0.1 say.";
    report.value(path, limitOutOfRange.with({ expected: "more than 0 tags a minute", advice }));
  }
}

function checkDbm(limit: number, path: Path, report: YamlReport): void {
  if (limit >= -120 && limit <= 0) return;
  const advice =
    limit > 0 && limit <= 120
      ? `Received power is negative in dBm: write ${-limit}.`
      : "Write the received power in dBm, for instance -65.";
  report.value(path, limitOutOfRange.with({ expected: "an RSSI from -120 to 0 dBm", advice }));
}

function checkRate(limit: number, path: Path, key: "at_least" | "at_most", report: YamlReport): void {
  if (limit > 0 && limit < 1) return;
  const most = key === "at_most";
  let advice = "Write the rate as a fraction, for instance 0.99.";
  if (limit === 1) {
    advice = most
      ? "A rate can never exceed 1, so this asks nothing: state what is meant, 0.01 say."
      : "No number of passes can show 100 %: state what is meant, 0.999 say.";
  } else if (limit === 0) {
    advice = most
      ? "No number of passes can show that something never happens: state what is meant, 0.001 say."
      : "Every rate reaches 0, so this asks nothing: state what is meant, 0.99 say.";
  } else if (limit > 1 && limit < 100) advice = `Write ${asFraction(limit)}.`;
  else if (limit === 100) advice = "No number of passes can show 100 %: state what is meant, 0.999 say.";
  report.value(path, limitOutOfRange.with({ expected: "a rate above 0 and below 1", advice }));
}

function checkQuantile({ measure, quantile, id }: RawCriterion, path: Path, report: YamlReport): void {
  if (measure !== "rssi-quantile") {
    if (quantile == null) return;
    report.key(
      [...path, "quantile"],
      keyUnused.otherMeasure({ key: "quantile", measure, users: ["rssi-quantile"] }),
    );
  } else if (quantile == null) {
    report.value(
      path,
      quantileMissing.with({
        found: `no quantile in criterion "${id}"`,
        expected: "quantile, a number between 0 and 1",
        advice: "Add, for instance, quantile: 0.05, the value that 95 % of presentations exceed.",
      }),
    );
  } else if (!(quantile > 0 && quantile < 1)) {
    const advice = quantile > 1 && quantile < 100 ? `Write ${asFraction(quantile)}.` : "0.05 is usual.";
    report.value(
      [...path, "quantile"],
      quantileOutOfRange.with({ expected: "a number above 0 and below 1", advice }),
    );
  }
}

function checkAgreement(criterion: RawCriterion, path: Path, report: YamlReport): void {
  const { measure, id } = criterion;
  for (const key of ["observed", "expected"] as const) {
    const column = criterion[key];
    if (measure !== "agreement-rate") {
      if (column == null) continue;
      report.key([...path, key], keyUnused.otherMeasure({ key, measure, users: ["agreement-rate"] }));
    } else if (column == null) {
      report.value(
        path,
        agreementColumnMissing.inCriterion({
          found: `no ${key} in criterion "${id}"`,
          expected: `${key}, the name of a column`,
          advice: "agreement-rate compares two columns of the pass log: name both observed and expected.",
        }),
      );
    } else checkColumnName([...path, key], column, report);
  }
  if (
    measure === "agreement-rate" &&
    criterion.observed != null &&
    criterion.observed === criterion.expected
  ) {
    report.value(
      [...path, "observed"],
      agreementColumnSame.with({
        expected: "two different columns",
        advice:
          "A column always agrees with itself: name the column that holds what the read point concluded.",
      }),
    );
  }
}

function checkWhere(
  where: z.infer<typeof whereSchema>,
  path: Path,
  known: ConditionValues,
  report: YamlReport,
): void {
  if (where !== null && typeof where === "object" && !Array.isArray(where)) {
    const { from, to } = where;
    if (from == null && to == null) report.value(path, rangeEmpty);
    else if (from != null && to != null && from > to)
      report.value([...path, "from"], rangeReversed.with({ to }));
    return;
  }
  const values = Array.isArray(where) ? where : [where];
  values.forEach((value, i) => {
    const entry = Array.isArray(where) ? [...path, i] : path;
    const text = value === null ? "" : String(value);
    if (text.trim() === "") report.value(entry, valueBlank.selected());
    else if (values.findIndex((other) => String(other) === text) < i)
      report.value(entry, entryDuplicate.value());
    else checkValue(text, entry, known, report);
  });
}

/** Whether a value that is asked for can be logged: a number has its band. */
export function checkValue(text: string, path: Path, values: ConditionValues, report: YamlReport): void {
  if (values.names !== null && values.nameOf(text) === null)
    report.value(path, bandUnknown.with({ text, bands: values.names }));
}

/** A criterion with its defaults filled in. */
export function normaliseCriterion(raw: RawCriterion, everyReadPoint: string[]): Criterion {
  return {
    id: raw.id,
    title: raw.title ?? raw.id,
    measure: raw.measure,
    limit: raw.at_least ?? raw.at_most ?? Number.NaN,
    sense: raw.at_least == null && raw.at_most != null ? "at-most" : "at-least",
    readPoints: raw.read_points ?? everyReadPoint,
    where: Object.entries(raw.where ?? {}).map(([column, where]): WhereClause => {
      if (Array.isArray(where)) return { column, kind: "values", values: where.map(String) };
      if (where === null || typeof where !== "object")
        return { column, kind: "values", values: [String(where)] };
      return { column, kind: "range", from: where.from ?? null, to: where.to ?? null };
    }),
    forEach: raw.for_each ?? [],
    minimumPasses: raw.minimum_passes ?? 1,
    quantile: raw.quantile ?? null,
    observed: raw.observed ?? null,
    expected: raw.expected ?? null,
  };
}
