import { type ConditionValues, valuesOf } from "../../model/conditions.ts";
import type { WrittenCondition, WrittenCriterion } from "../facility-schema.ts";
import { listing, quoted } from "../quotation.ts";
import { didYouMean } from "../suggestion.ts";
import { checkColumnName } from "./facility-checks.ts";
import type { YamlReporter } from "./reporter.ts";
import { asFraction } from "./schema-faults.ts";
import type { WrittenSections } from "./written-facility.ts";
import type { Path } from "./yaml-tree.ts";

type Where = NonNullable<WrittenCriterion["where"]>[string];

/** What each criterion asks: its limit, what its measure needs, and which rows it takes. */
export function checkCriteria(sections: WrittenSections, report: YamlReporter): void {
  const conditions = new Map(sections.conditions.map(({ value }) => [value.column, value]));
  for (const { value, path } of sections.criteria) {
    checkLimit(value, path, report);
    checkQuantile(value, path, report);
    checkAgreement(value, path, report);
    checkIdle(value, path, report);
    checkListed(value.read_points ?? [], [...path, "read_points"], report, (entry, id) =>
      report.reference(entry, id, sections.ids.readPoints, "the id of a read point", "read_points"),
    );
    checkListed(value.for_each ?? [], [...path, "for_each"], report, (entry, column) =>
      report.reference(entry, column, sections.ids.columns, "a declared condition column", "conditions"),
    );
    for (const [column, where] of Object.entries(value.where ?? {})) {
      const key = [...path, "where", column];
      report.keyReference(key, column, sections.ids.columns, "a declared condition column", "conditions");
      checkWhere(where, key, conditions.get(column) ?? null, report);
    }
  }
}

/** Between passes there is no pass whose conditions could be asked for. */
function checkIdle(criterion: WrittenCriterion, path: Path, report: YamlReporter): void {
  if (criterion.measure !== "idle-read-rate") return;
  for (const key of ["where", "for_each"] as const) {
    if (criterion[key] == null) continue;
    report.keyError(
      [...path, key],
      "key-unused",
      `${key} in a criterion with measure idle-read-rate`,
      "no conditions",
      "Idle reads lie between the passes and have no conditions: remove it.",
    );
  }
}

export function checkListed(
  names: readonly string[],
  path: Path,
  report: YamlReporter,
  check: (entry: Path, name: string) => void,
): void {
  names.forEach((name, i) => {
    if (names.indexOf(name) < i) {
      report.error([...path, i], "entry-duplicate", "each entry once", "Remove the repeated entry.");
    } else check([...path, i], name);
  });
}

function checkLimit(criterion: WrittenCriterion, path: Path, report: YamlReporter): void {
  const { at_least: atLeast, at_most: atMost, measure } = criterion;
  if (atLeast == null && atMost == null) {
    report.error(
      path,
      "limit-missing",
      "one of at_least, at_most",
      measure === "rssi-quantile"
        ? "Add, for instance, at_least: -65."
        : "Add, for instance, at_least: 0.99.",
      `no limit in criterion ${quoted(criterion.id)}`,
    );
    return;
  }
  if (atLeast != null && atMost != null) {
    report.keyError(
      [...path, "at_most"],
      "limit-double",
      `at_least: ${atLeast} and at_most: ${atMost}`,
      "one of at_least, at_most",
      "Keep one limit here, and make a second criterion for the other.",
    );
  }
  for (const key of ["at_least", "at_most"] as const) {
    const limit = criterion[key];
    if (limit == null) continue;
    if (measure === "rssi-quantile") checkDbm(limit, [...path, key], report);
    else if (measure === "idle-read-rate") checkTagsAMinute(limit, [...path, key], key, report);
    else checkRate(limit, [...path, key], key, report);
  }
}

function checkTagsAMinute(limit: number, path: Path, key: string, report: YamlReporter): void {
  if (key === "at_least") {
    const advice = "Tags heard with nothing presented can only be too many: write at_most.";
    report.keyError(path, "limit-out-of-range", `at_least: ${limit}`, "at_most, in tags a minute", advice);
  } else if (limit <= 0) {
    const advice = "No log can show that nothing is ever heard: state what is meant, 0.1 say.";
    report.error(path, "limit-out-of-range", "more than 0 tags a minute", advice);
  }
}

