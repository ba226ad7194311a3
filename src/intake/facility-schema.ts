import { z } from "zod";

/*
 * The shape of facility.yaml. What one key says about another (references, limits by measure) is checked
 * afterwards, where both are at hand.
 */

/** Ids, names and the like: digits are accepted as they were typed. */
const filled = z.string().regex(/\S/);
const text = (description: string) => filled.meta({ description, digitsToo: true });
const optional = <T extends z.ZodType>(schema: T, description: string) =>
  schema.nullish().meta({ description });
const date = (description: string) => z.iso.date().meta({ description });
const words = (description: string) => optional(filled.meta({ digitsToo: true }), description);
const day = (description: string) => optional(z.iso.date(), description);
const scalar = z.union([z.string(), z.number(), z.boolean(), z.null()]);
const percent = (description: string) => z.number().min(0).max(100).meta({ description });

const party = z.strictObject({
  name: text("The person's name."),
  organisation: words("Whom the person acts for."),
  role: words("In what capacity, for instance commissioning engineer."),
});

export const roundSchema = z.strictObject({
  id: text("Short name of the round, as the pass logs write it."),
  title: words("How the round is called on the pages; the id where left out."),
  date: day("The day the round was walked, YYYY-MM-DD."),
  changes: words("What was changed before this round, in words."),
  settings: optional(
    z.record(z.string(), z.record(z.string(), scalar).nullable()),
    "Settings of the readers in this round: by read point, any keys.",
  ),
});

export const readPointSchema = z.strictObject({
  id: text("Short name of the read point, as the pass logs write it."),
  name: words("How the read point is called on the pages; the id where left out."),
  kind: words("What kind of read point it is, for instance dock door."),
  at: optional(
    z.strictObject({ x: percent("From the left edge."), y: percent("From the top edge.") }),
    "Where it stands on the floor plan, in percent of its width and depth.",
  ),
  equipment: optional(z.record(z.string(), scalar), "What is installed: reader, serial, firmware, any keys."),
  sign_off_round: words("The round this read point is judged on, where it is not the facility's."),
});

export const conditionSchema = z.strictObject({
  column: text("The column of the pass log or manifest."),
  label: words("How the condition is called on the pages; the column's name where left out."),
  unit: words("The unit of its numbers, for instance m/s."),
  bands: optional(
    z.array(z.number()).min(2),
    "Rising edges that cut the numbers into bands; without them the column is read as text.",
  ),
});

const range = z.strictObject({
  from: optional(z.number(), "The lowest value taken."),
  to: optional(z.number(), "The highest value taken."),
});

const measureNames = [
  "tag-read-rate",
  "complete-pass-rate",
  "stray-pass-rate",
  "bystander-read-rate",
  "agreement-rate",
  "rssi-quantile",
  "idle-read-rate",
] as const;

export const criterionSchema = z.strictObject({
  id: text("Short name of the criterion."),
  title: words("The criterion in words, as the report prints it; the id where left out."),
  measure: z.enum(measureNames).meta({ description: "What is counted." }),
  at_least: optional(
    z.number(),
    "The limit from below: a rate between 0 and 1 (0.99), or dBm for rssi-quantile.",
  ),
  at_most: optional(
    z.number(),
    "The limit from above: a rate between 0 and 1 (0.01), dBm for rssi-quantile, tags a minute for idle-read-rate.",
  ),
  read_points: optional(
    z.array(text("A read point's id.")).min(1),
    "The read points it is asked of; every one where left out.",
  ),
  where: optional(
    z.record(z.string(), z.union([scalar, z.array(scalar).min(1), range])),
    "Which rows it takes: by condition column a value, a list of values, or a range {from, to}, both inclusive.",
  ),
  for_each: optional(
    z.array(text("A condition's column.")).min(1),
    "Condition columns whose every value must hold on its own.",
  ),
  minimum_passes: optional(z.int().min(1), "Fewer valid passes than this leave it untested."),
  quantile: optional(z.number(), "For rssi-quantile: which quantile, between 0 and 1 (0.05)."),
  observed: words("For agreement-rate: the column that says what the read point concluded."),
  expected: words("For agreement-rate: the column that says what was true."),
});

export const concessionSchema = z.strictObject({
  criterion: text("The criterion's id."),
  read_point: text("The read point's id."),
  granted_by: text("Who granted it."),
  on: day("The day it was granted, YYYY-MM-DD."),
  until: day("The last day it holds, YYYY-MM-DD."),
  reason: words("Why."),
});

export const openPointSchema = z.strictObject({
  id: text("Short name of the open point."),
  read_point: words("The read point it concerns."),
  text: text("What is still to be put right."),
  owner: words("Who is to do it."),
  due: day("By when, YYYY-MM-DD."),
  closed: day("The day it was put right, YYYY-MM-DD; blank while it is open."),
});

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

const passWindowSchema = z.strictObject({
  before_s: optional(z.number().min(0), "Seconds before its start that belong to a pass."),
  after_s: optional(z.number().min(0), "Seconds after its end that belong to a pass."),
});

