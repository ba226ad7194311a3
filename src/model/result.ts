import { z } from "zod";
import { diagnosisSchema } from "./diagnosis/diagnosis.ts";
import { whySchema } from "./diagnosis/why.ts";
import type { Estimate } from "./estimate.ts";
import {
  concessionSchema,
  conditionSchema,
  criterionSchema,
  floorPlanSchema,
  openPointSchema,
  partySchema,
  reportSchema,
  retestSchema,
  roundSchema,
  senseSchema,
} from "./facility.ts";
import { planSchema } from "./plan.ts";
import { powerCurveState, powerResultSchema } from "./radio/power-curves.ts";
import { radioResultSchema } from "./radio/radio-settings.ts";
import { attachmentSchema, pictureSchema } from "./record/picture.ts";
import { recordSchema } from "./record/record.ts";
import { statesWorstFirst } from "./state.ts";

/*
 * The archived object, as zod schemas: the types are made of them, and so is schemas/result.schema.json. Whoever only needs a
 * type imports it as one, and loads no zod.
 */

const count = z.number().int();
const text = z.string().nullable();
const instant = text.describe("ISO 8601 in UTC with a Z; null where the log states none.");
const wallClock = text.describe("The same as the clock on the facility's wall, YYYY-MM-DD HH:MM:SS.");
const uri = text.describe("The tag's pure identity, or its raw URI; null for a label that is no code.");
const groupOf = z.record(z.string(), z.string()).nullable();

const state = z.enum(statesWorstFirst).meta({ id: "State" });

const figure = {
  value: z.number().nullable().describe("Null where n is 0."),
  k: z.number(),
  n: z.number(),
  lower: z.number().nullable().describe("Null where n is 0."),
  upper: z.number().nullable(),
  confidence: z.number(),
  effectiveN: z
    .number()
    .nullable()
    .describe("How many independent presentations, passes or minutes the n are worth."),
  designEffect: z.number().nullable().describe("n / effectiveN."),
};

const estimate: z.ZodType<Estimate> = z
  .discriminatedUnion("kind", [
    z
      .object({ kind: z.literal("rate"), ...figure, method: z.string().describe("The id of the interval.") })
      .describe("k of n, as fractions."),
    z
      .object({
        kind: z.literal("level"),
        ...figure,
        method: z.literal("order-statistic"),
        onMiss: z
          .object({ value: z.boolean(), lower: z.boolean(), upper: z.boolean() })
          .exactOptional()
          .describe(
            "Which of the figures are null because they fall on a missed tag; left out where n is 0.",
          ),
      })
      .describe("A quantile of the signal strength in dBm, over n presentations of which k were read."),
    z
      .object({ kind: z.literal("events"), ...figure, method: z.literal("poisson") })
      .describe("k events in n minutes, as events a minute."),
    z
      .object({ kind: z.literal("margin"), ...figure, method: z.literal("fieller") })
      .describe(
        "Transmit power in use less the power that a share needs, in dB; k read of n presented at all powers. Null without a curve, the bounds also where it has no limits.",
      ),
  ])
  .meta({ id: "Estimate", description: "A figure with its uncertainty, over valid passes only." });

