import { z } from "zod";
import { count, text } from "../scalars.ts";
import { statesWorstFirst } from "../state.ts";
import { ratioSchema } from "./diagnosis.ts";

/*
 * What the page of a read point's misses shows: the details behind its diagnosis. A part is null where the logs do not carry it.
 */

const state = z.enum(statesWorstFirst);
const dBm = z.number().nullable();
const pAdjusted = z.number().describe("By Holm over all tests of the read point.");

/** How often something was missed, and everything else. */
const counts = {
  missed: count,
  presented: count,
  elsewhereMissed: count,
  elsewherePresented: count,
};

const interval = z.object({ value: z.number(), lower: z.number(), upper: z.number() });

const missMap = z
  .object({
    tags: z
      .array(z.string())
      .describe("Rows: tags of one place together, the place and the tag missed most first."),
    passes: z.array(z.string()).describe("Columns: ids, in the order walked."),
    cells: z
      .array(z.string())
      .describe("One text a tag, one character a pass: r read, m missed, . not presented."),
    leftOut: z
      .object({ tags: count, passes: count })
      .describe("Beyond 400 tags or 400 passes those with misses are kept first."),
  })
  .describe("Tags by passes; null where the log does not name the tags.");
export type MissMap = z.infer<typeof missMap>;

const outlier = z.object({ id: z.string(), ...counts, ratio: ratioSchema, pAdjusted });
export type Outlier = z.infer<typeof outlier>;

const standingOut = z
  .object({ tags: z.array(outlier), passes: z.array(outlier) })
  .describe("Tags and passes that are missed more often than chance explains (exact binomial test).");
export type StandingOut = z.infer<typeof standingOut>;

const runOfPasses = z
  .object({
    passesWithMisses: count,
    p: z.number().describe("How often a random order brings the misses as near each other."),
    run: z
      .object({
        from: z.string().describe("The id of its first pass."),
        to: z.string().describe("The id of its last pass."),
        passes: count,
        ...counts,
      })
      .nullable()
      .describe("The neighbouring passes that stand out most; null where chance explains the order."),
  })
  .describe("Whether misses came in neighbouring passes; null where passes have no times.");
export type RunOfPasses = z.infer<typeof runOfPasses>;

const driverLevel = z.object({
  value: z.string(),
  missed: count,
  presented: count,
  odds: interval.nullable().describe("Odds ratio to the reference; null for the reference."),
  ratio: interval.nullable().describe("The same as a ratio of rates at the reference's rate."),
  p: z.number().nullable(),
});

const driver = z.object({
  column: z.string(),
  reference: z.string().describe("The value that the others are compared with."),
  levels: z.array(driverLevel).describe("In the order of the column's values."),
});
export type Driver = z.infer<typeof driver>;

const conditionPair = z.object({
  subject: z.record(z.string(), z.string()),
  ...counts,
  ratio: ratioSchema.nullable(),
  pAdjusted,
});
export type ConditionPair = z.infer<typeof conditionPair>;

const drivers = z
  .object({
    drivers: z.array(driver),
    pairs: z
      .array(conditionPair)
      .describe("Pairs of values that are missed more often than chance explains."),
    notToldApart: z
      .array(z.object({ columns: z.array(z.string()) }))
      .describe("Columns whose values go together, so that the data cannot tell their effects apart."),
  })
  .describe(
    "Each column's effect on the odds of a miss, adjusted for the others: logistic regression with Firth's correction, standard errors clustered by pass.",
  );
export type Drivers = z.infer<typeof drivers>;

const levels = z.object({
  n: count,
  minDbm: dBm,
  q05Dbm: dBm,
  medianDbm: dBm,
  maxDbm: dBm,
});

const signal = z
  .object({
    weakestDecodedDbm: z
      .number()
      .describe("The weakest of all strongest reads of a tag in a pass, over all rounds and strays."),
    all: levels,
    q05LowerDbm: dBm.describe(
      "The lower end of the 5 % quantile by order statistics; null where there is none.",
    ),
    inHandDb: z.number().nullable().describe("The 5 % quantile above the weakest decoded."),
    byAntenna: z.array(levels.extend({ antenna: z.string() })),
    byCondition: z.array(levels.extend({ column: z.string(), value: z.string() })),
    readByLevel: z
      .array(z.object({ fromDbm: z.number(), toDbm: z.number(), presented: count, read: count }))
      .describe("How the share read falls with the median of the tag's strongest RSSI."),
  })
  .describe("How much signal is in hand.");
