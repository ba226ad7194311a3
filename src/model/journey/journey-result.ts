import { z } from "zod";
import { criterionSchema, partySchema, reportSchema, roundSchema } from "../facility.ts";
import { inputFileSchema } from "../record/input-file.ts";
import { changeSchema } from "../result/comparison.ts";
import { basisSchema, differenceSchema, estimateSchema } from "../result/figures.ts";
import { findingSchema, otherwiseSchema, stateSchema } from "../result/finding.ts";
import { problemSchema } from "../result/problem.ts";
import { count, text } from "../scalars.ts";
import { itemSchema, lostItemSchema, wrongPlaceSchema } from "./item.ts";
import { carrierRuleSchema } from "./journey.ts";
import { journeyPlanSchema } from "./plan.ts";
import { promiseSchema } from "./promise.ts";
import { journeyRoundSchema, legResultSchema } from "./round.ts";

/*
 * The archived object of a journey, as zod schemas: the types are made of them, and so is schemas/journey-result.schema.json.
 * Keys and figures are those of a facility's result wherever they mean the same.
 */

const remark = z
  .discriminatedUnion("code", [
    z
      .object({ code: z.literal("outside-bounds"), side: z.enum(["below", "above"]), surely: z.boolean() })
      .describe(
        "The share of whole journeys is none that the read points' walks allow: they did not show what the operation does.",
      ),
    z
      .object({ code: z.literal("not-walked"), legs: z.array(z.string()) })
      .describe("Read points of these legs were not walked by themselves, so nothing is promised."),
    z
      .object({ code: z.literal("runs-without-sighting"), runs: z.array(z.string()), count })
      .describe("No item of these runs was seen anywhere: the first of them, and how many."),
    z
      .object({
        code: z.literal("clocks-differ"),
        from: z.string(),
        to: z.string(),
        items: count,
        of: count,
        medianS: z.number(),
      })
      .describe(
        "Most items were seen on leg `to` before leg `from` of another facility: their clocks hardly agree.",
      ),
    z
      .object({ code: z.literal("known-before-seen"), sightings: count })
      .describe("Sightings that the site knew of before they were made: two clocks."),
    z
      .object({ code: z.literal("no-criterion") })
      .describe("Nothing is asked of the journey, so it is untested."),
  ])
  .describe("A plain observation on the journey as a whole.");
export type JourneyRemark = z.infer<typeof remark>;

const journeyFinding = findingSchema
  .extend({ readPoint: z.null().describe("A journey is no read point.") })
  .describe("One criterion, on one leg where it holds for each of them; passes are runs.");
export type JourneyFinding = z.infer<typeof journeyFinding>;

const comparison = z
  .object({
    measure: z.string(),
    leg: text.describe("Null for the journey as a whole."),
    before: z.string().describe("The earlier round's id."),
    after: z.string().describe("The later round's id."),
    estimates: z.object({ before: estimateSchema, after: estimateSchema }),
    difference: differenceSchema.describe(
      "After less before, in fractions. Null where a round has nothing to compare.",
    ),
    p: z
      .number()
      .nullable()
      .describe("Two-sided: how surprising a difference as large would be if nothing had changed."),
    change: changeSchema,
  })
  .describe("What became of a rate between two rounds.");
export type JourneyComparison = z.infer<typeof comparison>;

export const journeyResultSchema = z.object({
  schemaVersion: z.literal(1),
  tool: z.object({ name: z.literal("proofwalk"), version: z.string() }),
  id: z.string(),
  title: z.string(),
  client: text,
  report: reportSchema.nullable(),
  preparedBy: partySchema.nullable(),
  witnessedBy: z.array(partySchema),
  pseudonyms: z
    .object({ listHeldBy: text.describe("Who knows the names: the organisation that prepared the report.") })
    .exactOptional()
    .describe("Only where initials and numbers stand for the names of people and for carriers."),
  basis: basisSchema,
  signOffRound: z.string(),
  state: stateSchema,
  rounds: z.array(roundSchema),
  facilities: z
    .array(
      z.object({
        id: z.string(),
        name: z.string(),
        timeZone: text,
        state: stateSchema
          .nullable()
          .describe("Of its own result; null for one of no leg, which is not judged for the journey."),
        pseudonyms: z.boolean().describe("Whether its files hold names that its own pages do not."),
        readPoints: z
          .array(z.object({ id: z.string(), name: z.string() }))
          .describe(
            "All of them in the order of its facility.yaml: an item may be seen at any, not only at those of legs.",
          ),
        inputs: z
          .array(inputFileSchema)
          .describe(
            "The files that it was judged on, those of other journeys over it too; of one of no leg its facility.yaml. Paths are relative to the data folder.",
          ),
      }),
    )
    .describe("The facilities that the YAML or the sightings name, by code point."),
  carrier: carrierRuleSchema.nullable(),
  criteria: z.array(criterionSchema),
  legs: z.array(legResultSchema).describe("In the order in which they are expected."),
  findings: z.array(journeyFinding).describe("By criterion in the order of the file, then leg."),
  otherwise: otherwiseSchema,
  promise: promiseSchema,
  remarks: z.array(remark),
  roundResults: z.array(journeyRoundSchema).describe("Every declared round, made or not."),
  items: z.array(itemSchema).describe("Void ones too; by round, start, run and tag."),
  lost: z
    .array(lostItemSchema)
    .describe("Of the sign-off round, void ones left out; in the order of the items."),
  wrongPlaces: z
    .array(wrongPlaceSchema)
    .describe("Of the sign-off round, void ones left out; by item and time."),
  sightings: z
    .object({ told: count, used: count, repeated: count, outsideRuns: count, otherTags: count })
    .describe(
      "What became of everything that tells of sightings: told = used + repeated + outsideRuns + otherTags.",
    ),
  comparisons: z.array(comparison),
  plan: journeyPlanSchema.nullable().describe("Null where the journey plans nothing."),
  problems: z.array(problemSchema),
  inputs: z.array(inputFileSchema).describe("Paths are relative to the data folder."),
});

/** The archived object of a journey: every page on it is a function of it. */
export type JourneyResult = z.infer<typeof journeyResultSchema>;

/** The text of schemas/journey-result.schema.json. Keys may be added without a new version, so unknown ones are let through. */
export function journeyResultSchemaText(): string {
  const schema = z.toJSONSchema(journeyResultSchema, { target: "draft-7", io: "input" });
  return `${JSON.stringify({ title: "Proofwalk journey result", ...schema }, null, 2)}\n`;
}
