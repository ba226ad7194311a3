import { z } from "zod";
import { criterionSchema, partySchema, reportSchema, roundSchema } from "../facility.ts";
import { resultParts } from "../result.ts";
import { carrierRuleSchema, legSchema, placeSchema } from "./journey.ts";

/*
 * The archived object of a journey, as zod schemas: the types are made of them, and so is schemas/journey-result.schema.json.
 * Keys and figures are those of a facility's result wherever they mean the same.
 */

const { state, estimate, problem, spread, finding, inputFile, otherwise, change } = resultParts;

const count = z.number().int();
const text = z.string().nullable();
const instant = z.string().describe("ISO 8601 in UTC with a Z.");
const wallClock = text.describe(
  "The same as the clock on the wall there, YYYY-MM-DD HH:MM:SS; null where the facility states no time zone.",
);
const share = z.number().describe("0 to 1.");
const seconds = z.number();

const sightingAt = placeSchema.extend({ at: instant, atLocal: wallClock });

const legOfItem = z.object({
  leg: z.string().describe("Its id."),
  state: z
    .enum(["seen", "out-of-order", "late", "not-seen"])
    .describe(
      "seen: in time; out-of-order: in time, but before an earlier leg; late: only after the leg's time was over, which is not seen; not-seen: never while the run was under way.",
    ),
  at: instant
    .nullable()
    .describe("The first sighting there while the run was under way; null where not seen."),
  atLocal: wallClock,
  afterS: seconds
    .nullable()
    .describe("Seconds from the latest earlier leg seen, or from the start: below 0 if before that leg."),
  carrier: z
    .object({
      heard: z.boolean(),
      at: instant
        .nullable()
        .describe(
          "The sighting of the carrier there that is nearest in time, however far; null without one.",
        ),
      apartS: seconds.nullable().describe("Seconds from the item's first sighting to it."),
    })
    .nullable()
    .describe("Null where it is not asked for: another leg, an item not seen, a row without a carrier."),
});
export type LegOfItem = z.infer<typeof legOfItem>;

const visit = placeSchema
  .extend({
    leg: text.describe("The first leg at the read point; null in a wrong place."),
    first: instant,
    firstLocal: wallClock,
    last: instant,
    lastLocal: wallClock,
    sightings: count,
  })
  .describe("Sightings of one item at one read point with none elsewhere between them.");
export type Visit = z.infer<typeof visit>;

const item = z
  .object({
    round: z.string(),
    run: z.string(),
    tag: z.string(),
    uri: text.describe("The tag's pure identity, or its raw URI; null for a label that is no code."),
    carrier: text,
    startedAt: instant,
    endedAt: instant,
    voidReason: text.describe("Why the row does not count; null for one that does."),
    note: text,
    whole: z.boolean().describe("Seen on every leg that is not optional."),
    inOrder: z.boolean().nullable().describe("Null where it was seen on fewer than two legs."),
    legs: z.array(legOfItem).describe("In the order of the legs."),
    sightings: count.describe("While the run was under way, at any read point."),
    visits: z
      .array(visit)
      .nullable()
      .describe(
        "In the order of time; null for an item that was seen in order on every leg and nowhere else.",
      ),
    visitsLeftOut: count.describe("How many more visits there were than are listed."),
  })
  .describe("One item on one run: a row of runs.csv.");
export type ItemResult = z.infer<typeof item>;

const lostItem = z
  .object({
    item: count.describe("Index into `items`."),
    missing: z
      .array(z.string())
      .describe("The legs, by id, that it was not seen on and that are not optional."),
    lastSeen: sightingAt
      .extend({ leg: text.describe("The first leg at the read point; null in a wrong place.") })
      .nullable()
      .describe("Null where it was never seen while the run was under way."),
  })
  .describe("An item without any sighting on the last leg that is not optional, or on one behind it.");
export type LostItem = z.infer<typeof lostItem>;

const wrongPlace = placeSchema
  .extend({
    item: count.describe("Index into `items`."),
    first: instant,
    firstLocal: wallClock,
    last: instant,
    lastLocal: wallClock,
    sightings: count,
  })
  .describe("An item that a read point of no leg saw while its run was under way.");
export type WrongPlace = z.infer<typeof wrongPlace>;

const legCounts = {
  k: count.describe("Rows whose item was seen."),
  n: count.describe("Rows that are not void."),
  late: count.describe("Of those not seen: seen later than the leg allows."),
  outOfOrder: count.describe("Of those seen: before an earlier leg."),
  sightingRate: estimate.describe("k of n."),
  carrier: estimate
    .nullable()
    .describe("Carriers heard with the item; null where the carrier is not asked for."),
  delay: spread
    .nullable()
    .describe(
      "Seconds from the latest earlier leg seen, or from the start, to the first sighting of those seen.",
    ),
  lag: spread.nullable().describe("Seconds from a sighting there until the site knew of it."),
};

const legOfRound = z.object({ id: z.string(), ...legCounts });

