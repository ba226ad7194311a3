import { z } from "zod";
import { measures } from "../../measures/index.ts";
import type { Measure, MeasureCard } from "../../measures/measure.ts";
import { type ConditionValues, valuesOf } from "../../model/conditions.ts";
import type { Criterion, WhereClause } from "../../model/facility.ts";
import type { FullText } from "../problems/card/problem.ts";
import { agreementColumnMissing } from "../problems/pass-log.ts";
import type { YamlReport } from "../problems/reports.ts";
import {
  agreementColumnSame,
  bandUnknown,
  entryDuplicate,
  keyUnused,
  limitDouble,
  limitMissing,
  limitOutOfRange,
  parameterFault,
  quantileMissing,
  quantileOutOfRange,
  rangeEmpty,
  rangeReversed,
  valueBlank,
  worstPassOutOfRange,
} from "../problems/yaml.ts";
import { type Entry, optional, scalar, text, valueAt, words } from "../yaml/shape.ts";
import type { DeclaredConditions } from "./conditions.ts";
import { checkColumnName, checkNames, checkUnique, type YamlPlace } from "./names.ts";

/* What is asked of the read points: the criteria of facility.yaml. */

const range = z.strictObject({
  from: optional(z.number(), "The lowest value taken."),
  to: optional(z.number(), "The highest value taken."),
});

const whereSchema = z.union([scalar, z.array(scalar).min(1), range]);

/** What every criterion is called. */
export const identity = {
  id: text("Short name of the criterion."),
  title: words("The criterion in words, as the report prints it; the id if left out."),
};
const selection = {
  read_points: optional(
    z.array(text("A read point's id.")).min(1),
    "The read points it applies to; all of them if left out.",
  ),
  minimum_passes: optional(z.int().min(1), "Fewer valid passes than this leave it untested."),
};
/** What is counted besides passes has no conditions. */
const conditionKeys = {
  where: optional(
    z.record(z.string(), whereSchema),
    "The rows it takes: by condition column a value, a list of values, or a range {from, to}, both inclusive.",
  ),
  for_each: optional(
    z.array(text("A condition's column.")).min(1),
    "Condition columns, each of whose values must meet the criterion by itself.",
  ),
};

type Shape<T extends z.ZodRawShape> = z.infer<z.ZodObject<T>>;

/** The keys of every criterion, and those that its measure asks for besides. */
type RawCriterion = Shape<typeof identity> &
  Shape<typeof selection> &
  Partial<Shape<typeof conditionKeys>> & {
    measure: string;
    at_least?: number | null;
    at_most?: number | null;
    [parameter: string]: unknown;
  };

/**
 * A criterion has the keys that its measure asks for. Made when it is needed, from the measures that there are then.
 *
 * @param isLoose lets unknown keys pass, so that one of them does not hide what else is wrong
 */
export function criterionSchema({ isLoose = false } = {}): z.ZodType<RawCriterion> {
  const shapes = measures.all().map((measure) => {
    const keys = { ...identity, ...measureKeys(measure), ...selection };
    return isLoose ? z.object(keys) : z.strictObject(keys);
  });
  const everyKey = new Set(shapes.flatMap(({ shape }) => Object.keys(shape)));
  return z.preprocess(
    (raw) => withoutBlanks(raw, everyKey),
    z
      .discriminatedUnion("measure", shapes as [(typeof shapes)[0], ...typeof shapes])
      .meta({ description: "One requirement; its measure says what is counted." }),
  ) as z.ZodType<RawCriterion>;
}

function measureKeys(measure: Measure) {
  return {
    ...requirementKeys(measure),
    ...(measure.besidePasses === undefined ? conditionKeys : {}),
  };
}

/** What is asked of any measure: its limit, and what it takes besides. */
export function requirementKeys({ id, method, scale, criterion }: MeasureCard) {
  const parameters = Object.entries(criterion?.parameters ?? {}).map(([key, { schema }]) => [key, schema]);
  return {
    measure: z.literal(id).meta({ description: `Counts ${method.counts}.` }),
    at_least: optional(z.number(), `The limit from below: ${scale.limit["at-least"].words}.`),
    at_most: optional(z.number(), `The limit from above: ${scale.limit["at-most"].words}.`),
    ...(Object.fromEntries(parameters) as Record<string, z.ZodType>),
  };
}

/** A key without a value counts as left out, whichever measure it belongs to. */
function withoutBlanks(raw: unknown, keys: ReadonlySet<string>): unknown {
  if (typeof raw !== "object" || raw === null || Array.isArray(raw)) return raw;
  return Object.fromEntries(Object.entries(raw).filter(([key, value]) => value !== null || !keys.has(key)));
}

/** What to say of a key that the measure of a criterion does not use; null where no measure does. */
export function unusedKey(key: string, raw: unknown): FullText | null {
  const measure = measures.find(String(valueAt(raw, ["measure"])));
  const users = measures.all().filter((other) => key in measureKeys(other));
  if (measure === null || users.length === 0) return null;
  return measure.besidePasses !== undefined && key in conditionKeys
    ? keyUnused.besidePasses({ key, measure: measure.id, what: measure.besidePasses.what })
    : keyUnused.otherMeasure({ key, measure: measure.id, users: users.map(({ id }) => id) });
}

