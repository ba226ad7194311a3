import {
  betaBinomialBounds,
  type ClusteredFailures,
  isLowerTailAtMost,
  isUpperTailAtMost,
} from "../statistics/beta-binomial-interval.ts";
import { clopperPearsonBounds, effectiveSampleSizeFor } from "../statistics/clopper-pearson.ts";
import { type ClusteredSample, effectiveClusterings } from "../statistics/effective-sample.ts";
import type { Bounds } from "../statistics/wilson.ts";
import {
  type Decision,
  exactDecision,
  type Interval,
  type IntervalBounds,
  type Limit,
  type Settings,
} from "./interval.ts";
import { inHundred, inHundredOf, walksOf } from "./simulated.ts";

/**
 * The interval that works on passes and tags themselves: the widest of the Clopper-Pearson one on all trials and of those
 * that each effective clustering gives by `betaBinomialBounds`. Without an effective clustering it is Clopper-Pearson.
 *
 * Where fewer trials succeeded than failed, successes are taken for failures and the result is turned round, so that the
 * interval is its own mirror. A miss that lies apart from the others shows that misses cluster less. So that one more miss
 * never raises the lower end, the end is the smallest with any number of misses taken as read, isolated ones first; a miss
 * is isolated where it is the only one of its pass, or of its tag in the part of the interval that works on tags.
 * Example: 22 passes of 40, each tag presented once, nothing missed, correlation 0.02, 95 %: 0.99031 to 1 (computed).
 */
function bounds(sample: ClusteredSample, { confidence, missCorrelation }: Settings): IntervalBounds {
  const plain = clopperPearsonBounds(sample.k / sample.n, sample.n, confidence);
  const widest = sidesOf(sample).reduce((so, { counted, turned }) => {
    const found = betaBinomialBounds(counted, missCorrelation, confidence);
    const { lower, upper } = turned ? found : { lower: 1 - found.upper, upper: 1 - found.lower };
    return { lower: Math.min(so.lower, lower), upper: Math.max(so.upper, upper) };
  }, plain);
  return { ...widest, effectiveN: effectiveN(sample, widest, confidence) };
}

/**
 * Met and not met where the bounds lie on one side of the limit, which is found without working them out: a bound lies
 * beyond the limit just where a result as good as the observed one, or as bad, would be no likelier than alpha/2 if the
 * limit were the true rate. Clopper-Pearson on all trials is part of the interval, so it needs no second condition.
 */
function decide(sample: ClusteredSample, limit: Limit, { confidence, missCorrelation }: Settings): Decision {
  const half = (1 - confidence) / 2;
  const plain = exactDecision(sample.k / sample.n, sample.n, { ...limit, confidence });
  const rate = limit.limit;
  /** Whether so many successes or more, or so few or fewer, are too unlikely at the limit in every clustering. */
  const isShown = (tail: "as many" | "as few") =>
    sidesOf(sample).every(({ counted, turned }) => {
      const isAtMost = (tail === "as many") === turned ? isUpperTailAtMost : isLowerTailAtMost;
      return isAtMost(half, counted, { probability: turned ? rate : 1 - rate, floor: missCorrelation });
    });
  const [good, bad] =
    limit.sense === "at-least" ? (["as many", "as few"] as const) : (["as few", "as many"] as const);
  if (plain === "undecided") return plain;
  return isShown(plain === "met" ? good : bad) ? plain : "undecided";
}

/** What one effective clustering shows: its failures, or its successes where those are fewer. */
interface Side {
  counted: ClusteredFailures;
  /** Whether successes are counted. */
  turned: boolean;
}

function sidesOf(sample: ClusteredSample): Side[] {
  const { n, k } = sample;
  const turned = k < n - k;
  const failures = turned ? k : n - k;
  return effectiveClusterings(sample).map((sums) => {
    const squares = turned
      ? sums.sizeSquares - 2 * sums.failuresTimesSize + sums.failureSquares
      : sums.failureSquares;
    const { sizes, failing, succeeding } = sums.layout();
    const counted = {
      n,
      failures,
      sizes,
      pairs: (squares - failures) / 2,
      failing: turned ? succeeding : failing,
    };
    return { counted, turned };
  });
}

/**
 * How many independent trials have the same lower end by Clopper and Pearson, or the same upper one where less than half
 * succeeded. At most n, and n itself where nothing is clustered.
 * Example: 22 passes of 40 without a miss at a lower end of 0.99031 are worth 378.8 (computed).
 */
function effectiveN(sample: ClusteredSample, { lower, upper }: Bounds, confidence: number): number {
  const { n, k } = sample;
  if (effectiveClusterings(sample).length === 0) return n;
  const end = k < n - k ? { p: (n - k) / n, lower: 1 - upper } : { p: k / n, lower };
  return effectiveSampleSizeFor(end, n, confidence);
}

const what =
  "Wilson and Clopper-Pearson use an effective sample. If few presentations were missed, its size depends mostly on the assumed correlation, and both intervals are too narrow where passes or tags differ more than that correlation stands for. The beta-binomial interval uses the passes and the tags themselves. It asks how likely so few misses would be at the limit if the misses of one pass are correlated. It does not trust a single correlation: it tries sixteen, from the assumed one up to 1.5 times the square root of miss rate times read rate, or up to the correlation that the log itself shows. Each is weighted by how well it explains where the misses are: together in one pass, or apart. A miss apart from the others makes all misses look less alike, so by itself one more miss could raise the bound. It never does here: the lower bound is the smallest with any number of misses taken as read, isolated ones first. Wilson and Clopper-Pearson, as published, take no such care: with eight passes of 100 at a limit of 95\u202f%, six misses in one pass are undecided, and one more miss elsewhere makes them met. That is one more reason to sign off by beta-binomial.";

