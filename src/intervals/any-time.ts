import {
  confidenceSequenceBounds,
  logMixtureRatio,
  lowerEnd,
  sampleSizeOfLowerEnd,
} from "../statistics/confidence-sequence.ts";
import {
  type ClusteredSample,
  effectiveClusterings,
  effectiveSampleSizeAt,
  mirrored,
  samplesWithFewerFailures,
} from "../statistics/effective-sample.ts";
import type { Decision, Interval, IntervalBounds, Limit, Settings } from "./interval.ts";
import { inHundredOf, untilMet, upTo, walksOf } from "./simulated.ts";

/** The least correlation that is assumed, and the spread of a rate at which it belongs: 99 %. */
const least = { correlation: 0.06, spread: 0.99 * 0.01 };

/**
 * How alike misses of one pass, or of one tag, are taken to be if the true rate is `rate` (strictly between 0 and 1): at
 * 99 % and above `missCorrelation` (0 to below 1), or 0.06 where that is larger, and more at lower rates.
 *
 * A walk that may stop at any pass must not trust a few early ones, and 0.02 does so: at a scatter between passes of two
 * units on the logit scale it signs off too often in long walks. Passes that differ by the same scatter have misses the
 * more alike the more there are: the correlation grows about as rate times miss rate. So its odds are taken to grow in
 * that proportion. A correlation above 0.06 was stated on purpose, for the rate that was walked: it stands until the
 * growth of 0.06 overtakes it. 0 says that presentations are independent, and stays 0.
 *
 * With s the larger of 0.06 and `missCorrelation`: the larger of s and o / (1 + o), o = 0.06 / 0.94 rate (1 - rate) /
 * 0.0099. The form and the number are our choice, made by simulation.
 * Example: 0.02 is 0.06 at 99 %, 0.158 at 97 % and 0.234 at 95 %; 0.3 is 0.3 at all three (computed).
 */
export function correlationAt(missCorrelation: number, rate: number): number {
  if (missCorrelation === 0) return 0;
  const stated = Math.max(missCorrelation, least.correlation);
  const odds = ((least.correlation / (1 - least.correlation)) * (rate * (1 - rate))) / least.spread;
  return Math.max(stated, odds / (1 + odds));
}

/**
 * The effective sample where a rate (strictly between 0 and 1) is put to the test: at the correlation that belongs to
 * that rate. With nothing clustered it is n.
 * Example: 22 passes of 40 with nothing missed, correlation 0.02: 494.4 at 99 %, 196.5 at 95 % (computed).
 */
export function sampleSizeAt(sample: ClusteredSample, settings: Settings): (rate: number) => number {
  const atCorrelation = effectiveSampleSizeAt(sample, settings.confidence);
  return (rate) => atCorrelation(correlationAt(settings.missCorrelation, rate));
}

/**
 * The confidence sequence on the effective sample that belongs to each rate. Its lower end is the smallest with any number
 * of misses taken as read, isolated ones first, so that one more miss never raises it. Where less than half succeeded, the
 * interval is the mirror of that of the misses. The effective sample is the number of independent trials that end at the
 * same lower end, or at the same upper one where less than half succeeded.
 * Example: 38 passes of 40, each tag presented once, nothing missed, correlation 0.02, 95 %: 0.99000 to 1 (computed).
 */
function bounds(sample: ClusteredSample, settings: Settings): IntervalBounds {
  const { n, k } = sample;
  if (2 * k < n) {
    const { lower, upper, effectiveN } = bounds(mirrored(sample), settings);
    return { lower: 1 - upper, upper: 1 - lower, effectiveN };
  }
  const { confidence } = settings;
  const at = sampleSizeAt(sample, settings);
  const own = confidenceSequenceBounds(k / n, at, confidence);
  const lowerOf = (fewer: ClusteredSample) =>
    lowerEnd(fewer.k / fewer.n, sampleSizeAt(fewer, settings), confidence);
  const lower = Math.min(own.lower, ...samplesToShow(sample).slice(1).map(lowerOf));
  const most = at(lower);
  const effectiveN = lower === own.lower ? most : sampleSizeOfLowerEnd({ p: k / n, lower }, most, confidence);
  return { lower, upper: own.upper, effectiveN };
}

/** The samples that must all show a rate: nothing clustered needs but its own. */
function samplesToShow(sample: ClusteredSample): ClusteredSample[] {
  return effectiveClusterings(sample).length === 0 ? [sample] : samplesWithFewerFailures(sample);
}

/**
 * Met and not met where the bounds lie on one side of the limit, which is found without working them out: an end lies
 * beyond the limit just where the evidence against the limit itself reaches 2/alpha. The bounds are never nearer than the
 * Clopper-Pearson ones of the same sample, so they need no second condition. A rate on its limit is undecided.
 * Example: 38 passes of 40 with nothing missed, at least 0.99 at 95 %, correlation 0.02: met; 37 passes: undecided.
 */
function decide(sample: ClusteredSample, { sense, limit }: Limit, settings: Settings): Decision {
  const { n, k } = sample;
  if (2 * k < n) {
    const other = sense === "at-least" ? "at-most" : "at-least";
    return decide(mirrored(sample), { sense: other, limit: 1 - limit }, settings);
  }
  const p = k / n;
  if (p === limit) return "undecided";
  const needed = Math.log(2 / (1 - settings.confidence));
  const isShown =
    p > limit
      ? samplesToShow(sample).every(
          (fewer) => logMixtureRatio(fewer.k / n, sampleSizeAt(fewer, settings)(limit), limit) >= needed,
        )
      : logMixtureRatio(1 - p, sampleSizeAt(sample, settings)(limit), 1 - limit) >= needed;
  if (!isShown) return "undecided";
  return p > limit === (sense === "at-least") ? "met" : "not-met";
}