export function checkCriteria(
  criteria: Entry<RawCriterion>[],
  { readPoints, columns, conditions }: DeclaredConditions,
  report: YamlReport,
): void {
  checkUnique(criteria, "id", report);
  for (const { value, path } of criteria) {
    const card = measures.get(value.measure);
    checkLimit(value, card, { path, report });
    checkParameters(value, card, { path, report });
    checkNames(value.read_points ?? [], { path: [...path, "read_points"], report }, (entry, id) =>
      report.reference(entry, id, readPoints),
    );
    checkNames(value.for_each ?? [], { path: [...path, "for_each"], report }, (entry, column) =>
      report.reference(entry, column, columns),
    );
    for (const [column, where] of Object.entries(value.where ?? {})) {
      const key = [...path, "where", column];
      report.keyReference(key, column, columns);
      checkWhere(where, valuesOf(conditions.get(column) ?? {}), { path: key, report });
    }
  }
}

const limitKeys = { "at-least": "at_least", "at-most": "at_most" } as const;

interface Limits {
  id: string;
  at_least?: number | null | undefined;
  at_most?: number | null | undefined;
}

/** Objects to a limit that is missing, or that nothing could meet or miss. */
export function checkLimit(
  criterion: Limits,
  { scale, usualSense, criterion: needs }: MeasureCard,
  { path, report }: YamlPlace,
): void {
  const { at_least: atLeast, at_most: atMost } = criterion;
  if (atLeast == null && atMost == null) {
    const example = `${limitKeys[usualSense]}: ${scale.limit[usualSense].example}`;
    report.value(path, limitMissing.with({ criterion: criterion.id, example }));
    return;
  }
  if (atLeast != null && atMost != null)
    report.key([...path, "at_most"], limitDouble.with({ atLeast, atMost }));
  for (const sense of ["at-least", "at-most"] as const) {
    const key = limitKeys[sense];
    const limit = criterion[key];
    if (limit == null) continue;
    if (needs?.excluded?.sense === sense) {
      const expected = `${limitKeys[usualSense]}, in ${scale.limit[usualSense].words}`;
      const { advice } = needs.excluded;
      report.key([...path, key], limitOutOfRange.with({ found: `${key}: ${limit}`, expected, advice }));
      continue;
    }
    const fault = scale.limitFault(limit, sense);
    if (fault !== null) report.value([...path, key], limitOutOfRange.with(fault));
  }
}

/** The problems that measures have codes of their own for. */
const parameterFaults: Record<string, typeof parameterFault.with> = {
  [quantileMissing.code]: quantileMissing.with,
  [quantileOutOfRange.code]: quantileOutOfRange.with,
  [worstPassOutOfRange.code]: worstPassOutOfRange.with,
  [agreementColumnMissing.code]: agreementColumnMissing.inCriterion,
  [agreementColumnSame.code]: agreementColumnSame.with,
};

/** What a criterion says for its measure alone: what is missing or wrong. */
export function checkParameters(
  criterion: Limits & Record<string, unknown>,
  { criterion: needs }: MeasureCard,
  { path, report }: YamlPlace,
): void {
  const own = needs?.parameters ?? {};
  for (const [key, { namesColumn }] of Object.entries(own)) {
    const value = criterion[key];
    if (namesColumn && typeof value === "string") checkColumnName([...path, key], value, report);
  }
  for (const { code = "", key, lacks, ...words } of needs?.faults?.(criterion) ?? []) {
    const said = parameterFaults[code] ?? parameterFault.with;
    const found = lacks === undefined ? {} : { found: `no ${lacks} in criterion "${criterion.id}"` };
    report.value(key === null ? path : [...path, key], said({ ...words, ...found }));
  }
}

function checkWhere(
  where: z.infer<typeof whereSchema>,
  known: ConditionValues,
  { path, report }: YamlPlace,
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
    else checkValue(text, known, { path: entry, report });
  });
}

/** Whether a value that is asked for can be logged: a number has its band. */
export function checkValue(text: string, values: ConditionValues, { path, report }: YamlPlace): void {
  if (values.names !== null && values.nameOf(text) === null)
    report.value(path, bandUnknown.with({ text, bands: values.names }));
}

/** A criterion with its defaults filled in. */
export function normaliseCriterion(raw: RawCriterion, everyReadPoint: string[]): Criterion {
  return {
    ...requirementOf(raw),
    readPoints: raw.read_points ?? everyReadPoint,
    where: Object.entries(raw.where ?? {}).map(([column, where]): WhereClause => {
      if (Array.isArray(where)) return { column, kind: "values", values: where.map(String) };
      if (where === null || typeof where !== "object")
        return { column, kind: "values", values: [String(where)] };
      return { column, kind: "range", from: where.from ?? null, to: where.to ?? null };
    }),
    forEach: raw.for_each ?? [],
    minimumPasses: raw.minimum_passes ?? 1,
    ...parametersOf(raw, measures.all()),
  };
}

/** What is asked, and of which measure. */
export function requirementOf(
  raw: Limits & { title?: string | null | undefined; measure: string },
): Pick<Criterion, "id" | "title" | "measure" | "limit" | "sense"> {
  const { id, title, measure, at_least: atLeast, at_most: atMost } = raw;
  return {
    id,
    title: title ?? id,
    measure,
    limit: atLeast ?? atMost ?? Number.NaN,
    sense: atLeast == null && atMost != null ? "at-most" : "at-least",
  };
}

/** The parameters of all measures: null where the criterion does not state one. */
export function parametersOf(
  raw: Readonly<Record<string, unknown>>,
  cards: readonly MeasureCard[],
): Record<string, unknown> {
  const keys = cards.flatMap(({ criterion }) => Object.keys(criterion?.parameters ?? {}));
  return Object.fromEntries(keys.map((key) => [key, raw[key] ?? null]));
}
