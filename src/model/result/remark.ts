import { z } from "zod";
import { powerCurveState } from "../radio/power-curves.ts";
import { count } from "../scalars.ts";

export const remarkSchema = z
  .discriminatedUnion("code", [
    z.object({ code: z.literal("no-criterion") }).describe("No criterion covers the read point."),
    z
      .object({ code: z.literal("no-value-walked") })
      .describe("A criterion holds for each value of a condition, and no value was walked yet."),
    z
      .object({ code: z.literal("one-cluster"), dimension: z.enum(["pass", "tag"]) })
      .describe("Every presentation lies in one pass, or on one tag."),
    z
      .object({ code: z.literal("forms-mixed") })
      .describe("Tallies do not name tags, so the finding counts passes only."),
    z
      .object({ code: z.literal("strays-not-recorded"), passes: count })
      .describe("Passes whose log records no strays were left out."),
    z
      .object({ code: z.literal("rssi-not-recorded"), passes: count })
      .describe("Passes whose log records no RSSI were left out."),
    z
      .object({ code: z.literal("own-round"), round: z.string() })
      .describe("The read point is judged on a round that is not the facility's."),
    z
      .object({ code: z.literal("tags-reused"), tags: count, passes: count })
      .describe("Fewer different tags than passes were counted: the same few went through again and again."),
    z
      .object({ code: z.literal("misses-in-a-run"), passes: count, p: z.number() })
      .describe(
        "Neighbouring passes, in the order of their times, have their faults together; `passes` have any. p: how often chance alone puts them so near each other.",
      ),
    z
      .object({
        code: z.literal("worst-pass"),
        worstPass: z.number().describe("The share of its tags that a bad pass misses."),
        passes: count.describe("How many passes it takes for met."),
      })
      .describe("Too few passes for a bad kind of pass, as the criterion describes it, to have come up."),
    z
      .object({
        code: z.literal("session-too-short"),
        longestStayMinutes: z.number(),
        neededMinutes: z.number().describe("How much idle time it takes for met."),
      })
      .describe("The idle time is shorter than twenty times the longest stay of a tag."),
    z
      .object({
        code: z.literal("signal-alike"),
        k: count.describe("Presentations on the good side of the limit."),
        n: count,
        share: z.number().describe("How many must be, 0..1."),
        limitDbm: z.number(),
        sense: z.enum(["at-least", "at-most"]),
      })
      .describe(
        "The bounds of signal strength take presentations as independent; judged as a rate, by an interval that allows for passes and tags that are alike, it would not be met.",
      ),
    z
      .object({ code: z.literal("power-in-use-unknown") })
      .describe("The settings of the round do not state the transmit power in use."),
    z
      .object({
        code: z.literal("no-power-curve"),
        why: powerCurveState.exclude(["fitted"]),
        noneAtDbm: z.number().nullable().describe("The highest power that read no tag."),
        allAtDbm: z.number().nullable().describe("The lowest power that read all tags."),
      })
      .describe("The power log carries no curve that rises with the power."),
    z
      .object({ code: z.literal("power-limits-unbounded") })
      .describe("The share read does not rise clearly enough with the power for limits."),
    z
      .object({
        code: z.literal("power-beyond-steps"),
        neededDbm: z.number(),
        highestDbm: z.number().describe("The highest power measured."),
      })
      .describe("The power needed lies above every power measured."),
    z
      .object({ code: z.literal("power-scatter"), factor: z.number() })
      .describe("Reads scatter about the curve more than chance: variances were multiplied by the factor."),
  ])
  .meta({ id: "Remark", description: "A plain observation beside a figure." });
export type Remark = z.infer<typeof remarkSchema>;
