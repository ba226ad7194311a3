import { z } from "zod";
import { measures } from "../measures/index.ts";
import type { Sense } from "../model/facility.ts";
import { joined } from "../model/number-words.ts";
import { planSchema } from "./plan-schema.ts";
import { passWindowSchema, readerLogSchema } from "./reader-log-schema.ts";
import { date, day, optional, percent, scalar, text, words } from "./schema-parts.ts";

/*
 * The shape of facility.yaml. What one key says about another (references, limits by measure) is checked
 * afterwards, where both are at hand.
 */

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

const criterionKeys = {
  id: text("Short name of the criterion."),
  title: words("The criterion in words, as the report prints it; the id where left out."),
  measure: z.string(),
  at_least: optional(z.number(), ""),
  at_most: optional(z.number(), ""),
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
};

/** The keys of every criterion, and those that its measure asks for besides. */
export type WrittenCriterion = z.infer<z.ZodObject<typeof criterionKeys>> & { [parameter: string]: unknown };

/** Made when it is needed, from the measures that there are then. */
export function criterionSchema(): z.ZodType<WrittenCriterion> {
  const parameters = measures.all().flatMap(({ criterion }) => Object.entries(criterion?.parameters ?? {}));
  return z.strictObject({
    ...criterionKeys,
    measure: z.enum(measures.ids()).meta({ description: "What is counted." }),
    at_least: optional(z.number(), `The limit from below: ${limitWords("at-least")}.`),
    at_most: optional(z.number(), `The limit from above: ${limitWords("at-most")}.`),
    ...Object.fromEntries(parameters.map(([key, { schema }]) => [key, schema])),
  }) as z.ZodType<WrittenCriterion>;
}

/** `a rate between 0 and 1 (0.99) or dBm for rssi-quantile`: the first scale is that of most measures. */
function limitWords(sense: Sense): string {
  const able = measures.all().filter(({ criterion }) => criterion?.senseless?.sense !== sense);
  const scales = [...new Set(able.map(({ scale }) => scale))];
  const parts = scales.map((scale, i) => {
    const ids = able.filter((measure) => measure.scale === scale).map(({ id }) => id);
    return `${scale.limit[sense].words}${i === 0 ? "" : ` for ${joined(ids)}`}`;
  });
  return joined(parts, "or");
}

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

export const facilitySchema = () =>
  z.strictObject({
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
      z.enum(["wilson", "exact", "beta-binomial", "any-time"]),
      "The interval for rates; wilson where left out, exact is Clopper-Pearson, beta-binomial holds where passes or tags differ more than assumed, any-time however often one looks.",
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
    criteria: optional(z.array(criterionSchema()), "What is asked of the read points."),
    concessions: optional(
      z.array(concessionSchema),
      "Permissions to accept a finding that does not conform.",
    ),
    open_points: optional(z.array(openPointSchema), "What is still to be put right."),
    reader_logs: optional(z.array(readerLogSchema), "Logs that the readers wrote themselves."),
    pass_window: optional(passWindowSchema, "How far around a timed pass reads still belong to it."),
    plan: optional(
      planSchema,
      "How the next walk is meant to be made, and what is expected of the read points.",
    ),
    floor_plan: optional(floorPlanSchema, "The ground the read points stand on, drawn behind them."),
  });

export type WrittenFacility = z.infer<ReturnType<typeof facilitySchema>>;
export type WrittenRound = z.infer<typeof roundSchema>;
export type WrittenReadPoint = z.infer<typeof readPointSchema>;
export type WrittenCondition = z.infer<typeof conditionSchema>;
export type WrittenConcession = z.infer<typeof concessionSchema>;
export type WrittenOpenPoint = z.infer<typeof openPointSchema>;

interface SchemaNode {
  [key: string]: unknown;
}

/** facility.yaml as JSON Schema draft-07, for editors. */
export function facilityJsonSchema(): SchemaNode {
  const schema = z.toJSONSchema(facilitySchema(), {
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

/** The file that editors complete and check facility.yaml with. */
export function facilitySchemaText(): string {
  return `${JSON.stringify(facilityJsonSchema(), null, 2)}\n`;
}
