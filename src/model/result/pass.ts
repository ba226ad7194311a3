import { z } from "zod";
import { count, text } from "../scalars.ts";

const instant = text.describe("ISO 8601 in UTC with a Z; null where the log states none.");
const wallClock = text.describe("The same as the clock on the facility's wall, YYYY-MM-DD HH:MM:SS.");

export const passResultSchema = z.object({
  id: z.string(),
  form: z.string().describe("The form of its log: itemised, listed, tally or timed."),
  readsFrom: z
    .enum(["pass-log", "reader-log"])
    .describe("Whether the pass log itself says which tags were read, or the reader's own log."),
  startedAt: instant,
  endedAt: instant,
  startedAtLocal: wallClock,
  endedAtLocal: wallClock,
  voidReason: text.describe("Why the pass does not count; null for a valid pass."),
  walkedBy: z.array(z.string()),
  notes: z.array(z.string()),
  conditions: z
    .record(z.string(), z.array(z.string()))
    .describe("By condition column: the names of the values that its presented tags were walked under."),
  extras: z.array(z.object({ column: z.string(), values: z.array(z.string()) })),
  tagsPresented: count,
  tagsRead: count,
  reads: count
    .nullable()
    .describe(
      "How often the presented tags were read, all together; null where no log says it of each that was read.",
    ),
  strongestDbm: z
    .number()
    .nullable()
    .describe("The strongest RSSI of a presented tag; null where none was recorded."),
  firstReadMs: z
    .number()
    .nullable()
    .describe(
      "How long after the window of the pass opened the first presented tag was read; null where no reader's log says it.",
    ),
  antennas: z
    .array(z.string())
    .describe("The antennas that the log names for presented tags that were read, in natural order."),
  missedTags: z
    .array(z.string())
    .nullable()
    .describe("Codes missed, by code point; null where the log only counts them."),
  strayTags: z
    .array(z.string())
    .nullable()
    .describe("Codes read uninvited, by code point; null where the log names none."),
  strays: count.nullable().describe("How many strays; null where strays were not recorded."),
  bystandersPresented: count,
  manifest: text,
  file: z.string(),
});
export type PassResult = z.infer<typeof passResultSchema>;