const remark = z
  .discriminatedUnion("code", [
    z.object({ code: z.literal("no-criterion") }).describe("No criterion covers the read point."),
    z
      .object({ code: z.literal("no-value-walked") })
      .describe("A criterion holds for each value of a condition, and no value was walked yet."),
    z
      .object({ code: z.literal("one-cluster"), dimension: z.enum(["pass", "tag"]) })
      .describe("Every presentation lies in one pass, or on one tag."),
    z
      .object({ code: z.literal("forms-mixed") })
      .describe("Tallies do not name tags, so the finding counts passes only."),
    z
      .object({ code: z.literal("strays-not-recorded"), passes: count })
      .describe("Passes whose log records no strays were left out."),
    z
      .object({ code: z.literal("rssi-not-recorded"), passes: count })
      .describe("Passes whose log records no RSSI were left out."),
    z
      .object({ code: z.literal("own-round"), round: z.string() })
      .describe("The read point is judged on a round that is not the facility's."),
    z
      .object({ code: z.literal("tags-reused"), tags: count, passes: count })
      .describe("Fewer different tags than passes were counted: the same few went through again and again."),
    z
      .object({ code: z.literal("misses-in-a-run"), passes: count, p: z.number() })
      .describe(
        "Neighbouring passes, in the order of their times, have their faults together; `passes` have any. p: how often chance alone puts them so near each other.",
      ),
    z
      .object({
        code: z.literal("worst-pass"),
        worstPass: z.number().describe("The share of its tags that a bad pass misses."),
        passes: count.describe("How many passes it takes for met."),
      })
      .describe("Too few passes for a bad kind of pass, as the criterion describes it, to have come up."),
    z
      .object({
        code: z.literal("session-too-short"),
        longestStayMinutes: z.number(),
        neededMinutes: z.number().describe("How much idle time it takes for met."),
      })
      .describe("The idle time is shorter than twenty times the longest stay of a tag."),
    z
      .object({
        code: z.literal("signal-alike"),
        k: count.describe("Presentations on the good side of the limit."),
        n: count,
        share: z.number().describe("How many must be, 0..1."),
        limitDbm: z.number(),
        sense: z.enum(["at-least", "at-most"]),
      })
      .describe(
        "The bounds of signal strength take presentations as independent; judged as a rate, by an interval that allows for passes and tags that are alike, it would not be met.",
      ),
    z
      .object({ code: z.literal("power-in-use-unknown") })
      .describe("The settings of the round do not state the transmit power in use."),
    z
      .object({
        code: z.literal("no-power-curve"),
        why: powerCurveState.exclude(["fitted"]),
        noneAtDbm: z.number().nullable().describe("The highest power that read no tag."),
        allAtDbm: z.number().nullable().describe("The lowest power that read all tags."),
      })
      .describe("The power log carries no curve that rises with the power."),
    z
      .object({ code: z.literal("power-limits-unbounded") })
      .describe("The share read does not rise clearly enough with the power for limits."),
    z
      .object({
        code: z.literal("power-beyond-steps"),
        neededDbm: z.number(),
        highestDbm: z.number().describe("The highest power measured."),
      })
      .describe("The power needed lies above every power measured."),
    z
      .object({ code: z.literal("power-scatter"), factor: z.number() })
      .describe("Reads scatter about the curve more than chance: variances were multiplied by the factor."),
  ])
  .meta({ id: "Remark", description: "A plain observation beside a figure." });
export type Remark = z.infer<typeof remark>;

const problem = z
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

const spread = z
  .object({
    n: count,
    min: z.number(),
    q05: z.number(),
    median: z.number(),
    q95: z.number(),
    max: z.number(),
  })
  .meta({ id: "Spread", description: "Five figures of n values; quantiles of R's type 7." });
export type Spread = z.infer<typeof spread>;

const heardSummary = z
  .object({
    window: z
      .object({ beforeS: z.number(), afterS: z.number() })
      .describe("How far around its start and end a pass still counts as under way, in seconds."),
    tagsPresented: count,
    tagsRead: count,
    readsPerTag: spread.nullable().describe("Reads of each tag that was presented and read, pass by pass."),
    firstReadMs: spread
      .nullable()
      .describe("How long after the window of the pass opened each of them was first read."),
    antennas: z.array(
      z.object({
        antenna: z.string(),
        tagsRead: count.describe("Presented tags that it read: what it alone would have caught."),
        onlyHere: count.describe("Presented tags that no other antenna read: what would be lost without it."),
        strongestDbm: spread.nullable(),
      }),
    ),
    strays: z
      .array(
        z.object({
          tag: z.string(),
          uri,
          bystander: z
            .boolean()
            .describe("Placed near by on purpose: the load says that it is not presented."),
          passes: count,
          reads: count,
          strongestDbm: z.number().nullable(),
        }),
      )
      .describe(
        "Codes read uninvited; one that some passes placed as a bystander and others did not place has two entries.",
      ),
    idle: z
      .object({
        minutes: z.number(),
        heard: z.array(z.object({ minute: z.string(), reads: count, tags: count })),
        stays: z
          .object({
            tags: count,
            meanMinutes: z
              .number()
              .describe(
                "Sum of squares over sum of the minutes that read each tag: the variance is so many times larger.",
              ),
            longestMinutes: z.number().describe("From the first to the last minute that read the tag."),
          })
          .describe("How long tags stayed between the passes."),
        rate: estimate,
      })
      .nullable()
      .describe("What was read between the passes; null where the round has no timed passes there."),
  })
  .describe("What the readers' own logs show of one round at one read point.");
