import { z } from "zod";
import { powerLogsInHundred } from "../intervals/simulated.ts";
import { counted, countedInWords, countText, statedPercent } from "../model/number-words.ts";
import { marginEvidence } from "./evidence/margins.ts";
import type { CriterionFault, Measure, Parameters } from "./measure.ts";
import { decibel, percentSlip, withUnit } from "./scales.ts";

/** What a criterion asks for where it does not say. */
const usualShare = 0.99;

/** The share that a criterion wants read at the power in use. */
export function shareOf({ share }: Parameters): number {
  return typeof share === "number" ? share : usualShare;
}

/** How far the transmit power in use lies above the power at which a share of the tags is read, by the power log. */
export const powerMargin: Measure = {
  id: "power-margin",
  title: "Power in hand",
  unit: { one: "presentation", many: "presentations" },
  scale: decibel,
  usualSense: "at-least",
  besidePasses: {
    what: "a power log",
    passes: { one: "power", many: "powers" },
    none: "no power log",
    settling: (further) =>
      further === null
        ? {
            sentence: "more tags at the same powers, read in the same shares, would not show that it is met",
            note: "more of the same would not settle it",
          }
        : {
            sentence: `${countedInWords(further, "further presentation", "further presentations")} at the same powers, read in the same shares, would settle it`,
            note: `${counted(further, "more", "more")} at the same powers`,
          },
    settlingUnit: "presentations at the same powers, read in the same shares",
  },
  criterion: {
    parameters: {
      share: {
        schema: z.number().nullish().meta({
          description: "For power-margin: the share to be read, between 0 and 1; 0.99 if left out.",
        }),
      },
    },
    faults: shareFaults,
    excluded: {
      sense: "at-most",
      advice: "Too much power in hand is no fault of its own: write at_least.",
    },
  },
  log: { roles: [] },
  collect: ({ log, readPoint, round }, criterion) => {
    const own = log.power.find((one) => one.readPoint === readPoint && one.round === round);
    return marginEvidence({
      steps: own?.steps ?? [],
      cohorts: own?.cohorts ?? null,
      inUseDbm: own?.inUseDbm ?? null,
      share: shareOf(criterion),
    });
  },
  words: {
    count: (k, n) => `${countText(k)} of ${counted(n, "tag", "tags")} read over all powers`,
    fault: "a miss",
    nothingCounted: () => "There is no power log",
    figure: ({ value }, criterion) => {
      const share = statedPercent(shareOf(criterion));
      if (!/\d/.test(value)) return `no margin to the power that ${share} needs`;
      const isShort = /^[-\u2212]/.test(value);
      const distance = withUnit(value.replace(/^[-\u2212]/, ""), decibel);
      return `the power in use is ${distance} ${isShort ? "below" : "above"} what ${share} needs`;
    },
    howToRead: "the margin is the power in use less the power at which the share is read",
  },
  plan: null,
  method: {
    counts:
      "the transmit power in use less the power at which a stated share of the tags is read, by logistic regression of the power log, with Fieller's limits",
    of: `tags presented at the powers of the power log; where the log does not name them, the same ones at every power. Of simulated read points whose margin is exactly the limit, at most ${powerLogsInHundred(0)} in 100 are met, with 20 to 100 tags at each of seven powers, if the curve is the true one; if one tag in twenty takes 8\u202fdB more than the others, up to ${powerLogsInHundred(8)} for 99\u202f%`,
  },
};

function shareFaults({ share }: Parameters): CriterionFault[] {
  if (share === undefined || share === null || (typeof share === "number" && share > 0 && share < 1))
    return [];
  return [
    {
      key: "share",
      expected: "a share above 0 and below 1",
      advice:
        (typeof share === "number" ? percentSlip(share) : null) ??
        "0.99 is usual: no power reads all tags for certain.",
    },
  ];
}
