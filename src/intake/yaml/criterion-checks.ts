import { measures } from "../../measures/index.ts";
import { type ConditionValues, valuesOf } from "../../model/conditions.ts";
import type { WrittenCondition, WrittenCriterion } from "../facility-schema.ts";
import { listing, quoted } from "../quotation.ts";
import { didYouMean } from "../suggestion.ts";
import { checkColumnName } from "./facility-checks.ts";
import type { YamlReporter } from "./reporter.ts";
import type { WrittenSections } from "./written-facility.ts";
import type { Path } from "./yaml-tree.ts";

type Where = NonNullable<WrittenCriterion["where"]>[string];

/** What each criterion asks: its limit, what its measure needs, and which rows it takes. */
export function checkCriteria(sections: WrittenSections, report: YamlReporter): void {
  const conditions = new Map(sections.conditions.map(({ value }) => [value.column, value]));
  for (const { value, path } of sections.criteria) {
    checkLimit(value, path, report);
    checkParameters(value, path, report);
    checkConditions(value, path, report);
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
function checkConditions(criterion: WrittenCriterion, path: Path, report: YamlReporter): void {
  const { id, betweenPasses } = measures.get(criterion.measure);
  if (!betweenPasses) return;
  for (const key of ["where", "for_each"] as const) {
    if (criterion[key] == null) continue;
    report.keyError(
      [...path, key],
      "key-unused",
      `${key} in a criterion with measure ${id}`,
      "no conditions",
      "What it counts lies between the passes and has no conditions: remove it.",
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
  const { at_least: atLeast, at_most: atMost } = criterion;
  const { scale, usualSense, criterion: needs } = measures.get(criterion.measure);
  if (atLeast == null && atMost == null) {
    const { example } = scale.limit[usualSense];
    report.error(
      path,
      "limit-missing",
      "one of at_least, at_most",
      `Add, for instance, ${senseKeys[usualSense]}: ${example}.`,
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
  for (const sense of ["at-least", "at-most"] as const) {
    const key = senseKeys[sense];
    const limit = criterion[key];
    if (limit == null) continue;
    if (needs?.senseless?.sense === sense) {
      const other = sense === "at-least" ? "at-most" : "at-least";
      const expected = `${senseKeys[other]}, in ${scale.limit[other].words}`;
      const { advice } = needs.senseless;
      report.keyError([...path, key], "limit-out-of-range", `${key}: ${limit}`, expected, advice);
      continue;
    }
    const fault = scale.limitFault(limit, sense);
    if (fault !== null) report.error([...path, key], "limit-out-of-range", fault.expected, fault.advice);
  }
}

const senseKeys = { "at-least": "at_least", "at-most": "at_most" } as const;

/** What a criterion says for its measure alone: what is missing or wrong, and what belongs to another measure. */
function checkParameters(criterion: WrittenCriterion, path: Path, report: YamlReporter): void {
  const own = measures.get(criterion.measure);
  for (const [key, { namesColumn }] of Object.entries(own.criterion?.parameters ?? {})) {
    const value = criterion[key];
    if (namesColumn && typeof value === "string") checkColumnName([...path, key], value, report);
  }
  for (const { key, lacks, code, expected, advice } of own.criterion?.faults?.(criterion) ?? []) {
    const at = key === null ? path : [...path, key];
    const found = lacks === undefined ? undefined : `no ${lacks} in criterion ${quoted(criterion.id)}`;
    report.error(at, code, expected, advice, found);
  }
  for (const other of measures.all()) {
    for (const key of Object.keys(other.criterion?.parameters ?? {})) {
      if (criterion[key] == null || key in (own.criterion?.parameters ?? {})) continue;
      report.keyError(
        [...path, key],
        "key-unused",
        `${key} in a criterion with measure ${own.id}`,
        `${key} only with measure ${other.id}`,
        "Remove it, or correct the measure.",
      );
    }
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