const when = `Use it for signing off, unless earlier walks have shown how alike your passes are. Wilson and exact are good enough where passes and tags scatter by one unit on the logit scale, which is what 0.02 stands for at 99\u202f%: of simulated read points whose true rate is exactly the limit, they sign off at most ${inHundred(1, "wilson")} in 100, and beta-binomial ${inHundred(1, "beta-binomial")}. At a scatter of 1.5 units they sign off up to ${inHundred(1.5, "wilson")}, and beta-binomial up to ${inHundred(1.5, "beta-binomial")} (the confidence promises 2.5). In these walks the same tags go through in every pass. With other tags in each, beta-binomial signs off at most ${inHundredOf("on the logit scale", "beta-binomial")} in 100 at up to 1.5 units, ${inHundredOf("unequal", "beta-binomial")} in 100 with passes of unequal size, ${inHundredOf("Few", "beta-binomial")} with two to eight passes of 100 or 300 tags, ${inHundredOf("Beta-binomial", "beta-binomial")} where misses have a beta-binomial correlation of up to 0.1, and ${inHundredOf("rise", "beta-binomial")} where they rise steadily during the walk (${walksOf("on the logit scale", "beta-binomial")} walks of each setting). Wilson and exact are good enough at 1.5 units too if miss_correlation is raised to what was measured, but then they need more passes than beta-binomial does. No interval shows what was not walked: if the worst kind of pass never occurred, no figure includes it.`;

/** The beta-binomial interval of clustered failures, for walks whose passes or tags may differ much. */
export const betaBinomial: Interval = {
  id: "beta-binomial",
  bounds,
  decide,
  isForSignOff: true,
  isStrict: true,
  words: {
    name: "beta-binomial (Clopper-Pearson with clustering)",
    short: "beta-binomial",
    help: "beta-binomial is valid even if passes or tags differ more than assumed",
    used: "This facility uses the beta-binomial interval, which allows for correlated misses within passes and tags.",
    atStart: "It holds where passes or tags differ much from each other, and one more miss never helps.",
    assumes:
      "It holds even where passes and tags scatter much more than the assumed correlation stands for, if passes, and tags, are independent of each other; it does not where a few are far worse than all others, since those may not have come up.",
    effectiveSample:
      "This report uses the beta-binomial interval, which does not use these three numbers. The effective sample in its tables is computed from the result: the number of independent presentations that have the same lower bound by Clopper and Pearson. The differences between rounds use the three numbers.",
    chapter: {
      id: "clustered",
      title: "If passes or tags differ much",
      paragraphs: (isUsed) => [
        what,
        `${when} ${isUsed ? "This report uses it." : "This report does not use it."}`,
      ],
    },
    formulas: [
      {
        lead: "Beta-binomial:",
        formula:
          "the lower bound is the read rate 1 − *p* at which Σ *w*_{i} P( *M* ≤ *m* | *p*, *ρ*_{i} ) = *α*/2, the upper bound the one at which Σ *w*_{i} P( *M* ≥ *m* | *p*, *ρ*_{i} ) = *α*/2",
      },
      {
        lead: "with",
        formula:
          "*ρ*_{i} = the larger of *ρ* and *r*( *i* − ½ ) / 16, *i* from 1 to 16, and *r* the larger of 1.5 √( *p*(1 − *p*) ) and the observed correlation",
      },
      {
        lead: "and",
        formula:
          "*w*_{i} in proportion to ( *s*_{i}^{q} (1 − *s*_{i})^{Q − q} )^{1/4}, *s*_{i} = *A* ( 1 + *ρ*_{i}(1 − *p*)/*p* ) / [ *A* ( 1 + *ρ*_{i}(1 − *p*)/*p* ) + *B* ]",
      },
    ],
    where:
      "*p* is a miss rate, *m* the number of misses, and *M* their total over passes whose misses follow the beta-binomial distribution with correlation *ρ*_{i}. *A* of all pairs of presentations share a pass and *B* do not; *q* of all *Q* pairs of misses share one. The same is computed over tags; the wider interval counts, and Clopper and Pearson on all *n* if it is wider. If less than half was read, reads and misses change places. The lower bound is the smallest with any number of misses taken as read; those alone in their pass, or of their tag, first. The numbers 16, 1.5 and 1/4 are our choice, made by simulation.",
    sources: [
      {
        citation:
          "J. G. Skellam (1948), A probability distribution derived from the binomial distribution by regarding the probability of success as variable between the sets of trials. Journal of the Royal Statistical Society B 10, 257\u2013261.",
        usedFor: "The beta-binomial interval, and plans: correlated misses within a pass.",
        verified:
          "The probabilities and the ends of the interval are verified against a convolution in base R.",
      },
      {
        citation:
          "C. Varin, N. Reid and D. Firth (2011), An overview of composite likelihood methods. Statistica Sinica 21, 5\u201342.",
        usedFor: "The beta-binomial interval: weights of correlations by pairs of misses.",
        verified: "Verified by simulation: a read point at its limit is seldom signed off.",
      },
      {
        citation:
          "R. Lugannani and S. Rice (1980), Saddle point approximation for the distribution of the sum of independent random variables. Advances in Applied Probability 12, 475\u2013490.",
        usedFor: "The beta-binomial interval where hundreds were missed.",
        verified: "The form for whole numbers is H. E. Daniels's (1987). Verified against the convolution.",
      },
    ],
  },
};
