import { z } from "zod";
import { filled, optional, words } from "./schema-parts.ts";

/* How facility.yaml describes the logs that readers wrote themselves. */

const columnName = z.union([filled, z.int().min(1)]);

export const readerLogSchema = z.strictObject({
  files: z
    .union([filled, z.array(filled).min(1)])
    .meta({ description: "Paths below the facility's folder; * stands for any characters in a name." }),
  read_point: z
    .union([
      filled,
      z.strictObject({
        column: columnName.meta({ description: "The column that names the reader." }),
        values: z.record(z.string(), z.string()).meta({ description: "Read point by the column's value." }),
      }),
    ])
    .meta({ description: "The read point of the files, or the column and values that tell it row by row." }),
  columns: z
    .strictObject({
      time: columnName.meta({ description: "When the tag was heard." }),
      epc: columnName.meta({ description: "The tag's code." }),
      antenna: optional(columnName, "Which antenna heard it."),
      rssi: optional(columnName, "How strong it was heard."),
      count: optional(columnName, "How many reads a row stands for; one where left out."),
    })
    .meta({ description: "Columns by name, or by number from 1 where there is no header." }),
  time: optional(
    z.strictObject({
      unit: optional(
        z.enum(["iso", "s", "ms", "us", "ns"]),
        "iso for date and time in words; else since 1970.",
      ),
      zone: words("IANA zone of times that state no offset; the facility's where left out."),
      format: words("Pattern of odd times, in strftime notation."),
    }),
    "How the log writes times.",
  ),
  rssi_unit: optional(z.enum(["dBm", "cdBm"]), "dBm, or cdBm for hundredths of it."),
  epc_form: optional(
    z.enum(["hex", "pc-epc", "pc-epc-crc", "base64"]),
    "How codes are written: hexadecimal, with the PC word before, with the CRC behind too, or base64.",
  ),
  delimiter: optional(z.string().length(1), "What parts the columns; a comma where left out."),
  decimal: optional(z.enum([".", ","]), "The decimal mark; a point where left out."),
  header: optional(
    z.enum(["yes", "no", "commented"]),
    "Whether names head the columns, and whether in a comment.",
  ),
  clock_offset_s: optional(z.number(), "Seconds added to the reader's clock to give the pass sheet's."),
});

export const passWindowSchema = z.strictObject({
  before_s: optional(z.number().min(0), "Seconds before its start that belong to a pass."),
  after_s: optional(z.number().min(0), "Seconds after its end that belong to a pass."),
});

export type WrittenReaderLog = z.infer<typeof readerLogSchema>;
