import { z } from "zod";
import { count, text } from "../scalars.ts";

export const problemSchema = z
  .object({
    severity: z.enum(["error", "warning"]),
    code: z.string(),
    facility: text,
    file: text,
    sheet: z
      .string()
      .optional()
      .describe("Only in a workbook: the sheet; line and column are then its row and column."),
    line: count.nullable(),
    column: count.nullable(),
    found: z.string(),
    expected: z.string(),
    advice: z.string(),
    count: count
      .optional()
      .describe(
        "Only where it stands for the rest of its cause: how many more there are, which are not listed.",
      ),
  })
  .describe("Something in the inputs that a person should know about; a result holds warnings only.");