function checkDbm(limit: number, path: Path, report: YamlReporter): void {
  if (limit >= -120 && limit <= 0) return;
  const advice =
    limit > 0 && limit <= 120
      ? `Received power is negative in dBm: write ${-limit}.`
      : "Write the received power in dBm, for instance -65.";
  report.error(path, "limit-out-of-range", "an RSSI from -120 to 0 dBm", advice);
}

function checkRate(limit: number, path: Path, key: "at_least" | "at_most", report: YamlReporter): void {
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
  } else if (limit > 1 && limit < 100) advice = `Write ${asFraction(String(limit))}.`;
  else if (limit === 100) advice = "No number of passes can show 100 %: state what is meant, 0.999 say.";
  report.error(path, "limit-out-of-range", "a rate above 0 and below 1", advice);
}

function checkQuantile({ measure, quantile, id }: WrittenCriterion, path: Path, report: YamlReporter): void {
  if (measure !== "rssi-quantile") {
    if (quantile == null) return;
    report.keyError(
      [...path, "quantile"],
      "key-unused",
      `quantile in a criterion with measure ${measure}`,
      "quantile only with measure rssi-quantile",
      "Remove it, or correct the measure.",
    );
  } else if (quantile == null) {
    report.error(
      path,
      "quantile-missing",
      "quantile, a number between 0 and 1",
      "Add, for instance, quantile: 0.05, the value that 95 % of presentations exceed.",
      `no quantile in criterion ${quoted(id)}`,
    );
  } else if (!(quantile > 0 && quantile < 1)) {
    const advice =
      quantile > 1 && quantile < 100 ? `Write ${asFraction(String(quantile))}.` : "0.05 is usual.";
    report.error([...path, "quantile"], "quantile-out-of-range", "a number above 0 and below 1", advice);
  }
}

function checkAgreement(criterion: WrittenCriterion, path: Path, report: YamlReporter): void {
  const { measure, id } = criterion;
  for (const key of ["observed", "expected"] as const) {
    const column = criterion[key];
    if (measure !== "agreement-rate") {
      if (column == null) continue;
      report.keyError(
        [...path, key],
        "key-unused",
        `${key} in a criterion with measure ${measure}`,
        `${key} only with measure agreement-rate`,
        "Remove it, or correct the measure.",
      );
    } else if (column == null) {
      report.error(
        path,
        "agreement-column-missing",
        `${key}, the name of a column`,
        "agreement-rate compares two columns of the pass log: name both observed and expected.",
        `no ${key} in criterion ${quoted(id)}`,
      );
    } else checkColumnName([...path, key], column, report);
  }
  if (
    measure === "agreement-rate" &&
    criterion.observed != null &&
    criterion.observed === criterion.expected
  ) {
    report.error(
      [...path, "observed"],
      "agreement-column-same",
      "two different columns",
      "A column always agrees with itself: name the column that holds what the read point concluded.",
    );
  }
}

function checkWhere(
  where: Where,
  path: Path,
  condition: WrittenCondition | null,
  report: YamlReporter,
): void {
  if (where !== null && typeof where === "object" && !Array.isArray(where)) {
    const { from, to } = where;
    if (from == null && to == null) {
      report.error(
        path,
        "range-empty",
        "from, to or both",
        "Say from where to where the range goes.",
        "an empty range",
      );
    } else if (from != null && to != null && from > to) {
      report.error(
        [...path, "from"],
        "range-reversed",
        `from of at most ${to}`,
        "Swap the two: from is the lower end.",
      );
    }
    return;
  }
  const values = Array.isArray(where) ? where : [where];
  values.forEach((value, i) => {
    const entry = Array.isArray(where) ? [...path, i] : path;
    const text = value === null ? "" : String(value);
    if (text.trim() === "") {
      report.error(entry, "value-blank", "a value of the column", "Rows without a value cannot be selected.");
    } else if (values.findIndex((other) => String(other) === text) < i) {
      report.error(entry, "entry-duplicate", "each value once", "Remove the repeated value.");
    } else if (condition !== null) checkValue(text, entry, valuesOf(condition), report);
  });
}

/** Whether a value that is asked for can be walked: a number has its band. */
export function checkValue(text: string, path: Path, values: ConditionValues, report: YamlReporter): void {
  if (values.names === null || values.nameOf(text) !== null) return;
  report.error(
    path,
    "band-unknown",
    `a band or a number within the bands: ${listing([...values.names])}`,
    `${didYouMean(text, values.names)}Bands are called by their edges; a range is written { from: ..., to: ... }.`,
  );
}
