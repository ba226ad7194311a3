import { z } from "zod";
import { count, uri } from "../scalars.ts";
import { estimateSchema } from "./figures.ts";
import { heardSchema } from "./heard.ts";
import { passResultSchema } from "./pass.ts";

const conditionBreakdown = z.object({
  column: z.string(),
  groups: z
    .array(z.object({ value: z.string(), passes: count, tagReadRate: estimateSchema }))
    .describe("In the order of the condition's values; one that was not walked in this round has n = 0."),
});
export type ConditionBreakdown = z.infer<typeof conditionBreakdown>;

const conditionGrid = z.object({
  rowColumn: z.string(),
  columnColumn: z.string(),
  rowValues: z.array(z.string()),
  columnValues: z.array(z.string()),
  cells: z
    .array(z.object({ row: z.string(), column: z.string(), passes: count, tagReadRate: estimateSchema }))
    .describe("Row by row; passes = 0 is a gap: nobody walked it."),
});
export type ConditionGrid = z.infer<typeof conditionGrid>;

const rssiSummary = z.object({
  n: count.describe("How many reads carry an RSSI."),
  minDbm: z.number(),
  q05Dbm: z.number(),
  medianDbm: z.number(),
  q95Dbm: z.number(),
  maxDbm: z.number(),
  binWidthDb: z.number(),
  bins: z
    .array(z.object({ fromDbm: z.number(), count }))
    .describe("Counts in steps of binWidthDb, each from fromDbm (inclusive), without gaps."),
});
export type RssiSummary = z.infer<typeof rssiSummary>;

const missedTag = z.object({
  tag: z.string(),
  uri,
  presented: count,
  missed: count,
  passes: z.array(z.string()).describe("Ids of the valid passes that missed it, in the order walked."),
});
export type MissedTag = z.infer<typeof missedTag>;

export const roundResultSchema = z
  .object({
    id: z.string(),
    passes: count.describe("Valid passes."),
    voidPasses: count,
    tagsPresented: count,
    tagsRead: count,
    tagReadRate: estimateSchema,
    completePassRate: estimateSchema,
    strayPassRate: estimateSchema,
    bystanderReadRate: estimateSchema,
    withVoids: z
      .object({ tagsPresented: count, tagsRead: count, tagReadRate: estimateSchema })
      .describe("The read rate with the void passes counted in; the same where there are none."),
    byCondition: z
      .array(conditionBreakdown)
      .describe("One entry a declared condition, in the order of facility.yaml."),
    grids: z.array(conditionGrid).describe("One entry a pair of declared conditions."),
    rssi: rssiSummary.nullable().describe("Strongest RSSI of the tags read; null where none was recorded."),
    antennas: z
      .array(z.object({ antenna: z.string(), tagsRead: count, medianRssiDbm: z.number().nullable() }))
      .describe("Tags read by the antenna that the log names, in natural order."),
    heard: heardSchema
      .nullable()
      .describe("What the readers' own logs show, over valid timed passes; null where none was walked."),
    missedTags: z
      .array(missedTag)
      .describe("Most often missed first, then fewest presented, then by code point."),
    passList: z
      .array(passResultSchema)
      .describe("In the order walked: by start, then by pass id in natural order."),
  })
  .describe("What one round showed at one read point.");
export type RoundResult = z.infer<typeof roundResultSchema>;