const roundResult = z
  .object({
    id: z.string(),
    runs: count.describe("Different runs with a row that is not void."),
    items: count.describe("Rows that are not void."),
    voidRuns: count.describe("Runs all of whose rows are void."),
    voidItems: count.describe("Rows that are void."),
    completeRate: estimate.describe("Items seen on every leg that is not optional."),
    orderRate: estimate.describe(
      "Of items seen on two legs or more: those whose first sightings are in the order of the legs.",
    ),
    carrierRate: estimate
      .nullable()
      .describe("Over every leg that asks for the carrier; null without a carrier."),
    withVoids: z
      .object({ items: count, completeRate: estimate })
      .describe("With the void rows counted in; the same where there are none."),
    lag: spread.nullable(),
    legs: z.array(legOfRound),
  })
  .describe("What one round showed.");
export type JourneyRoundResult = z.infer<typeof roundResult>;

const legResult = legSchema
  .extend({
    facilityName: z.string(),
    name: z.string().describe("Of the read point."),
    kind: text,
    ...legCounts,
    withVoids: estimate.nullable().describe("With the void rows counted in; null where there are none."),
    lost: count.describe("Lost items that were last seen here."),
  })
  .describe("A leg, with what the sign-off round showed of it.");
export type LegResult = z.infer<typeof legResult>;

const bounds = z.object({ lower: share, upper: share });

const promise = z
  .object({
    legs: z
      .array(
        placeSchema.extend({
          leg: z.string(),
          round: text.describe("The read point's sign-off round."),
          rate: estimate.nullable().describe("Its tag read rate there; null where nobody walked it."),
        }),
      )
      .describe("The legs that are not optional."),
    missing: z.array(z.string()).describe("Legs, by id, of read points that were not walked."),
    product: z
      .object({ value: share, lower: share, upper: share })
      .nullable()
      .describe(
        "Of the rates, and of their lower and upper ends: if the legs miss independently. Null where one is missing.",
      ),
    bounds: bounds
      .nullable()
      .describe(
        "Fréchet's, of the rates: max(0, sum - (legs - 1)) and the smallest rate, however the misses depend on each other.",
      ),
    widest: bounds.nullable().describe("The same of the lower and of the upper ends."),
    share: estimate.describe("Whole journeys in the sign-off round."),
    outside: z
      .enum(["below", "above"])
      .nullable()
      .describe("On which side of `bounds` the share lies; null inside, or where there are no bounds."),
    surely: z.boolean().describe("Whether its whole interval lies outside of `widest`."),
  })
  .describe("What the read points' own walks promise of the chain, beside the share of whole journeys.");
export type JourneyPromise = z.infer<typeof promise>;

const remark = z
  .discriminatedUnion("code", [
    z
      .object({ code: z.literal("outside-bounds"), side: z.enum(["below", "above"]), surely: z.boolean() })
      .describe(
        "The share of whole journeys is none that the read points' walks allow: they did not show what the operation does.",
      ),
    z
      .object({ code: z.literal("not-walked"), legs: z.array(z.string()) })
      .describe("Read points of these legs were not walked by themselves, so nothing is promised."),
    z
      .object({ code: z.literal("runs-without-sighting"), runs: z.array(z.string()), count })
      .describe("No item of these runs was seen anywhere: the first of them, and how many."),
    z
      .object({
        code: z.literal("clocks-differ"),
        from: z.string(),
        to: z.string(),
        items: count,
        of: count,
        medianS: seconds,
      })
      .describe(
        "Most items were seen on leg `to` before leg `from` of another facility: their clocks hardly agree.",
      ),
    z
      .object({ code: z.literal("known-before-seen"), sightings: count })
      .describe("Sightings that the site knew of before they were made: two clocks."),
    z
      .object({ code: z.literal("no-criterion") })
      .describe("Nothing is asked of the journey, so it is untested."),
  ])
  .describe("A plain observation on the journey as a whole.");
export type JourneyRemark = z.infer<typeof remark>;

const journeyFinding = finding
  .extend({ readPoint: z.null().describe("A journey is no read point.") })
  .describe("One criterion, on one leg where it holds for each of them; passes are runs.");
export type JourneyFinding = z.infer<typeof journeyFinding>;

const comparison = z
  .object({
    measure: z.string(),
    leg: text.describe("Null for the journey as a whole."),
    before: z.string().describe("The earlier round's id."),
    after: z.string().describe("The later round's id."),
    estimates: z.object({ before: estimate, after: estimate }),
    difference: z
      .object({ value: z.number(), lower: z.number(), upper: z.number(), confidence: z.number() })
      .nullable()
      .describe("After less before, in fractions. Null where a round has nothing to compare."),
    p: z
      .number()
      .nullable()
      .describe("Two-sided: how surprising a difference as large would be if nothing had changed."),
    change,
  })
  .describe("What became of a rate between two rounds.");
export type JourneyComparison = z.infer<typeof comparison>;

