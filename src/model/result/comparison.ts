import { z } from "zod";
import { count, groupOf, text, uri } from "../scalars.ts";
import { differenceSchema, estimateSchema } from "./figures.ts";

const pairTable = z
  .object({ readBoth: count, readOnlyBefore: count, readOnlyAfter: count, missedBoth: count })
  .describe("Presentations of the same tag in the same pass under the same conditions, once in each round.");
export type PairTable = z.infer<typeof pairTable>;

const tagCount = z.object({ presented: count, missed: count });

const changedTag = z.object({ tag: z.string(), uri, before: tagCount, after: tagCount });
export type ChangedTag = z.infer<typeof changedTag>;

const tagChanges = z
  .object({
    inBoth: count.describe("How many tags both rounds presented."),
    missedInBoth: count.describe("How many of them both rounds missed at least once."),
    newlyMissed: z.array(changedTag).describe("Read every time before, missed at least once after."),
    newlyRead: z.array(changedTag).describe("Missed at least once before, read every time after."),
  })
  .describe("What became of the tags that both rounds presented.");
export type TagChanges = z.infer<typeof tagChanges>;

export const changeSchema = z.enum([
  "better",
  "worse",
  "no-change-that-matters",
  "no-change-shown",
  "not-comparable",
]);
export type Change = z.infer<typeof changeSchema>;

const comparisonReason = z
  .discriminatedUnion("code", [
    z
      .object({ code: z.literal("not-walked"), round: z.string() })
      .describe("No valid pass of the round presented a tag there: nothing to compare."),
    z
      .object({ code: z.literal("no-common-conditions") })
      .describe("Both rounds were walked, but under no combination of conditions that the other one was."),
    z
      .object({
        code: z.literal("conditions-left-out"),
        round: z.string(),
        presentations: count.describe("How many of the round's presentations lie there."),
        ofPresentations: count,
        combinations: count,
        examples: z
          .array(z.record(z.string(), text))
          .describe("The first of them, by column; null stands for a blank."),
      })
      .describe("Combinations of conditions that only this round walked were left out."),
    z
      .object({ code: z.literal("mix-differs") })
      .describe(
        "The rounds divide their presentations differently among the conditions: the earlier was weighted.",
      ),
    z
      .object({ code: z.literal("tags-differ"), inBoth: count, onlyBefore: count, onlyAfter: count })
      .describe("How many tags were presented in both rounds, and how many in one only."),
    z
      .object({ code: z.literal("tags-not-named"), rounds: z.array(z.string()) })
      .describe("The logs of these rounds do not name every tag, so whether they are the same is not known."),
    z
      .object({ code: z.literal("partly-paired"), pairs: count, before: count, after: count })
      .describe(
        "Half or more of a round have a partner in the other and the rest have none: none were paired.",
      ),
    z
      .object({ code: z.literal("one-cluster"), round: z.string(), dimension: z.enum(["pass", "tag"]) })
      .describe("Every compared presentation of the round lies in one pass, or on one tag."),
    z
      .object({
        code: z.literal("settings-differ"),
        settings: z.array(z.object({ setting: z.string(), before: text, after: text })),
      })
      .describe("The read point's settings as the rounds state them; null where a round does not name one."),
    z
      .object({ code: z.literal("settings-not-stated"), round: z.string() })
      .describe("Only the other round states settings of the read point."),
  ])
  .describe("What stands in the way of comparing two rounds, or was done about it; `round` is a round's id.");
export type ComparisonReason = z.infer<typeof comparisonReason>;

export const comparisonSchema = z
  .object({
    readPoint: z.string(),
    before: z.string().describe("The earlier round's id."),
    after: z.string().describe("The later round's id."),
    group: groupOf.describe("One column and value in an exploratory row; null for the whole read point."),
    exploratory: z.boolean().describe("One of many looks at where a change lies: one alone proves little."),
    design: z.enum(["paired", "independent"]).nullable().describe("Null where not comparable."),
    standardised: z
      .boolean()
      .describe("Whether the earlier round was weighted to the later one's mix of conditions."),
    difference: differenceSchema.describe(
      "After less before, in fractions: above 0 is a gain. Null where not comparable.",
    ),
    estimates: z
      .object({ before: estimateSchema, after: estimateSchema })
      .nullable()
      .describe(
        "Both rates over what is compared; a weighted round has the weighted rate, k and n as counted.",
      ),
    pairs: pairTable.nullable().describe("Null where the design is not paired."),
    p: z
      .number()
      .nullable()
      .describe("Two-sided: how surprising a difference as large would be if nothing had changed."),
    pAdjusted: z
      .number()
      .nullable()
      .describe(
        "By Holm over the exploratory rows of this read point and pair of rounds; null for the whole.",
      ),
    test: z.enum(["mcnemar", "fisher", "difference"]).nullable().describe("Where p comes from."),
    change: changeSchema,
    tags: tagChanges
      .nullable()
      .describe("Only for the whole; null where not comparable or where the logs do not name every tag."),
    reasons: z.array(comparisonReason),
  })
  .describe("What became of the read rate of one read point between two rounds.");
export type Comparison = z.infer<typeof comparisonSchema>;