const why =
  "If you look after every pass and stop as soon as the interval clears the limit, an interval made for a single look is too optimistic: a read point that misses its limit gets another chance at every look. Decide before the walk how many passes to walk, or use the any-time interval. It holds at all looks together, so you may stop as soon as it clears the limit.";

const price = `It needs more passes: to show 99\u202f% at 95\u202f% it takes ${untilMet.fewestIndependent} independent presentations without a miss instead of ${untilMet.fewestIndependentFixed}, and ${untilMet.fewestPasses} passes of 40 tags where beta-binomial takes ${untilMet.fewestPassesFixed}. It saves little: a simulated read point that reads 99.8\u202f% shows 99\u202f% with passes of 40 tags after ${untilMet.meanPasses} passes on average, half of such walks after ${untilMet.medianPasses}; a walk of ${untilMet.fixedPasses} passes that was decided beforehand and is judged once, by beta-binomial, shows it in ${untilMet.fixedMetInHundred} of 100. It gains the right to look, and walks of very good read points end early. It compares the rates above the limit with the limit itself, weighted by Beta(1/2, 1/2).`;

const sameTags = upTo(2, "any-time");

const promise = `After few passes little is known about how passes differ, so much depends on the assumed correlation. The any-time interval therefore assumes at least 0.06 at rates of 99\u202f% and above. The same scatter between passes makes misses more alike the more of them there are, so the correlation grows as the rate under test falls: to 0.16 at 97\u202f% and 0.23 at 95\u202f%. A stated correlation above 0.06 is used as stated until that growth overtakes it. 0 states that presentations are independent, and stays 0. The promise was measured on simulated read points whose true rate is exactly a limit of 99, 97 or 95\u202f%. Looked at after every pass of a walk of 10 to 50 passes of the same tags, it signs off ${sameTags.share} of them if passes and tags scatter by up to 2 units on the logit scale (${sameTags.walks} walks of each setting). In walks of 200 passes of 20, 40 and 100 tags, other tags each time, it ever signs off at most ${inHundredOf("logit", "any-time")} in 100 if passes scatter by up to 2 units, and ${inHundredOf("Beta-binomial", "any-time")} if their misses have a beta-binomial correlation of up to 0.1 (${walksOf("logit", "any-time")} walks of each setting; the confidence promises 2.5). It was not measured for longer walks. The cost is that a few passes show little: five passes of forty tags without a miss show 56\u202f%.`;

/** A confidence sequence, for looking after every pass. */
export const anyTime: Interval = {
  id: "any-time",
  bounds,
  decide,
  isStrict: true,
  words: {
    name: "any-time (confidence sequence)",
    short: "any-time",
    help: "any-time is valid however often one looks",
    used: "This facility uses the any-time interval, which stays valid however often you look.",
    assumes:
      "It holds where passes and tags differ no more than the assumed correlation stands for, which is at least 0.06 and is raised for rates below 99\u202f%.",
    effectiveSample:
      "This report uses the any-time interval, for which the second number has the correlation that belongs to the rate under test. The effective sample in its tables is the one at its lower bound, or at its upper bound if less than half was read. The differences between rounds use the three numbers unchanged.",
    chapter: {
      id: "any-time",
      title: "If you look after every pass",
      paragraphs: (isUsed) => [
        `${why} ${
          isUsed
            ? "This report uses it."
            : "This report does not use it: its intervals are for a number of passes that was decided beforehand."
        } ${price}`,
        promise,
      ],
    },
    formulas: [
      {
        lead: "Any-time:",
        formula:
          "the lower bound is the smallest *p* = cos² *T* at which ( 1 / *T* ) ∫ ( cos *t* / cos *T* )^{2*k*} ( sin *t* / sin *T* )^{2(*m*−*k*)} d*t*, over *t* from 0 to *T*, stays below 2 / *α*; the upper bound is its mirror",
      },
      {
        lead: "with",
        formula:
          "*m* the effective sample at the larger of *ρ*, 0.06 and *o* / ( 1 + *o* ), *o* = 0.06 / 0.94 × *p*(1 − *p*) / 0.0099; the bound is the smallest with any number of the *n* − *k* misses taken as read, isolated ones first",
      },
    ],
    where:
      "*ρ* is the assumed correlation, and 0.0099 is *p*(1 − *p*) at 99\u202f%. That the odds of the correlation grow in proportion to *p*(1 − *p*) is our choice, checked by simulation.",
    sources: [
      {
        citation:
          "H. Robbins (1970), Statistical methods related to the law of the iterated logarithm. Annals of Mathematical Statistics 41, 1397\u20131409.",
        usedFor: "The any-time interval: mixtures of likelihood ratios.",
        verified: "Verified by simulation: the interval keeps its promise.",
      },
      {
        citation:
          "S. R. Howard, A. Ramdas, J. McAuliffe and J. Sekhon (2021), Time-uniform, nonparametric, nonasymptotic confidence sequences. Annals of Statistics 49, 1055\u20131080.",
        usedFor: "The any-time interval: the beta-binomial mixture, one side at a time.",
        verified:
          "The weights Beta(1/2, 1/2) are our choice. The likelihood ratio gives the decision table of the sequential test in the NIST/SEMATECH e-Handbook, section 6.2.6.",
      },
    ],
  },
};