export type HeardSummary = z.infer<typeof heardSummary>;

const conditionBreakdown = z.object({
  column: z.string(),
  groups: z
    .array(z.object({ value: z.string(), passes: count, tagReadRate: estimate }))
    .describe("In the order of the condition's values; one that was not walked in this round has n = 0."),
});
export type ConditionBreakdown = z.infer<typeof conditionBreakdown>;

const conditionGrid = z.object({
  rowColumn: z.string(),
  columnColumn: z.string(),
  rowValues: z.array(z.string()),
  columnValues: z.array(z.string()),
  cells: z
    .array(z.object({ row: z.string(), column: z.string(), passes: count, tagReadRate: estimate }))
    .describe("Row by row; passes = 0 is a gap: nobody walked it."),
});
export type ConditionGrid = z.infer<typeof conditionGrid>;

const rssiSummary = z.object({
  n: count.describe("How many reads carry an RSSI."),
  minDbm: z.number(),
  q05Dbm: z.number(),
  medianDbm: z.number(),
  q95Dbm: z.number(),
  maxDbm: z.number(),
  binWidthDb: z.number(),
  bins: z
    .array(z.object({ fromDbm: z.number(), count }))
    .describe("Counts in steps of binWidthDb, each from fromDbm (inclusive), without gaps."),
});
export type RssiSummary = z.infer<typeof rssiSummary>;

const missedTag = z.object({
  tag: z.string(),
  uri,
  presented: count,
  missed: count,
  passes: z.array(z.string()).describe("Ids of the valid passes that missed it, in the order walked."),
});
export type MissedTag = z.infer<typeof missedTag>;

