import { z } from "zod";
import { optional, scalar, text } from "./schema-parts.ts";

/** How facility.yaml says what is to be walked. */
export const planSchema = z.strictObject({
  seed: optional(z.int().min(0), "Fixes the random order of the passes; 1 where left out."),
  tags_per_pass: z.int().min(1).max(10_000).meta({ description: "Tags carried through in one pass." }),
  manifest: optional(
    text("A file's name in manifests/, without .csv."),
    "The load that every pass carries: it presents as many tags as tags_per_pass says.",
  ),
  same_tags: optional(
    z.boolean(),
    "Whether the same tags go through in every pass. Where left out, they do with a manifest; without one, other tags each time.",
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
    "The read points to be walked; every one where left out.",
  ),
});

export type WrittenPlan = z.infer<typeof planSchema>;
