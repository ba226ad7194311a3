import { z } from "zod";
import { count, share, text } from "../scalars.ts";

const plannedRuns = z.object({
  criterion: z.string(),
  leg: text,
  unit: z.enum(["runs", "items"]).describe("What a trial is."),
  tagsPerRun: count,
  expected: share,
  limit: z.number(),
  impossible: z
    .boolean()
    .describe("What is expected is not on the good side of the limit: no number of runs will do."),
  fewest: z
    .array(z.object({ faults: count, runs: count.nullable() }))
    .describe("Runs for met with no fault at all, and with one, two and three; null where out of reach."),
  forChance: z
    .array(z.object({ chance: share, runs: count.nullable() }))
    .describe("How many runs end in met so often; null where no number up to the most does."),
});
export type PlannedRuns = z.infer<typeof plannedRuns>;

const unplanned = z
  .object({
    criterion: z.string(),
    measure: z.string(),
    unit: z.enum(["items", "sightings"]).describe("What a trial is."),
    trialsPerRun: count.describe(
      "Items of one run; or sightings, if each item is seen once on every leg that is not optional, or on the one leg that the criterion holds for, and each tells when the site knew.",
    ),
    fewest: z
      .array(z.object({ faults: count, trials: count.nullable(), runs: count.nullable() }))
      .describe("For met with no fault at all, and with one, two and three; null where out of reach."),
  })
  .describe("A criterion whose chance to be met the plan does not tell.");
export type UnplannedRuns = z.infer<typeof unplanned>;

export const journeyPlanSchema = z
  .object({
    tagsPerRun: count,
    sameTags: z.boolean(),
    expectedRate: share,
    expectedOrderRate: share.nullable(),
    findings: z.array(plannedRuns),
    unplanned: z.array(unplanned),
    forAll: z
      .array(z.object({ chance: share, each: share, runs: count.nullable() }))
      .describe(
        "How many runs end so often in met for all of `findings` together, each of them in a share `each` of cases; null where no number up to the most does.",
      ),
    runs: count
      .nullable()
      .describe(
        "The last of `forAll`, and so many that every criterion can be met without a fault; null where one has none.",
      ),
    runsDone: count.describe("Valid runs of the sign-off round."),
  })
  .describe("How many runs it takes.");
export type JourneyPlanResult = z.infer<typeof journeyPlanSchema>;
