import { wilsonBounds } from "../statistics/wilson.ts";
import type { Interval } from "./interval.ts";
import { onEffectiveSample } from "./on-effective-sample.ts";

/** The score interval on the effective sample: nearest to the rate of all, and what a facility that names none gets. */
export const wilson: Interval = {
  id: "wilson",
  ...onEffectiveSample(wilsonBounds),
  isStrict: false,
  words: {
    name: "Wilson",
    short: "Wilson",
    help: null,
    used: "This facility uses the Wilson interval.",
    assumes:
      "It is accurate where passes and tags differ no more than the assumed correlation stands for, and too narrow where they differ more.",
    effectiveSample: null,
    chapter: null,
    formulas: [
      {
        lead: "Wilson:",
        formula:
          "*p* = *k* / *n*, and the bounds are [ *p* + *z*² / 2*m* ± *z* √( *p*(1 − *p*) / *m* + *z*² / 4*m*² ) ] / ( 1 + *z*² / *m* )",
      },
    ],
    where:
      "*m* is the effective sample (explained below), *α* is one less the confidence, and *z* is the 1 − *α*/2 quantile of the normal distribution: 1.960 at 95\u202f%.",
    sources: [
      {
        citation:
          "E. B. Wilson (1927), Probable inference, the law of succession, and statistical inference. Journal of the American Statistical Association 22, 209\u2013212.",
        usedFor: "The Wilson interval.",
        verified: "Verified against intervals that R packages publish, and against Newcombe's table.",
      },
      {
        citation:
          "R. G. Newcombe (1998), Two-sided confidence intervals for the single proportion: comparison of seven methods. Statistics in Medicine 17, 857\u2013872.",
        usedFor: "Printed values of the Wilson and the exact interval (table I).",
        verified:
          "Wilson's values as another public source quotes them; the exact values agree with a statistics library.",
      },
    ],
  },
};
