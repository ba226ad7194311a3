import { z } from "zod";
import { journeyMeasures } from "../../measures/journey/index.ts";
import type { JourneyMeasure } from "../../measures/measure.ts";
import { identity, requirementKeys } from "../facility/criterion.ts";
import { judgingKeys, partySchema, reportShape } from "../facility/report.ts";
import { editorSchema } from "../yaml/editor-schema.ts";
import { day, optional, text, words } from "../yaml/shape.ts";

/* The shape of a journey's YAML. What one key says about another is checked afterwards, where both are at hand. */

const place = {
  facility: text("The facility's id: the name of its folder."),
  read_point: text("The read point's id in that facility."),
};

export const legShape = z.strictObject({
  id: text("Short name of the leg."),
  ...place,
  within_s: optional(
    z.number().positive(),
    "Seconds from the latest earlier leg seen, on the first leg from started_at; any time while the run is under way if left out.",
  ),
  optional: optional(z.boolean(), "Whether a journey is whole without it."),
});

const carrierShape = z.strictObject({
  column: text("The column of runs.csv that holds the carrier's own tag."),
  at: z
    .array(text("A leg's id."))
    .min(1)
    .meta({ description: "The legs on which the carrier is to be heard." }),
  within_s: z.number().nonnegative().meta({
    description: "Seconds between the item's first sighting and a sighting of its carrier, before or after.",
  }),
});

export const roundShape = z.strictObject({
  id: text("Short name of the round, as runs.csv writes it."),
  title: words("Name of the round on the pages; the id if left out."),
  date: day("The day the round was made, YYYY-MM-DD."),
  changes: words("What was changed before this round, in words."),
});

const planShape = z.strictObject({
  tags_per_run: z.int().min(1).max(10_000).meta({ description: "Items that travel together on one run." }),
  expected_rate: z.number().gt(0).lt(1).meta({
    description: "The share of items that a leg that works is believed to see, between 0 and 1 (0.998).",
  }),
  expected_order_rate: optional(
    z.number().gt(0).lt(1),
    "The share of items that are believed to be seen in the order of the legs (0.998): for the chance that journey-order-rate is met.",
  ),
  same_tags: optional(
    z.boolean(),
    "Whether the same items travel on every run; other items each time if left out.",
  ),
});

function criterionShape(measure: JourneyMeasure) {
  return z.strictObject({
    ...identity,
    ...requirementKeys(measure),
    ...(measure.byLeg === "never"
      ? {}
      : {
          for_each: optional(
            z.array(text("leg")).min(1),
            "[leg]: each leg must meet the criterion by itself.",
          ),
          legs: optional(
            z.array(text("A leg's id.")).min(1),
            "The legs that it holds for; all of them if left out.",
          ),
        }),
    minimum_runs: optional(z.int().min(1), "Fewer valid runs than this leave it untested."),
  });
}

/** Any criterion of a journey. */
export function anyCriterionShape() {
  const shapes = journeyMeasures.all().map(criterionShape);
  return z.discriminatedUnion("measure", shapes as [(typeof shapes)[0], ...typeof shapes]);
}

/** What a URI of the EPCIS documents stands for. */
export const epcisPlaceShape = z.union([z.string(), z.strictObject(place)]);

export type RawJourneyCriterion = z.infer<ReturnType<typeof anyCriterionShape>> & {
  for_each?: string[] | null;
  legs?: string[] | null;
  [parameter: string]: unknown;
};

export const journeySchema = () =>
  z.strictObject({
    title: text("What is followed, in words."),
    client: words("The client the work is done for."),
    time_zone: words(
      "IANA name of the time zone of runs.csv; that of the facilities if left out, where all have the same one.",
    ),
    report: reportShape(),
    prepared_by: optional(partySchema, "Who prepared the report."),
    witnessed_by: optional(z.array(partySchema), "Who witnessed the runs."),
    pseudonyms: optional(
      z.boolean(),
      "Whether initials stand for the names of people and numbers for the tags of carriers, everywhere but in the input files.",
    ),
    ...judgingKeys({ alike: "items of one run, or presentations of one tag", rate: "a rate" }),
    rounds: optional(z.array(roundShape).min(1), "Campaigns of runs, in their order; one if left out."),
    sign_off_round: words("The round that is judged; the last one if left out."),
    legs: z.array(legShape).min(1).meta({
      description: "Read points in the order in which an item is expected there.",
    }),
    carrier: optional(carrierShape, "The person's or vehicle's own tag, to be heard with the item."),
    criteria: optional(z.array(anyCriterionShape()), "What is asked of the journey."),
    plan: optional(planShape, "How the next runs are meant to be made, and what is expected of them."),
    epcis: optional(
      z.record(z.string(), epcisPlaceShape),
      "Which read point each readPoint URI of the EPCIS documents is; elsewhere for one of no facility.",
    ),
  });

export type RawJourney = z.infer<ReturnType<typeof journeySchema>>;

/** A journey's YAML as JSON Schema draft-07, for editors. */
export function journeyJsonSchema(): Record<string, unknown> {
  const schema = editorSchema(journeySchema());
  return {
    ...schema,
    title: "A journey",
    description: "One chain of read points over facilities that items are followed along.",
  };
}

/** The file that editors complete and check a journey's YAML with. */
export function journeySchemaText(): string {
  return `${JSON.stringify(journeyJsonSchema(), null, 2)}\n`;
}
