import { clopperPearsonBounds } from "../statistics/clopper-pearson.ts";
import { exactDecision, type Interval } from "./interval.ts";
import { onEffectiveSample } from "./on-effective-sample.ts";

/** The interval of Clopper and Pearson on the effective sample. */
export const exact: Interval = {
  id: "exact",
  ...onEffectiveSample(clopperPearsonBounds, exactDecision),
  isStrict: false,
  words: {
    name: "exact (Clopper and Pearson)",
    short: "Clopper-Pearson",
    help: "exact is Clopper-Pearson",
    used: "This facility uses the exact interval of Clopper and Pearson.",
    assumes:
      "It is never too narrow for independent presentations, but too narrow where passes or tags differ more than the assumed correlation stands for.",
    effectiveSample: null,
    chapter: null,
    formulas: [
      {
        lead: "Clopper and Pearson:",
        formula:
          "the lower bound is the *α*/2 quantile of Beta( *pm*, *m* − *pm* + 1 ), the upper bound the 1 − *α*/2 quantile of Beta( *pm* + 1, *m* − *pm* )",
      },
    ],
    where: "*m* is the effective sample (explained below), and *α* is one less the confidence.",
    sources: [
      {
        citation:
          "C. J. Clopper and E. S. Pearson (1934), The use of confidence or fiducial limits illustrated in the case of the binomial. Biometrika 26, 404\u2013413.",
        usedFor: "The exact interval, and the second condition for \u201cnot met\u201d.",
        verified:
          "Verified against the worked example of the NIST/SEMATECH e-Handbook of Statistical Methods, section 7.2.4.1 (4 of 20 at 90\u202f%).",
      },
    ],
  },
};