export type SignalInHand = z.infer<typeof signal>;

const antenna = z.object({
  antenna: z.string(),
  heard: count.describe("Presentations in which it heard the tag."),
  reads: count.nullable(),
  alone: count
    .nullable()
    .describe(
      "Presentations that it alone heard: lost without it; null where a log names only the strongest.",
    ),
  silent: z.boolean(),
  stateWithout: state.nullable().describe("What the read point's state would be without it."),
  medianDbm: dBm,
  change: z
    .object({
      round: z.string(),
      medianDbm: z.number(),
      changeDb: z.number(),
      scatterDb: z.number(),
      weaker: z.boolean().describe("By more than its scatter."),
    })
    .nullable()
    .describe("Against the round before; null where it was not walked."),
});
export type Antenna = z.infer<typeof antenna>;

const straySource = z.enum(["this-job", "neighbour", "stranger"]);

const strayTag = z.object({
  tag: z.string(),
  uri: text,
  source: straySource,
  readPoint: text.describe("Whose loads present it: its own read point, or a neighbour."),
  where: z
    .array(z.object({ readPoint: text, round: text, manifest: text, minute: text }))
    .describe("Where else the facility's own logs know the code."),
  passes: count.nullable().describe("Null for idle reads."),
  reads: count.nullable(),
  strongestDbm: dBm,
  antennas: z.array(z.string()),
  firstMs: z.number().nullable().describe("When in the pass, after it opens: the median over passes."),
});

const strays = z
  .object({
    passes: count.nullable().describe("Passes with a stray; null for idle reads."),
    ofPasses: count.nullable(),
    minutes: z.number().nullable().describe("Idle minutes; null for passes."),
    bySource: z.array(
      z.object({
        source: straySource,
        readPoint: text,
        tags: count,
        passes: count.nullable(),
        reads: count.nullable(),
      }),
    ),
    tags: z.array(strayTag),
    leftOut: count.describe("Tags beyond those listed."),
  })
  .describe("Who was heard uninvited.");
export type Strays = z.infer<typeof strays>;

const setting = z.object({
  setting: z.string(),
  declared: text.describe("What the round declares; null where it does not."),
  logged: z.array(z.object({ file: z.string(), values: z.array(z.string()) })),
  agrees: z.boolean(),
});
export type Setting = z.infer<typeof setting>;

const tagTrials = z
  .object({
    column: z.string(),
    models: z.array(
      z.object({
        model: z.string(),
        tags: count,
        presented: count,
        read: count,
        lower: z.number().nullable(),
        upper: z.number().nullable(),
        medianDbm: dBm,
        state: state.nullable().describe("What the state would be with this model alone."),
      }),
    ),
    pairs: z
      .array(
        z.object({
          first: z.string(),
          second: z.string(),
          passes: count.describe("Passes with both."),
          difference: z.number().describe("Of the read rates, first less second, the mean over passes."),
          lower: z.number(),
          upper: z.number(),
          p: z.number(),
          pAdjusted: z.number().describe("By Holm over the pairs of models."),
          toldApart: z.boolean(),
        }),
      )
      .describe("The smallest p first."),
  })
  .describe("Tag models walked side by side under the same passes.");
export type TagTrials = z.infer<typeof tagTrials>;

const powerShort = z
  .object({
    share: z.number().describe("To be read at the power in use: as a criterion asks, or 0.99."),
    inUseDbm: dBm,
    atInUse: interval
      .nullable()
      .describe("The share read at the power in use, by the logit; null without a curve."),
    pAdjusted: pAdjusted
      .nullable()
      .describe("Of the power in use reading the share; null where that was not tested."),
  })
  .describe("Whether the transmit power in use reaches what the power log asks for.");
export type PowerShort = z.infer<typeof powerShort>;

