import { z } from "zod";
import { editorSchema } from "../yaml/editor-schema.ts";
import { date, optional, percent, text, words } from "../yaml/shape.ts";
import { concessionSchema, openPointSchema } from "./agreements.ts";
import { conditionSchema } from "./conditions.ts";
import { criterionSchema } from "./criterion.ts";
import { attachmentSchema, floorPlanImage } from "./pictures.ts";
import { planSchema } from "./plan.ts";
import { readPointSchema } from "./read-points.ts";
import { passWindowSchema, readerLogSchema } from "./reader-logs.ts";
import { correctionSchema, revisionSchema } from "./record.ts";
import { judgingKeys, partySchema, reportShape } from "./report.ts";
import { roundSchema } from "./rounds.ts";

/*
 * The shape of facility.yaml. What one key says about another (references, limits by measure) is checked
 * afterwards, where both are at hand.
 */

const floorPlanSchema = z.strictObject({
  image: floorPlanImage,
  width_m: z.number().positive().meta({ description: "Width of the drawing in metres." }),
  depth_m: optional(
    z.number().positive(),
    "Depth of the drawing in metres; left out with image, whose shape gives it.",
  ),
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
    client: words("The client the work is done for."),
    address: words("Where the facility is."),
    time_zone: words(
      "IANA name of its time zone, for example Europe/Dublin; needed if a log states times without offset.",
    ),
    report: reportShape(),
    prepared_by: optional(partySchema, "Who prepared the report."),
    witnessed_by: optional(z.array(partySchema), "Who witnessed the passes."),
    retest: optional(
      z.strictObject({
        on: date("The day, YYYY-MM-DD."),
        why: words("Why then, for example: yearly, or after any change of antennas."),
      }),
      "When the read points are to be tested again; it is printed on the sheet.",
    ),
    sign_off: optional(
      z.array(text("The id of a read point.")).min(1),
      "The read points that the sheet is for, by id; all of them if left out.",
    ),
    ...judgingKeys({ alike: "presentations of one pass, or of one tag", rate: "the read rate" }),
    rounds: z.array(roundSchema).min(1).meta({
      description: "Campaigns of passes, each with one set of settings, in the order they were walked.",
    }),
    sign_off_round: words("The round that is judged; the last one if left out."),
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
    date_order: optional(
      z.enum(["day-first", "month-first"]),
      "In dates of pass logs that do not begin with the year: what comes first. Needed only where every date could be read both ways.",
    ),
    pseudonyms: optional(
      z.boolean(),
      "Whether initials stand for the names of people and numbers for their badges, everywhere but in the input files, which are then left out of the site unless build --inputs asks for them.",
    ),
    compare_with_reader: optional(
      z.boolean(),
      "Whether a pass may stand in a log kept by hand and in a timed log: the reader's log judges, and where the two disagree on a tag is a remark.",
    ),
    sheets: optional(
      z.record(z.string(), z.union([z.string(), z.array(z.string()).min(1)])),
      "By path of a workbook (passes/walk.xlsx): the sheet to read, or several; its first sheet if left out.",
    ),
    compare_tags: words(
      "A column of the manifests or of itemised logs whose values are tag models on trial, which are then compared.",
    ),
    plan: optional(
      planSchema,
      "How the next walk is meant to be made, and what is expected of the read points.",
    ),
    revisions: optional(
      z.array(revisionSchema),
      "Earlier revisions of the report, from the earliest to the latest, each with its evidence mark.",
    ),
    corrections: optional(
      z.array(correctionSchema),
      "What was changed in a file after it was written: what, why, by whom and when.",
    ),
    attachments: optional(
      z.array(attachmentSchema),
      "Photographs and drawings in attachments/, with what they show.",
    ),
    floor_plan: optional(floorPlanSchema, "The ground the read points stand on, drawn behind them."),
  });

export type RawFacility = z.infer<ReturnType<typeof facilitySchema>>;

/** facility.yaml as JSON Schema draft-07, for editors. */
export function facilityJsonSchema(): Record<string, unknown> {
  const schema = editorSchema(facilitySchema());
  return { ...schema, title: "facility.yaml", description: "One facility whose read points are tested." };
}

/** The file that editors complete and check facility.yaml with. */
export function facilitySchemaText(): string {
  return `${JSON.stringify(facilityJsonSchema(), null, 2)}\n`;
}