const passResult = z.object({
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
export type PassResult = z.infer<typeof passResult>;

const roundResult = z
  .object({
    id: z.string(),
    passes: count.describe("Valid passes."),
    voidPasses: count,
    tagsPresented: count,
    tagsRead: count,
    tagReadRate: estimate,
    completePassRate: estimate,
    strayPassRate: estimate,
    bystanderReadRate: estimate,
    withVoids: z
      .object({ tagsPresented: count, tagsRead: count, tagReadRate: estimate })
      .describe("The read rate with the void passes counted in; the same where there are none."),
    byCondition: z
      .array(conditionBreakdown)
      .describe("One entry a declared condition, in the order of facility.yaml."),
    grids: z.array(conditionGrid).describe("One entry a pair of declared conditions."),
    rssi: rssiSummary.nullable().describe("Strongest RSSI of the tags read; null where none was recorded."),
    antennas: z
      .array(z.object({ antenna: z.string(), tagsRead: count, medianRssiDbm: z.number().nullable() }))
      .describe("Tags read by the antenna that the log names, in natural order."),
    heard: heardSummary
      .nullable()
      .describe("What the readers' own logs show, over valid timed passes; null where none was walked."),
    missedTags: z
      .array(missedTag)
      .describe("Most often missed first, then fewest presented, then by code point."),
    passList: z
      .array(passResult)
      .describe("In the order walked: by start, then by pass id in natural order."),
  })
  .describe("What one round showed at one read point.");
export type RoundResult = z.infer<typeof roundResult>;

const readPointResult = z.object({
  id: z.string(),
  name: z.string(),
  kind: text,
  at: z.object({ x: z.number(), y: z.number() }).nullable(),
  equipment: z.record(z.string(), z.string()),
  state,
  signOffRound: z.string(),
  remarks: z.array(remark),
  diagnosis: diagnosisSchema.nullable().describe("Null where there is neither a miss nor a suggestion."),
  why: whySchema.nullable().describe("Null where the logs carry none of its parts."),
  radio: z
    .array(radioResultSchema)
    .exactOptional()
    .describe("By round, as far as facility.yaml states the radio; left out where it does nowhere."),
  rounds: z.array(roundResult).describe("Every declared round, walked or not."),
  power: z
    .array(powerResultSchema)
    .exactOptional()
    .describe("Only where the read point has a power log: by round, in the order of facility.yaml."),
});
export type ReadPointResult = z.infer<typeof readPointResult>;

const concessionResult = concessionSchema.extend({
  expired: z.boolean().describe("Whether `until` lies before the report's issue date."),
});
export type ConcessionResult = z.infer<typeof concessionResult>;

const toSettle = z
  .union([
    z.object({
      unit: z.string().describe("Of n, in the plural."),
      furtherWithoutMiss: count
        .nullable()
        .describe(
          "The smallest number of further ones without a fault (of a power margin: read in the same shares) for which the longer walk is met; null beyond ten million, and where none would do.",
        ),
      chance: z
        .number()
        .nullable()
        .describe(
          "How likely a walk laid out like this one shows as many faults or more at a true figure equal to the limit; null where the value is on its good side.",
        ),
      retune: z.boolean().describe("The chance is below 0.1: look for the cause first."),
    }),
    z.object({ furtherPasses: count }),
    z.object({ furtherMinutes: count.describe("Of idle time, in the same session.") }),
    z.object({
      furtherPowers: count.describe("To measure at; 0 where only the power in use is not stated."),
    }),
  ])
  .describe("What would move a finding on: of an undecided one, and of an untested one (three kinds).");
export type ToSettle = z.infer<typeof toSettle>;

const kind = z.object({
  share: z.number().describe("Of all, 0 to 1."),
  oneIn: count.describe("The same as one in so many, rounded down."),
});

const unseen = z
  .object({
    passes: kind.describe("A kind of pass that is rarer than this may not have come up."),
    tags: kind.nullable().describe("The same of tags; null where the logs do not name every tag."),
  })
  .describe(
    "What may not have come up: with G passes, kinds that make up less than 1 - (alpha/2)^(1/G) of all; tags likewise.",
  );
export type Unseen = z.infer<typeof unseen>;

const finding = z
  .object({
    criterion: z.string(),
    readPoint: z.string(),
    round: z.string(),
    group: groupOf.describe("Column and value; null without for_each."),
    state,
    measure: z.string(),
    limit: z.number(),
    sense: senseSchema,
    passes: count.describe("Passes counted."),
    voidPasses: count.describe("Void passes that would have been counted."),
    tags: count
      .nullable()
      .describe("Different tags counted; null where a log does not name them, or none are counted."),
    estimate,
    withVoids: estimate.nullable().describe("With the void passes counted in; null where there are none."),
    toSettle: toSettle.nullable().describe("Null in a finding that is met or not met."),
    concession: concessionResult.nullable(),
    remarks: z.array(remark),
    sensitivity: z
      .array(
        z.object({
          missCorrelation: z.number(),
          lower: z.number().nullable(),
          upper: z.number().nullable(),
          effectiveN: z.number().nullable(),
          state,
        }),
      )
      .describe("What other assumed correlations would have given; empty where none is assumed."),
    stricter: z
      .object({ interval: z.string(), state })
      .nullable()
      .describe(
        "What the stricter interval shows; null where the finding's own is as strict, or is no rate.",
      ),
    unseen: unseen
      .nullable()
      .describe("Null where no pass was counted, or the measure does not count passes."),
  })
  .describe("One criterion at one read point, in one group where it holds for each value on its own.");
export type Finding = z.infer<typeof finding>;

const pairTable = z
  .object({ readBoth: count, readOnlyBefore: count, readOnlyAfter: count, missedBoth: count })
  .describe("Presentations of the same tag in the same pass under the same conditions, once in each round.");
export type PairTable = z.infer<typeof pairTable>;

const tagCount = z.object({ presented: count, missed: count });

const changedTag = z.object({ tag: z.string(), uri, before: tagCount, after: tagCount });
export type ChangedTag = z.infer<typeof changedTag>;

const tagChanges = z
  .object({
    inBoth: count.describe("How many tags both rounds presented."),
    missedInBoth: count.describe("How many of them both rounds missed at least once."),
    newlyMissed: z.array(changedTag).describe("Read every time before, missed at least once after."),
    newlyRead: z.array(changedTag).describe("Missed at least once before, read every time after."),
  })
  .describe("What became of the tags that both rounds presented.");
export type TagChanges = z.infer<typeof tagChanges>;

const change = z.enum(["better", "worse", "no-change-that-matters", "no-change-shown", "not-comparable"]);
export type Change = z.infer<typeof change>;

const comparisonReason = z
  .discriminatedUnion("code", [
    z
      .object({ code: z.literal("not-walked"), round: z.string() })
      .describe("No valid pass of the round presented a tag there: nothing to compare."),
    z
      .object({ code: z.literal("no-common-conditions") })
      .describe("Both rounds were walked, but under no combination of conditions that the other one was."),
    z
      .object({
        code: z.literal("conditions-left-out"),
        round: z.string(),
        presentations: count.describe("How many of the round's presentations lie there."),
        ofPresentations: count,
        combinations: count,
        examples: z
          .array(z.record(z.string(), text))
          .describe("The first of them, by column; null stands for a blank."),
      })
      .describe("Combinations of conditions that only this round walked were left out."),
    z
      .object({ code: z.literal("mix-differs") })
      .describe(
        "The rounds divide their presentations differently among the conditions: the earlier was weighted.",
      ),
    z
      .object({ code: z.literal("tags-differ"), inBoth: count, onlyBefore: count, onlyAfter: count })
      .describe("How many tags were presented in both rounds, and how many in one only."),
    z
      .object({ code: z.literal("tags-not-named"), rounds: z.array(z.string()) })
      .describe("The logs of these rounds do not name every tag, so whether they are the same is not known."),
    z
      .object({ code: z.literal("partly-paired"), pairs: count, before: count, after: count })
      .describe(
        "Half or more of a round have a partner in the other and the rest have none: none were paired.",
      ),
    z
      .object({ code: z.literal("one-cluster"), round: z.string(), dimension: z.enum(["pass", "tag"]) })
      .describe("Every compared presentation of the round lies in one pass, or on one tag."),
    z
      .object({
        code: z.literal("settings-differ"),
        settings: z.array(z.object({ setting: z.string(), before: text, after: text })),
      })
      .describe("The read point's settings as the rounds state them; null where a round does not name one."),
    z
      .object({ code: z.literal("settings-not-stated"), round: z.string() })
      .describe("Only the other round states settings of the read point."),
  ])
  .describe("What stands in the way of comparing two rounds, or was done about it; `round` is a round's id.");
export type ComparisonReason = z.infer<typeof comparisonReason>;

const comparison = z
  .object({
    readPoint: z.string(),
    before: z.string().describe("The earlier round's id."),
    after: z.string().describe("The later round's id."),
    group: groupOf.describe("One column and value in an exploratory row; null for the whole read point."),
    exploratory: z.boolean().describe("One of many looks at where a change lies: one alone proves little."),
    design: z.enum(["paired", "independent"]).nullable().describe("Null where not comparable."),
    standardised: z
      .boolean()
      .describe("Whether the earlier round was weighted to the later one's mix of conditions."),
    difference: z
      .object({ value: z.number(), lower: z.number(), upper: z.number(), confidence: z.number() })
      .nullable()
      .describe("After less before, in fractions: above 0 is a gain. Null where not comparable."),
    estimates: z
      .object({ before: estimate, after: estimate })
      .nullable()
      .describe(
        "Both rates over what is compared; a weighted round has the weighted rate, k and n as counted.",
      ),
    pairs: pairTable.nullable().describe("Null where the design is not paired."),
    p: z
      .number()
      .nullable()
      .describe("Two-sided: how surprising a difference as large would be if nothing had changed."),
    pAdjusted: z
      .number()
      .nullable()
      .describe(
        "By Holm over the exploratory rows of this read point and pair of rounds; null for the whole.",
      ),
    test: z.enum(["mcnemar", "fisher", "difference"]).nullable().describe("Where p comes from."),
    change,
    tags: tagChanges
      .nullable()
      .describe("Only for the whole; null where not comparable or where the logs do not name every tag."),
    reasons: z.array(comparisonReason),
  })
  .describe("What became of the read rate of one read point between two rounds.");
export type Comparison = z.infer<typeof comparison>;

const inputFile = z.object({
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
export type InputFile = z.infer<typeof inputFile>;

const journeyRuns = z
  .object({
    id: z.string(),
    timeZone: text.describe("Of the times of its runs that state no offset; null where each must."),
    pseudonyms: z.boolean().describe("Whether its files hold names that its own pages do not."),
    inputs: z.array(inputFile).describe("Its YAML and its runs.csv; paths are relative to the data folder."),
  })
  .describe("A journey with a leg here: what readers heard of its tags meanwhile is not idle.");
export type JourneyRuns = z.infer<typeof journeyRuns>;

const otherwise = z
  .object({
    interval: z
      .object({ id: z.string(), findings: count })
      .nullable()
      .describe("By the stricter interval; null where the facility's own is as strict."),
    correlations: z
      .array(z.object({ missCorrelation: z.number(), findings: count }))
      .describe("By each correlation in `sensitivity`."),
  })
  .describe("How many findings would have another state by a stricter interval, or another correlation.");

export const resultSchema = z.object({
  schemaVersion: z.literal(1),
  tool: z.object({ name: z.literal("proofwalk"), version: z.string() }),
  facility: z.object({
    id: z.string(),
    name: z.string(),
    client: text,
    address: text,
    timeZone: text.describe("IANA name."),
    floorPlan: floorPlanSchema.nullable(),
  }),
  report: reportSchema.nullable(),
  preparedBy: partySchema.nullable(),
  pseudonyms: z
    .object({ listHeldBy: text.describe("Who knows the names: the organisation that prepared the report.") })
    .exactOptional()
    .describe("Only where initials and numbers stand for the names of people and their badges."),
  witnessedBy: z.array(partySchema),
  retest: retestSchema
    .nullable()
    .describe("When the read points are to be tested again; null where facility.yaml gives no day."),
  signOff: z
    .object({ readPoints: z.array(z.string()), otherwise })
    .nullable()
    .describe("The read points that the sheet is for; null where it is for all of them."),
  basis: z
    .object({
      confidence: z.number(),
      interval: z.string(),
      missCorrelation: z.number(),
      smallestChangeThatMatters: z
        .number()
        .describe("Tells, between rounds, no change that matters from no change shown."),
    })
    .describe("The settings that every interval was made with."),
  signOffRound: z.string().describe("The facility's."),
  state,
  rounds: z.array(roundSchema),
  conditions: z.array(conditionSchema),
  criteria: z.array(criterionSchema),
  readPoints: z.array(readPointResult).describe("In the order of facility.yaml."),
  findings: z
    .array(finding)
    .describe("By criterion, then read point, in the order of facility.yaml, then group."),
  otherwise,
  comparisons: z
    .array(comparison)
    .describe("By read point and pair of rounds: the whole, then each value of each condition."),
  plan: planSchema
    .nullable()
    .describe("How much is to be walked, and what was; null where facility.yaml plans nothing."),
  concessions: z.array(concessionResult),
  openPoints: z.array(openPointSchema),
  problems: z.array(problem),
  inputs: z.array(inputFile),
  journeys: z
    .array(journeyRuns)
    .exactOptional()
    .describe("Only where the readers' logs were read with journeys in mind; by id."),
  attachments: z
    .array(attachmentSchema)
    .exactOptional()
    .describe(
      "Photographs and drawings; left out where the facility has none. Their files are among the inputs.",
    ),
  record: recordSchema
    .exactOptional()
    .describe("Only where facility.yaml states revisions, corrections, or anything of a reader's clock."),
});

/** What the result of a journey is made of as well. */
export const resultParts = { state, estimate, problem, spread, finding, inputFile, otherwise, change };

/** The archived object: complete and versioned; every page is a function of it. */
export type Result = z.infer<typeof resultSchema>;

/** The text of schemas/result.schema.json. Keys may be added to results without a new version, so unknown ones are let through. */
export function resultSchemaText(): string {
  const schema = z.toJSONSchema(resultSchema, { target: "draft-7", io: "input" });
  return `${JSON.stringify({ title: "Proofwalk result", ...schema }, null, 2)}\n`;
}