const radioSignal = z
  .object({
    before: z.string().describe("The round that it is held against."),
    passes: count.describe("Passes of the judged round with signals."),
    passesBefore: count,
    changeDb: z
      .number()
      .describe("Of the strongest reads: the mean over passes of their medians, less that of before."),
    expectedDb: z.number().describe("What the settings account for: power once, cable and gain twice."),
    unexplainedDb: z.number(),
    allowanceDb: z.number().describe("How much weaker than expected is worth a look."),
    pAdjusted,
  })
  .describe("How the signal changed since the round before, and how much of it the settings account for.");
export type RadioSignal = z.infer<typeof radioSignal>;

const dwellPass = z.object({
  pass: z.string(),
  speedMPerS: z.number(),
  tags: count.describe("Presented."),
  missed: count,
  dwellS: z.number().describe("Zone length over speed."),
  neededTagsPerS: z.number().describe("Tags over dwell, as if all came at once."),
  achievedTagsPerS: z
    .number()
    .nullable()
    .describe(
      "New tags after the first over the seconds between the first and the last; null without a reader's log.",
    ),
});
export type DwellPass = z.infer<typeof dwellPass>;

const three = z.object({ min: z.number(), median: z.number(), max: z.number() });

const timeToAnswer = z
  .object({
    zoneM: z.number(),
    basis: z.enum(["stated", "usual", "log"]).describe("Where the yardstick comes from."),
    yardstickTagsPerS: z
      .number()
      .describe("The stated rate, else the usual one; where the log shows a pass that did better, that."),
    passes: count.describe("Whose speed is known."),
    withoutSpeed: count,
    dwellS: three,
    neededTagsPerS: three,
    achieved: z
      .object({ passes: count, medianTagsPerS: z.number(), bestTagsPerS: z.number() })
      .nullable()
      .describe("What the reader's log shows; null where it names too few tags."),
    behind: z
      .array(z.string())
      .describe("Passes with misses in which the log shows fewer tags a second than needed."),
    tooShort: z.array(dwellPass).describe("Passes that needed more than the yardstick, in the order walked."),
    pAdjusted: pAdjusted.nullable().describe("Of the misses in them; null where there are none."),
  })
  .describe("Whether tags were in the zone long enough to answer.");
export type TimeToAnswer = z.infer<typeof timeToAnswer>;

const reach = z
  .object({
    rangeM: z.number().describe("How far the settings should reach in free space."),
    eirpDbm: z.number(),
    frequencyMhz: z.number(),
    tagGainDbi: z.number(),
    tagThresholdDbm: z.number(),
    isTagStated: z
      .boolean()
      .describe("Whether facility.yaml states the tag's threshold, or the usual one was taken."),
    distances: z
      .array(
        z.object({
          distanceM: z.number(),
          presented: count,
          missed: count,
          spareDb: z.number().describe("What is left above the tag's threshold in free space."),
          short: z.boolean().describe("More than half missed, with 3 dB and more to spare."),
        }),
      )
      .describe("The nearest first."),
    reachedM: z
      .number()
      .nullable()
      .describe("The farthest of the distances at which at least half was read."),
    pAdjusted: pAdjusted
      .nullable()
      .describe("Of the worst distance with 3 dB to spare; null where none has that."),
  })
  .describe(
    "How far tags were read, against how far the settings should reach in free space: plausibility only.",
  );
export type Reach = z.infer<typeof reach>;

const details = {
  map: missMap.nullable(),
  standingOut: standingOut.nullable(),
  runOfPasses: runOfPasses.nullable(),
  drivers: drivers.nullable(),
  signal: signal.nullable(),
  antennas: z.array(antenna).nullable(),
  strays: strays.nullable(),
  idleTags: strays.nullable(),
  settings: z.array(setting).nullable(),
  tagTrials: tagTrials.nullable(),
  power: powerShort.exactOptional(),
  radioSignal: radioSignal.exactOptional(),
  timeToAnswer: timeToAnswer.exactOptional(),
  reach: reach.exactOptional(),
};

const detailsSchema = z.object(details);
/** What the sources found, each under its own key. */
export type WhyDetails = z.infer<typeof detailsSchema>;

export const whySchema = z
  .object({ round: z.string(), ...details })
  .describe("What stands behind the diagnosis.");
export type Why = z.infer<typeof whySchema>;