export const planSchema = z.strictObject({
  seed: optional(z.int().min(0), "Fixes the random order of the passes; 1 where left out."),
  tags_per_pass: z.int().min(1).max(10_000).meta({ description: "Tags carried through in one pass." }),
  manifest: optional(
    text("A file's name in manifests/, without .csv."),
    "The load that every pass carries: it presents as many tags as tags_per_pass says.",
  ),
  same_tags: optional(
    z.boolean(),
    "Whether the same tags go through in every pass. Where left out, they do with a manifest; without one, other tags each time.",
  ),
  expected_rate: z.number().meta({
    description:
      "The share of tags that a well-tuned read point is believed to read, between 0 and 1 (0.998).",
  }),
  each: optional(
    z.record(z.string(), z.array(scalar).min(1)),
    "By condition column the values to walk; every combination of them is walked.",
  ),
  read_points: optional(
    z.array(text("A read point's id.")).min(1),
    "The read points to be walked; every one where left out.",
  ),
});

const floorPlanSchema = z.strictObject({
  width_m: z.number().positive().meta({ description: "Width of the drawing in metres." }),
  depth_m: z.number().positive().meta({ description: "Depth of the drawing in metres." }),
  areas: optional(
    z.array(
      z.strictObject({
        name: text("What the area is."),
        x: percent("Its left edge."),
        y: percent("Its top edge."),
        width: percent("Its width."),
        height: percent("Its depth."),
      }),
    ),
    "Outlines drawn behind the read points, in percent of the plan.",
  ),
});

export const facilitySchema = z.strictObject({
  name: text("The facility's name."),
  client: words("For whom the work is done."),
  address: words("Where the facility is."),
  time_zone: words(
    "IANA name of its time zone, for instance Europe/Dublin; needed where a log states times without offset.",
  ),
  report: optional(
    z.strictObject({
      number: text("The report's number."),
      revision: text("Its revision."),
      issued: date("Its date of issue, YYYY-MM-DD."),
    }),
    "What identifies the report. The date of issue is stated here and never taken from the clock.",
  ),
  prepared_by: optional(party, "Who prepared the report."),
  witnessed_by: optional(z.array(party), "Who witnessed the passes."),
  confidence: optional(z.number(), "Two-sided confidence of every interval; 0.95 where left out."),
  interval: optional(
    z.enum(["wilson", "exact", "any-time"]),
    "The interval for rates; wilson where left out, exact is Clopper-Pearson, any-time holds however often one looks.",
  ),
  miss_correlation: optional(
    z.number(),
    "How alike presentations of one pass, or of one tag, are taken to be at the least; 0.02 where left out.",
  ),
  smallest_change_that_matters: optional(
    z.number(),
    "The smallest change of the read rate between rounds that anybody would act on; 0.005 where left out.",
  ),
  rounds: z.array(roundSchema).min(1).meta({
    description: "Campaigns of passes, each with one set of settings, in the order they were walked.",
  }),
  sign_off_round: words("The round that is judged; the last one where left out."),
  read_points: z
    .array(readPointSchema)
    .meta({ description: "The read points, in the order the report shows them." }),
  conditions: optional(
    z.array(conditionSchema),
    "Columns that say how a pass was made, or how a tag sat in it.",
  ),
  criteria: optional(z.array(criterionSchema), "What is asked of the read points."),
  concessions: optional(z.array(concessionSchema), "Permissions to accept a finding that does not conform."),
  open_points: optional(z.array(openPointSchema), "What is still to be put right."),
  reader_logs: optional(z.array(readerLogSchema), "Logs that the readers wrote themselves."),
  pass_window: optional(passWindowSchema, "How far around a timed pass reads still belong to it."),
  plan: optional(
    planSchema,
    "How the next walk is meant to be made, and what is expected of the read points.",
  ),
  floor_plan: optional(floorPlanSchema, "The ground the read points stand on, drawn behind them."),
});

export type WrittenFacility = z.infer<typeof facilitySchema>;
export type WrittenRound = z.infer<typeof roundSchema>;
export type WrittenReadPoint = z.infer<typeof readPointSchema>;
export type WrittenCondition = z.infer<typeof conditionSchema>;
export type WrittenCriterion = z.infer<typeof criterionSchema>;
export type WrittenConcession = z.infer<typeof concessionSchema>;
export type WrittenReaderLog = z.infer<typeof readerLogSchema>;
export type WrittenPlan = z.infer<typeof planSchema>;
export type WrittenOpenPoint = z.infer<typeof openPointSchema>;

interface SchemaNode {
  [key: string]: unknown;
}

/** facility.yaml as JSON Schema draft-07, for editors. */
export function facilityJsonSchema(): SchemaNode {
  const schema = z.toJSONSchema(facilitySchema, {
    target: "draft-7",
    io: "input",
    override: ({ jsonSchema }) => {
      const node = jsonSchema as SchemaNode;
      if (node.digitsToo === true) {
        node.type = ["string", "number"];
        delete node.digitsToo;
      }
      // Editors check dates by their format; the pattern behind it explains nothing to anybody.
      if (node.format === "date") delete node.pattern;
    },
  });
  return { ...schema, title: "facility.yaml", description: "One facility whose read points are tested." };
}
