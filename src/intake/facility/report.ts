import { z } from "zod";
import { defaultInterval, intervals } from "../../intervals/index.ts";
import type { Judged, Party } from "../../model/facility.ts";
import {
  confidenceOutOfRange,
  missCorrelationOutOfRange,
  smallestChangeOutOfRange,
} from "../problems/yaml.ts";
import { date, type OwnWords, optional, text, words } from "../yaml/shape.ts";

/* What a facility and a journey say alike: the report, its people, and by what it judges. */

export const reportShape = () =>
  optional(
    z.strictObject({
      number: text("The report's number."),
      revision: text("Its revision."),
      issued: date("Its date of issue, YYYY-MM-DD."),
    }),
    "What identifies the report. The date of issue is stated here and never taken from the clock.",
  );

export const partySchema = z.strictObject({
  name: text("The person's name."),
  organisation: words("The organisation the person acts for."),
  role: words("The person's role, for example commissioning engineer."),
});

type RawParty = z.infer<typeof partySchema>;

function normaliseParty(party: RawParty): Party {
  return { name: party.name, organisation: party.organisation ?? null, role: party.role ?? null };
}

/** The keys of every interval and every change. @param alike what misses together; and whose rate it is */
export const judgingKeys = ({ alike, rate }: { alike: string; rate: string }) => ({
  confidence: optional(z.number().gt(0.5).lt(1), "Two-sided confidence of every interval; 0.95 if left out."),
  interval: optional(
    z.enum(intervals.ids()),
    `The interval for rates; ${[`${defaultInterval().id} where left out`, ...intervalHelp()].join(", ")}.`,
  ),
  miss_correlation: optional(
    z.number().min(0).lt(1),
    `The least correlation that is assumed between ${alike}; 0.02 if left out.`,
  ),
  smallest_change_that_matters: optional(
    z.number().gt(0).lt(1),
    `The smallest change of ${rate} between rounds that anybody would act on, as a fraction; 0.005 if left out.`,
  ),
});

function intervalHelp(): string[] {
  return intervals.all().flatMap(({ words }) => words.help ?? []);
}

/** What is said of them where they are out of range. */
export const judgingRanges: OwnWords["ranges"] = {
  confidence: confidenceOutOfRange,
  miss_correlation: missCorrelationOutOfRange,
  smallest_change_that_matters: smallestChangeOutOfRange,
};

interface RawReport {
  client?: string | null | undefined;
  report?: Judged["report"] | undefined;
  prepared_by?: RawParty | null | undefined;
  witnessed_by?: RawParty[] | null | undefined;
  pseudonyms?: boolean | null | undefined;
}

/** All of it with the defaults filled in. */
export function normaliseJudged(
  raw: RawReport & Partial<z.infer<z.ZodObject<ReturnType<typeof judgingKeys>>>>,
): Omit<Judged, "rounds" | "signOffRound"> {
  return {
    client: raw.client ?? null,
    report: raw.report ?? null,
    preparedBy: raw.prepared_by == null ? null : normaliseParty(raw.prepared_by),
    witnessedBy: (raw.witnessed_by ?? []).map(normaliseParty),
    pseudonyms: raw.pseudonyms ?? false,
    confidence: raw.confidence ?? 0.95,
    interval: raw.interval ?? defaultInterval().id,
    missCorrelation: raw.miss_correlation ?? 0.02,
    smallestChangeThatMatters: raw.smallest_change_that_matters ?? 0.005,
  };
}
