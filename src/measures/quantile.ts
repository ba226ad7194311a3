import { z } from "zod";
import type { CriterionFault, CriterionNeeds, Parameters } from "./measure.ts";
import { percentSlip } from "./scales.ts";

/** What is usual for a measure: an example, and what it means. */
interface Usual {
  measure: string;
  example: number;
  means: string;
}

/** The key `quantile` of a criterion whose measure is a quantile of levels or times. */
export function quantileNeeds({ measure, example, means }: Usual): CriterionNeeds {
  const description = `For ${measure}: which quantile, between 0 and 1 (${example}).`;
  return {
    parameters: { quantile: { schema: z.number().nullish().meta({ description }) } },
    faults: (written) => faultsOf(written, example, means),
  };
}

/** Which quantile a criterion states; null where it states none. */
export function quantileOf({ quantile }: Parameters): number | null {
  return typeof quantile === "number" ? quantile : null;
}

function faultsOf(written: Parameters, example: number, means: string): CriterionFault[] {
  const quantile = quantileOf(written);
  if (quantile === null)
    return [
      {
        key: null,
        code: "quantile-missing",
        lacks: "quantile",
        expected: "quantile, a number between 0 and 1",
        advice: `Add, for instance, quantile: ${example}, ${means}.`,
      },
    ];
  if (quantile > 0 && quantile < 1) return [];
  return [
    {
      key: "quantile",
      code: "quantile-out-of-range",
      expected: "a number above 0 and below 1",
      advice: percentSlip(quantile) ?? `${example} is usual.`,
    },
  ];
}
