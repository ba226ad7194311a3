import { z } from "zod";
import { pictureSchema } from "./picture.ts";

const count = z.number().int();

export const inputFileSchema = z.object({
  path: z.string().describe("Relative to the facility's folder, with /."),
  sha256: z.string(),
  bytes: count,
  rows: count.nullable().describe("Rows of data; null for facility.yaml."),
  used: count.nullable().describe("Rows that entered the figures."),
  void: count.nullable().describe("Rows of void passes."),
  reader: z
    .object({
      repeated: count,
      elsewhere: count,
      otherEvents: count
        .exactOptional()
        .describe("Rows that are other events than reads, where the log's entry says which rows are reads."),
      refused: count,
    })
    .exactOptional()
    .describe("Only for readers' own logs: rows = used + repeated + elsewhere + otherEvents + refused."),
  picture: pictureSchema.exactOptional(),
});
export type InputFile = z.infer<typeof inputFileSchema>;

export const journeyRunsSchema = z
  .object({
    id: z.string(),
    timeZone: z
      .string()
      .nullable()
      .describe("Of the times of its runs that state no offset; null where each must."),
    pseudonyms: z.boolean().describe("Whether its files hold names that its own pages do not."),
    inputs: z
      .array(inputFileSchema)
      .describe("Its YAML and its runs.csv; paths are relative to the data folder."),
  })
  .describe("A journey with a leg here: what readers heard of its tags meanwhile is not idle.");
export type JourneyRuns = z.infer<typeof journeyRunsSchema>;