const plannedRuns = z.object({
  criterion: z.string(),
  leg: text,
  unit: z.enum(["runs", "items"]).describe("What a trial is."),
  tagsPerRun: count,
  expected: share,
  limit: z.number(),
  impossible: z
    .boolean()
    .describe("What is expected is not on the good side of the limit: no number of runs will do."),
  fewest: z
    .array(z.object({ faults: count, runs: count.nullable() }))
    .describe("Runs for met with no fault at all, and with one, two and three; null where out of reach."),
  forChance: z
    .array(z.object({ chance: share, runs: count.nullable() }))
    .describe("How many runs end in met so often; null where no number up to the most does."),
});
export type PlannedRuns = z.infer<typeof plannedRuns>;

const unplanned = z
  .object({
    criterion: z.string(),
    measure: z.string(),
    unit: z.enum(["items", "sightings"]).describe("What a trial is."),
    trialsPerRun: count.describe(
      "Items of one run; or sightings, if each item is seen once on every leg that is not optional, or on the one leg that the criterion holds for, and each tells when the site knew.",
    ),
    fewest: z
      .array(z.object({ faults: count, trials: count.nullable(), runs: count.nullable() }))
      .describe("For met with no fault at all, and with one, two and three; null where out of reach."),
  })
  .describe("A criterion whose chance to be met the plan does not tell.");
export type UnplannedRuns = z.infer<typeof unplanned>;

const plan = z
  .object({
    tagsPerRun: count,
    sameTags: z.boolean(),
    expectedRate: share,
    expectedOrderRate: share.nullable(),
    findings: z.array(plannedRuns),
    unplanned: z.array(unplanned),
    forAll: z
      .array(z.object({ chance: share, each: share, runs: count.nullable() }))
      .describe(
        "How many runs end so often in met for all of `findings` together, each of them in a share `each` of cases; null where no number up to the most does.",
      ),
    runs: count
      .nullable()
      .describe(
        "The last of `forAll`, and so many that every criterion can be met without a fault; null where one has none.",
      ),
    runsDone: count.describe("Valid runs of the sign-off round."),
  })
  .describe("How many runs it takes.");
export type JourneyPlanResult = z.infer<typeof plan>;

export const journeyResultSchema = z.object({
  schemaVersion: z.literal(1),
  tool: z.object({ name: z.literal("proofwalk"), version: z.string() }),
  id: z.string(),
  title: z.string(),
  client: text,
  report: reportSchema.nullable(),
  preparedBy: partySchema.nullable(),
  witnessedBy: z.array(partySchema),
  pseudonyms: z
    .object({ listHeldBy: text.describe("Who knows the names: the organisation that prepared the report.") })
    .exactOptional()
    .describe("Only where initials and numbers stand for the names of people and for carriers."),
  basis: z
    .object({
      confidence: z.number(),
      interval: z.string(),
      missCorrelation: z.number(),
      smallestChangeThatMatters: z.number(),
    })
    .describe("The settings that every interval was made with."),
  signOffRound: z.string(),
  state,
  rounds: z.array(roundSchema),
  facilities: z
    .array(
      z.object({
        id: z.string(),
        name: z.string(),
        timeZone: text,
        state: state
          .nullable()
          .describe("Of its own result; null for one of no leg, which is not judged for the journey."),
        pseudonyms: z.boolean().describe("Whether its files hold names that its own pages do not."),
        readPoints: z
          .array(z.object({ id: z.string(), name: z.string() }))
          .describe(
            "All of them in the order of its facility.yaml: an item may be seen at any, not only at those of legs.",
          ),
        inputs: z
          .array(inputFile)
          .describe(
            "The files that it was judged on, those of other journeys over it too; of one of no leg its facility.yaml. Paths are relative to the data folder.",
          ),
      }),
    )
    .describe("The facilities that the YAML or the sightings name, by code point."),
  carrier: carrierRuleSchema.nullable(),
  criteria: z.array(criterionSchema),
  legs: z.array(legResult).describe("In the order in which they are expected."),
  findings: z.array(journeyFinding).describe("By criterion in the order of the file, then leg."),
  otherwise,
  promise,
  remarks: z.array(remark),
  roundResults: z.array(roundResult).describe("Every declared round, made or not."),
  items: z.array(item).describe("Void ones too; by round, start, run and tag."),
  lost: z.array(lostItem).describe("Of the sign-off round, void ones left out; in the order of the items."),
  wrongPlaces: z.array(wrongPlace).describe("Of the sign-off round, void ones left out; by item and time."),
  sightings: z
    .object({ told: count, used: count, repeated: count, outsideRuns: count, otherTags: count })
    .describe(
      "What became of everything that tells of sightings: told = used + repeated + outsideRuns + otherTags.",
    ),
  comparisons: z.array(comparison),
  plan: plan.nullable().describe("Null where the journey plans nothing."),
  problems: z.array(problem),
  inputs: z.array(inputFile).describe("Paths are relative to the data folder."),
});

/** The archived object of a journey: every page on it is a function of it. */
export type JourneyResult = z.infer<typeof journeyResultSchema>;

/** The text of schemas/journey-result.schema.json. Keys may be added without a new version, so unknown ones are let through. */
export function journeyResultSchemaText(): string {
  const schema = z.toJSONSchema(journeyResultSchema, { target: "draft-7", io: "input" });
  return `${JSON.stringify({ title: "Proofwalk journey result", ...schema }, null, 2)}\n`;
}
