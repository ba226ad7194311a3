import type { Plan } from "../../model/facility.ts";
import type { WrittenPlan } from "../plan-schema.ts";

/** The plan with its defaults filled in; its read points in the order of facility.yaml. */
export function builtPlan(written: WrittenPlan, everyReadPoint: string[]): Plan {
  const wanted = written.read_points ?? everyReadPoint;
  return {
    seed: written.seed ?? 1,
    tagsPerPass: written.tags_per_pass,
    manifest: written.manifest ?? null,
    sameTags: written.same_tags ?? written.manifest != null,
    expectedRate: written.expected_rate,
    each: Object.entries(written.each ?? {}).map(([column, values]) => ({
      column,
      values: values.map(String),
    })),
    readPoints: everyReadPoint.filter((id) => wanted.includes(id)),
  };
}
