import { z } from "zod";
import { diagnosisSchema } from "../diagnosis/diagnosis.ts";
import { whySchema } from "../diagnosis/why.ts";
import { powerResultSchema } from "../radio/power-curves.ts";
import { radioResultSchema } from "../radio/radio-settings.ts";
import { text } from "../scalars.ts";
import { stateSchema } from "./finding.ts";
import { remarkSchema } from "./remark.ts";
import { roundResultSchema } from "./round.ts";

export const readPointResultSchema = z.object({
  id: z.string(),
  name: z.string(),
  kind: text,
  at: z.object({ x: z.number(), y: z.number() }).nullable(),
  equipment: z.record(z.string(), z.string()),
  state: stateSchema,
  signOffRound: z.string(),
  remarks: z.array(remarkSchema),
  diagnosis: diagnosisSchema.nullable().describe("Null where there is neither a miss nor a suggestion."),
  why: whySchema.nullable().describe("Null where the logs carry none of its parts."),
  radio: z
    .array(radioResultSchema)
    .exactOptional()
    .describe("By round, as far as facility.yaml states the radio; left out where it does nowhere."),
  rounds: z.array(roundResultSchema).describe("Every declared round, walked or not."),
  power: z
    .array(powerResultSchema)
    .exactOptional()
    .describe("Only where the read point has a power log: by round, in the order of facility.yaml."),
});
export type ReadPointResult = z.infer<typeof readPointResultSchema>;
