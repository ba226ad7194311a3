import { z } from "zod";
import { senseSchema } from "../facility.ts";
import { share } from "../scalars.ts";

/*
 * The part of the result that says how much is to be walked and what was walked of it, as zod schemas: the types are made of
 * them, and so is the schema of result.json.
 */

const passes = z.number().int().nullable();

const combination = z
  .record(z.string(), z.string())
  .describe("One combination of conditions that is walked: column and value as the plan writes it.");
export type PlanCell = z.infer<typeof combination>;

const layouts = z
  .enum(["exact", "approximate"])
  .describe("Whether every way in which the faults may lie was counted, or some by a smooth curve.");

const passesForChance = z
  .object({
    chance: share.describe("Of ending in met."),
    passes,
    reached: z.number().nullable().describe("The chance of met with just that many passes."),
    layouts: layouts.nullable(),
  })
  .describe("How many passes end in met so often; null where no number up to the most does.");
export type PassesForChance = z.infer<typeof passesForChance>;

const passesForAll = z
  .object({
    chance: share.describe("Of all findings of the plan ending in met."),
    each: share.describe("What that takes of each of them, were they independent."),
    passes,
    reached: z.number().nullable().describe("The chance of this one being met with just that many passes."),
  })
  .describe(
    "How many passes a finding needs for all of them to be met so often; null where no number will do.",
  );

const twoRounds = z
  .object({
    before: share.describe(
      "The true read rate in the earlier round: lower by the smallest change that matters.",
    ),
    after: share.describe("The expected rate, in the later round."),
    forChance: z.array(
      z.object({
        chance: share.describe("Of the comparison saying better."),
        passes: passes.describe("In each of the two rounds; null where no number up to the most will do."),
        reached: z.number().nullable(),
      }),
    ),
  })
  .describe("How long two rounds have to be for a comparison to tell them apart.");
export type TwoRounds = z.infer<typeof twoRounds>;

const stateChances = z.object({ met: share, undecided: share, notMet: share, layouts });
export type StateChances = z.infer<typeof stateChances>;

const riskPoint = stateChances.extend({
  rate: share.describe("The true rate of what the criterion counts."),
});
export type RiskPoint = z.infer<typeof riskPoint>;

const riskCurve = z
  .object({
    passes: z.number().int(),
    points: z.array(riskPoint).describe("By rising rate."),
    wrongSignOff: z
      .object({ rate: share, chance: share })
      .describe("The chance of met at the limit itself: no worse rate is signed off more often."),
    wrongRefusal: z
      .object({ rate: share, chance: share })
      .describe(
        "The chance of not met at the limit itself, where the true rate only just reaches what is asked.",
      ),
  })
  .describe("How a walk may end at each true rate: its operating characteristic.");
export type RiskCurve = z.infer<typeof riskCurve>;

const plannedFinding = z.object({
  criterion: z.string(),
  readPoint: z.string(),
  group: z.record(z.string(), z.string()).nullable().describe("Column and value; null without for_each."),
  measure: z.string(),
  sense: senseSchema,
  limit: z.number(),
  unit: z.enum(["presentations", "passes"]),
  tagsCounted: z
    .number()
    .int()
    .describe("How many tags of one pass count, in the group that gets the fewest."),
  expected: share.describe("What the read point is expected to do, in what the criterion counts."),
  impossible: z
    .boolean()
    .describe("Not on the good side of the limit: however many passes, met is not to be expected."),
  cells: z.number().int().describe("Combinations of the plan whose passes count; 0 leaves it untested."),
  fewest: z
    .array(z.object({ faults: z.number().int(), passes }))
    .describe("With no fault at all, and with one, two and three; null where out of reach."),
  fewestSameTags: passes.describe("Without a fault, if the same tags went through in every pass."),
  forChance: z.array(passesForChance),
  forAll: z.array(passesForAll),
  risk: riskCurve.nullable().describe("Of the largest of the numbers above; null where there is none."),
});
export type PlannedFinding = z.infer<typeof plannedFinding>;

const plannedReadPoint = z.object({
  readPoint: z.string(),
  cells: z
    .array(z.object({ conditions: combination, passes }))
    .describe(
      "The passes of each combination, so that every finding has its number; null where one has none.",
    ),
  passes,
  untested: z.number().int().describe("Findings for which nothing that is planned counts."),
});
export type PlannedReadPoint = z.infer<typeof plannedReadPoint>;

const facilityPlan = z.object({
  facility: z.object({ id: z.string(), name: z.string() }),
  basis: z.object({ confidence: share, interval: z.string(), missCorrelation: share }),
  seed: z.number().int(),
  tagsPerPass: z.number().int(),
  sameTags: z.boolean(),
  expectedRate: share,
  findings: z
    .array(plannedFinding)
    .describe("By criterion, then read point, in the order of facility.yaml, then group."),
  findingsTogether: z
    .number()
    .int()
    .describe("How many findings planned passes count for: those that `forAll` asks to be met together."),
  twoRounds: twoRounds
    .nullable()
    .describe("Null where no rate is lower than the expected one by the smallest change that matters."),
  unplanned: z
    .array(z.object({ criterion: z.string(), measure: z.string() }))
    .describe("Criteria whose measure a plan cannot size."),
  readPoints: z.array(plannedReadPoint),
});
export type FacilityPlan = z.infer<typeof facilityPlan>;

const cellState = z
  .enum(["done", "short", "missing", "not-asked", "out-of-reach"])
  .describe(
    "done: as many valid passes as planned, with as many tags; short: some, but not enough of either; missing: none; not-asked: no criterion counts it; out-of-reach: no number of passes will do.",
  );
export type CellState = z.infer<typeof cellState>;

const cellWalked = z.object({
  done: z.number().int().describe("Valid passes."),
  tagsDone: z.number().int().describe("Tags that they presented under these conditions."),
});
export type CellWalked = z.infer<typeof cellWalked>;

const cellOfPlan = cellWalked.extend({
  conditions: combination,
  planned: passes.describe("Passes; null where no number of passes will do."),
  state: cellState,
});
export type CellOfPlan = z.infer<typeof cellOfPlan>;

const plannedRoute = z
  .object({
    readPoint: z.string(),
    round: z.string().describe("The round its passes are logged under: the read point's sign-off round."),
    passes: z
      .array(z.object({ pass: z.string(), conditions: combination }))
      .describe(
        "In the random order in which they are to be walked, whatever was walked so far; empty where no number of passes will do.",
      ),
    cells: z.array(cellOfPlan).describe("Planned against done, in the order of the plan."),
  })
  .describe("The passes that one read point is to get, and how far they have come.");
export type PlannedRoute = z.infer<typeof plannedRoute>;

export const planSchema = facilityPlan.extend({
  load: z
    .object({ manifest: z.string(), tags: z.array(z.string()), columns: z.array(z.string()) })
    .nullable()
    .describe(
      "What every pass carries where the plan names a manifest: its tags, and what it states of them.",
    ),
  walks: z.array(plannedRoute).describe("By planned read point, in the order of facility.yaml."),
});
export type PlanResult = z.infer<typeof planSchema>;
