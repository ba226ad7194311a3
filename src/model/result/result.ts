import { z } from "zod";
import {
  conditionSchema,
  criterionSchema,
  floorPlanSchema,
  openPointSchema,
  partySchema,
  reportSchema,
  retestSchema,
  roundSchema,
} from "../facility.ts";
import { inputFileSchema, journeyRunsSchema } from "../record/input-file.ts";
import { attachmentSchema } from "../record/picture.ts";
import { recordSchema } from "../record/record.ts";
import { text } from "../scalars.ts";
import { comparisonSchema } from "./comparison.ts";
import { basisSchema } from "./figures.ts";
import { concessionResultSchema, findingSchema, otherwiseSchema, stateSchema } from "./finding.ts";
import { planSchema } from "./plan.ts";
import { problemSchema } from "./problem.ts";
import { readPointResultSchema } from "./read-point.ts";

/*
 * The archived object, as zod schemas: the types are made of them, and so is schemas/result.schema.json. Whoever only needs a
 * type imports it as one, and loads no zod.
 */

export const resultSchema = z.object({
  schemaVersion: z.literal(1),
  tool: z.object({ name: z.literal("proofwalk"), version: z.string() }),
  facility: z.object({
    id: z.string(),
    name: z.string(),
    client: text,
    address: text,
    timeZone: text.describe("IANA name."),
    floorPlan: floorPlanSchema.nullable(),
  }),
  report: reportSchema.nullable(),
  preparedBy: partySchema.nullable(),
  pseudonyms: z
    .object({ listHeldBy: text.describe("Who knows the names: the organisation that prepared the report.") })
    .exactOptional()
    .describe("Only where initials and numbers stand for the names of people and their badges."),
  witnessedBy: z.array(partySchema),
  retest: retestSchema
    .nullable()
    .describe("When the read points are to be tested again; null where facility.yaml gives no day."),
  signOff: z
    .object({ readPoints: z.array(z.string()), otherwise: otherwiseSchema })
    .nullable()
    .describe("The read points that the sheet is for; null where it is for all of them."),
  basis: basisSchema,
  signOffRound: z.string().describe("The facility's."),
  state: stateSchema,
  rounds: z.array(roundSchema),
  conditions: z.array(conditionSchema),
  criteria: z.array(criterionSchema),
  readPoints: z.array(readPointResultSchema).describe("In the order of facility.yaml."),
  findings: z
    .array(findingSchema)
    .describe("By criterion, then read point, in the order of facility.yaml, then group."),
  otherwise: otherwiseSchema,
  comparisons: z
    .array(comparisonSchema)
    .describe("By read point and pair of rounds: the whole, then each value of each condition."),
  plan: planSchema
    .nullable()
    .describe("How much is to be walked, and what was; null where facility.yaml plans nothing."),
  concessions: z.array(concessionResultSchema),
  openPoints: z.array(openPointSchema),
  problems: z.array(problemSchema),
  inputs: z.array(inputFileSchema),
  journeys: z
    .array(journeyRunsSchema)
    .exactOptional()
    .describe("Only where the readers' logs were read with journeys in mind; by id."),
  attachments: z
    .array(attachmentSchema)
    .exactOptional()
    .describe(
      "Photographs and drawings; left out where the facility has none. Their files are among the inputs.",
    ),
  record: recordSchema
    .exactOptional()
    .describe("Only where facility.yaml states revisions, corrections, or anything of a reader's clock."),
});

/** The archived object: complete and versioned; every page is a function of it. */
export type Result = z.infer<typeof resultSchema>;

/** The text of schemas/result.schema.json. Keys may be added to results without a new version, so unknown ones are let through. */
export function resultSchemaText(): string {
  const schema = z.toJSONSchema(resultSchema, { target: "draft-7", io: "input" });
  return `${JSON.stringify({ title: "Proofwalk result", ...schema }, null, 2)}\n`;
}
