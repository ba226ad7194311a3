import { z } from "zod";
import { count } from "../scalars.ts";

/*
 * What a read point's logs say of why it missed, in short: one sentence, and where to look first. What stands behind it is in
 * `why.ts`.
 */

const suggestionKinds = [
  "tag",
  "pass",
  "run-of-passes",
  "condition",
  "antenna",
  "tag-model",
  "stray-source",
  "setting",
  "power",
  "radio-setting",
  "time-to-answer",
  "reach",
] as const;
export type SuggestionKind = (typeof suggestionKinds)[number];

export const ratioSchema = z
  .tuple([z.number(), z.number().nullable()])
  .describe(
    "How many times as often it is missed as elsewhere: the ends of the interval at the facility's confidence; no upper end where nothing else was missed.",
  );
export type Ratio = z.infer<typeof ratioSchema>;

const evidenceSchema = z.object({
  missed: count
    .nullable()
    .describe("Presentations of the subject that were missed; null where none are counted."),
  presented: count.nullable(),
  elsewhereMissed: count
    .nullable()
    .describe("Of all other presentations of the read point's sign-off round."),
  elsewherePresented: count.nullable(),
  ratio: ratioSchema.nullable(),
  p: z
    .number()
    .nullable()
    .describe(
      "How often chance alone shows as much, adjusted by Holm over all tests of the read point; null for what the logs state as a fact.",
    ),
});

const suggestionSchema = z
  .object({
    kind: z.enum(suggestionKinds),
    subject: z
      .record(z.string(), z.string())
      .describe(
        "What to look at: tag, pass, from and to (passes), antenna, source, setting, round, since (a round), passes, distance; one or two condition columns with their values; the column of the tag models with the model.",
      ),
    sentence: z.string(),
    evidence: evidenceSchema,
  })
  .describe("Where to look next.");
export type Suggestion = z.infer<typeof suggestionSchema>;

const share = z.number();

const missSharesSchema = z
  .object({ tags: share, passes: share, rest: share })
  .describe(
    "How much of what the misses vary is due to tags, to passes and to neither: two-way moment components, negatives 0, sum 1.",
  );
export type MissShares = z.infer<typeof missSharesSchema>;

export const diagnosisSchema = z
  .object({
    sentence: z.string().describe("What the misses show, or that they show no pattern."),
    missShares: missSharesSchema
      .nullable()
      .describe("Null below three passes, three tags or two misses, or where tags do not repeat."),
    suggestions: z.array(suggestionSchema).max(5).describe("The one that explains most first."),
  })
  .describe("Why the read point missed in its sign-off round, over valid passes.");
export type Diagnosis = z.infer<typeof diagnosisSchema>;
