import { z } from "zod";

/*
 * What a power log says of a read point: the curve of the share read over the transmit power, by both usual links.
 */

/**
 * Whether a curve could be fitted, or why not: a single power, nothing read, everything read, a step from none to all, or reads
 * that do not rise with the power.
 */
export const powerCurveState = z.enum([
  "fitted",
  "too-few-powers",
  "none-read",
  "all-read",
  "separated",
  "falling",
]);
export type PowerCurveState = z.infer<typeof powerCurveState>;

const dBm = z.number();
const dB = z.number();

const neededPower = z
  .object({
    share: z.number(),
    powerDbm: dBm,
    lowerDbm: dBm.nullable().describe("Fieller's limits; null where they have no bounds."),
    upperDbm: dBm.nullable(),
    margin: z
      .object({ value: dB, lower: dB.nullable(), upper: dB.nullable() })
      .nullable()
      .describe("The power in use less this one, in dB; null where the settings state no power."),
  })
  .describe("The power at which a share of the tags is read.");

const powerCurve = z
  .object({
    link: z.enum(["logit", "probit"]),
    state: powerCurveState,
    noneAtDbm: dBm.nullable().describe("Of a separated one: the highest power that read no tag."),
    allAtDbm: dBm.nullable().describe("Of a separated one: the lowest power that read all tags."),
    intercept: z.number().nullable().describe("On the scale of the link, at 0 dBm; null without a curve."),
    slope: z.number().nullable().describe("For one dB."),
    deviance: z.number().nullable(),
    degreesOfFreedom: z.number().int().nullable(),
    heterogeneity: z
      .number()
      .nullable()
      .describe("What the scatter about the curve multiplies the variances by; 1 where chance explains it."),
    needed: z
      .array(neededPower)
      .describe("For 50, 90 and 99 %, and what criteria ask for; empty without a curve."),
    band: z
      .array(z.object({ powerDbm: dBm, share: z.number(), lower: z.number(), upper: z.number() }))
      .describe(
        "The curve with its pointwise interval, the lowest power first, the powers measured and the one in use among them; empty without a curve.",
      ),
  })
  .describe("Binomial regression of the tags read on the power in dBm.");
export type PowerCurve = z.infer<typeof powerCurve>;

export const powerResultSchema = z
  .object({
    round: z.string(),
    inUseDbm: dBm.nullable().describe("As the settings of the round state it."),
    steps: z.array(z.object({ powerDbm: dBm, presented: z.number().int(), read: z.number().int() })),
    tagsNamed: z
      .boolean()
      .describe(
        "Whether the log names its tags; if not, the same ones are taken to have been presented at every power.",
      ),
    curves: z.array(powerCurve).describe("By the logit, which judges, and by the probit beside it."),
  })
  .describe("How many tags were read at each transmit power, in one round.");
export type PowerResult = z.infer<typeof powerResultSchema>;
