import betaQuantile from "@stdlib/stats-base-dists-beta-quantile";
import { fails, type Interval, keeps } from "../../src/intervals/interval.ts";
import { onEffectiveSample } from "../../src/intervals/on-effective-sample.ts";

/** The interval of Jeffreys: equal tails of Beta(k + 1/2, n - k + 1/2). */
function jeffreysBounds(p: number, n: number, confidence: number) {
  const [a, b] = [p * n + 0.5, (1 - p) * n + 0.5];
  const alpha = 1 - confidence;
  return {
    lower: p === 0 ? 0 : betaQuantile(alpha / 2, a, b),
    upper: p === 1 ? 1 : betaQuantile(1 - alpha / 2, a, b),
  };
}

const { bounds } = onEffectiveSample(jeffreysBounds);

/** An interval that the tool does not have. Without a second condition for not met: one look at its own bounds decides. */
export const jeffreys: Interval = {
  id: "jeffreys",
  bounds,
  decide: (sample, limit, settings) => {
    const found = bounds(sample, settings);
    if (keeps(found, limit)) return "met";
    return fails(found, limit) ? "not-met" : "undecided";
  },
  isStrict: true,
  words: {
    name: "Jeffreys (equal tails)",
    short: "Jeffreys",
    help: "jeffreys is Bayesian",
    used: "This facility uses the interval of Jeffreys.",
    assumes: "It takes every rate to be possible before anything is walked.",
    effectiveSample: null,
    chapter: null,
    formulas: [{ lead: "Jeffreys:", formula: "equal tails of Beta( *k* + ½, *n* − *k* + ½ )" }],
    where: "*k* of *n* were read.",
    sources: [
      {
        citation: "H. Jeffreys (1961), Theory of probability, third edition. Clarendon Press.",
        usedFor: "The prior.",
        verified: "Nothing was checked.",
      },
    ],
  },
};
