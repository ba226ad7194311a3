import { z } from "zod";
import { percentSlip } from "../../measures/scales.ts";
import { type ConditionValues, valuesOf } from "../../model/conditions.ts";
import type { Plan } from "../../model/facility.ts";
import type { Path, YamlReport } from "../problems/reports.ts";
import {
  expectedRateOutOfRange,
  planTagsContradict,
  planTooLarge,
  planValuesInOneBand,
  valueBlank,
} from "../problems/yaml.ts";
import { type Entry, optional, scalar, text } from "../yaml/shape.ts";
import type { DeclaredConditions } from "./conditions.ts";
import { checkValue } from "./criterion.ts";
import { checkNames, type YamlPlace } from "./names.ts";

/* How facility.yaml says what is to be walked. */

export const planSchema = z.strictObject({
  seed: optional(z.int().min(0), "Fixes the random order of the passes; 1 if left out."),
  tags_per_pass: z.int().min(1).max(10_000).meta({ description: "Tags carried through in one pass." }),
  manifest: optional(
    text("A file's name in manifests/, without .csv."),
    "The load that every pass carries: it presents as many tags as tags_per_pass says.",
  ),
  same_tags: optional(
    z.boolean(),
    "Whether the same tags go through in every pass. If left out, they do with a manifest; without one, other tags each time.",
  ),
  expected_rate: z.number().meta({
    description:
      "The share of tags that a well-tuned read point is believed to read, between 0 and 1 (0.998).",
  }),
  each: optional(
    z.record(z.string(), z.array(scalar).min(1)),
    "By condition column the values to walk; every combination of them is walked.",
  ),
  read_points: optional(
    z.array(text("A read point's id.")).min(1),
    "The read points to be walked; all of them if left out.",
  ),
});

export type RawPlan = z.infer<typeof planSchema>;

/** More combinations than this are more than anybody walks. */
const mostCells = 1000;

/** Whether the plan can be walked: its read points and conditions exist, and its values fit them. */
export function checkPlan(
  { value: plan, path }: Entry<RawPlan>,
  { readPoints, columns, conditions }: DeclaredConditions,
  report: YamlReport,
): void {
  checkExpectedRate(plan.expected_rate, [...path, "expected_rate"], report);
  checkNames(plan.read_points ?? [], { path: [...path, "read_points"], report }, (entry, id) =>
    report.reference(entry, id, readPoints),
  );
  if (plan.manifest != null && plan.same_tags === false)
    report.value([...path, "same_tags"], planTagsContradict);
  let cells = 1;
  for (const [column, values] of Object.entries(plan.each ?? {})) {
    const key = [...path, "each", column];
    report.keyReference(key, column, columns);
    const known = valuesOf(conditions.get(column) ?? {});
    checkNames(values.map(String), { path: key, report }, (entry, text) => {
      if (text.trim() === "" || text === "null") report.value(entry, valueBlank.planned());
      else checkValue(text, known, { path: entry, report });
    });
    checkApart(values.map(String), known, { path: key, report });
    cells *= values.length;
  }
  if (cells > mostCells) report.key([...path, "each"], planTooLarge.with({ cells, most: mostCells }));
}

function checkExpectedRate(rate: number, path: Path, report: YamlReport): void {
  if (rate > 0 && rate < 1) return;
  const advice =
    rate === 1
      ? "No read point reads every tag for ever: state what is believed, for example 0.999."
      : (percentSlip(rate) ?? "Write the rate as a fraction, for example 0.998.");
  report.value(path, expectedRateOutOfRange.with({ advice }));
}

/** Passes are counted by band, so two values of one band could not be told apart when they are counted. */
function checkApart(values: string[], known: ConditionValues, { path, report }: YamlPlace): void {
  const seen = new Map<string, string>();
  values.forEach((value, i) => {
    const band = known.nameOf(value);
    if (band === null || values.indexOf(value) < i) return;
    const first = seen.get(band);
    if (first === undefined) seen.set(band, value);
    else report.value([...path, i], planValuesInOneBand.with({ first, second: value, band }));
  });
}

/** The plan with its defaults filled in; its read points in the order of facility.yaml. */
export function normalisePlan(raw: RawPlan, everyReadPoint: string[]): Plan {
  const wanted = raw.read_points ?? everyReadPoint;
  return {
    seed: raw.seed ?? 1,
    tagsPerPass: raw.tags_per_pass,
    manifest: raw.manifest ?? null,
    sameTags: raw.same_tags ?? raw.manifest != null,
    expectedRate: raw.expected_rate,
    each: Object.entries(raw.each ?? {}).map(([column, values]) => ({
      column,
      values: values.map(String),
    })),
    readPoints: everyReadPoint.filter((id) => wanted.includes(id)),
  };
}
