import { z } from "zod";
import { count, uri } from "../scalars.ts";
import { estimateSchema, spreadSchema } from "./figures.ts";

export const heardSchema = z
  .object({
    window: z
      .object({ beforeS: z.number(), afterS: z.number() })
      .describe("How far around its start and end a pass still counts as under way, in seconds."),
    tagsPresented: count,
    tagsRead: count,
    readsPerTag: spreadSchema
      .nullable()
      .describe("Reads of each tag that was presented and read, pass by pass."),
    firstReadMs: spreadSchema
      .nullable()
      .describe("How long after the window of the pass opened each of them was first read."),
    antennas: z.array(
      z.object({
        antenna: z.string(),
        tagsRead: count.describe("Presented tags that it read: what it alone would have caught."),
        onlyHere: count.describe("Presented tags that no other antenna read: what would be lost without it."),
        strongestDbm: spreadSchema.nullable(),
      }),
    ),
    strays: z
      .array(
        z.object({
          tag: z.string(),
          uri,
          bystander: z
            .boolean()
            .describe("Placed near by on purpose: the load says that it is not presented."),
          passes: count,
          reads: count,
          strongestDbm: z.number().nullable(),
        }),
      )
      .describe(
        "Codes read uninvited; one that some passes placed as a bystander and others did not place has two entries.",
      ),
    idle: z
      .object({
        minutes: z.number(),
        heard: z.array(z.object({ minute: z.string(), reads: count, tags: count })),
        stays: z
          .object({
            tags: count,
            meanMinutes: z
              .number()
              .describe(
                "Sum of squares over sum of the minutes that read each tag: the variance is so many times larger.",
              ),
            longestMinutes: z.number().describe("From the first to the last minute that read the tag."),
          })
          .describe("How long tags stayed between the passes."),
        rate: estimateSchema,
      })
      .nullable()
      .describe("What was read between the passes; null where the round has no timed passes there."),
  })
  .describe("What the readers' own logs show of one round at one read point.");
export type HeardSummary = z.infer<typeof heardSchema>;
