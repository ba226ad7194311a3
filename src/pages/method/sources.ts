import type { Source } from "../../intervals/interval.ts";

/** Sources of everything but the intervals, whose cards name their own. */
export const sources: Source[] = [
  {
    citation:
      "E. L. Korn and B. I. Graubard (1998), Confidence intervals for proportions with small expected number of positive counts estimated from survey data. Survey Methodology 24, 193\u2013201.",
    usedFor: "The effective sample, corrected for how few passes or tags there are.",
    verified: "Verified against R's survey package.",
  },
  {
    citation:
      "A. C. Cameron, J. B. Gelbach and D. L. Miller (2011), Robust inference with multiway clustering. Journal of Business and Economic Statistics 29, 238\u2013249.",
    usedFor: "Scatter over passes and tags at once.",
    verified: "Verified against R's sandwich package.",
  },
  {
    citation:
      "R. G. Newcombe (1998), Interval estimation for the difference between independent proportions: comparison of eleven methods. Statistics in Medicine 17, 873\u2013890.",
    usedFor: "The interval of the difference between independent rounds (method 10).",
    verified:
      "Verified against its table II as another public source quotes it, and against two statistics packages.",
  },
  {
    citation:
      "R. G. Newcombe (1998), Improved confidence intervals for the difference between binomial proportions based on paired data. Statistics in Medicine 17, 2635\u20132650.",
    usedFor:
      "The interval of the difference between paired rounds, with its corrected correlation (method 10).",
    verified:
      "Verified against its worked examples as another public source quotes them, and against an example in the test output of an R package.",
  },
  {
    citation:
      "Q. McNemar (1947), Note on the sampling error of the difference between correlated proportions or percentages. Psychometrika 12, 153\u2013157.",
    usedFor: "p for independent pairs, in the exact binomial form.",
    verified: "Verified against an example in the documentation of an R package (9 against 2).",
  },
  {
    citation:
      "R. A. Fisher (1935), The logic of inductive inference. Journal of the Royal Statistical Society 98, 39\u201382.",
    usedFor: "p for independent presentations, exact.",
    verified:
      "Verified against an example in the test output of an R package (0 of 16 against 15 of 72), and against R.",
  },
  {
    citation:
      "S. Holm (1979), A simple sequentially rejective multiple test procedure. Scandinavian Journal of Statistics 6, 65\u201370.",
    usedFor:
      "p adjusted for all comparisons by condition at a read point, and for all tests of why it missed.",
    verified: "Verified against six adjusted values of R, and against the usual textbook example.",
  },
  {
    citation:
      "J. L. Fleiss (1981), Statistical methods for rates and proportions, second edition, chapter 14. Wiley.",
    usedFor: "Weighting the earlier round to the later one's mix of conditions.",
    verified: "The usual formula, verified against examples worked by hand.",
  },
  {
    citation: "D. Firth (1993), Bias reduction of maximum likelihood estimates. Biometrika 80, 27\u201338.",
    usedFor: "Logistic regression of the misses on the conditions, finite where a value has no miss.",
    verified: "Verified against published results of R's logistf.",
  },
  {
    citation:
      "G. Heinze and M. Schemper (2002), A solution to the problem of separation in logistic regression. Statistics in Medicine 21, 2409\u20132419.",
    usedFor: "The profile likelihood intervals of these effects.",
    verified: "Verified against published results of R's logistf.",
  },
  {
    citation:
      "K.-Y. Liang and S. L. Zeger (1986), Longitudinal data analysis using generalized linear models. Biometrika 73, 13\u201322.",
    usedFor:
      "The variance of an effect where misses of one pass go together, and of the power in hand where the same tags were presented at several powers.",
    verified:
      "The first is verified against a statistics library, the second against an independent computation with the whole matrix.",
  },
  {
    citation:
      "J. N. K. Rao and A. J. Scott (1992), A simple method for the analysis of clustered binary data. Biometrics 48, 577\u2013585.",
    usedFor: "Likelihood ratios divided by a design effect.",
    verified:
      "Design effects are verified against R for published litters of rats, and the division is tested; the choice of the design effect is ours.",
  },
  {
    citation:
      "C. R. Henderson (1953), Estimation of variance and covariance components. Biometrics 9, 226\u2013252.",
    usedFor: "The shares of the misses that are due to tags, to passes and to neither (method 1).",
    verified:
      "Verified against the mean squares of Shrout and Fleiss (1979), and against matrices of a numerical library.",
  },
  {
    citation:
      "A. Wald and J. Wolfowitz (1943), An exact test for randomness in the non-parametric case based on serial correlation. Annals of Mathematical Statistics 14, 378\u2013388.",
    usedFor: "Whether faults came in a run of neighbouring passes.",
    verified: "Verified against all orders of short lists.",
  },
  {
    citation:
      "H. B. Mann and D. R. Whitney (1947), On a test of whether one of two random variables is stochastically larger than the other. Annals of Mathematical Statistics 18, 50\u201360.",
    usedFor: "The rank-sum test of antennas between rounds, and of tag models.",
    verified:
      "Verified against the handbook example that R's wilcox.test repeats, and against arrangements counted by hand.",
  },
  {
    citation: "L. Kish (1965), Survey sampling, section 11.7. Wiley.",
    usedFor: "The cost of the weighting, and its product with the effect of clustering.",
    verified: "That the two effects multiply is an approximation.",
  },
  {
    citation: "F. Garwood (1936), Fiducial limits for the Poisson distribution. Biometrika 28, 437\u2013442.",
    usedFor: "The interval of idle reads.",
    verified: "Verified against R's poisson.test.",
  },
  {
    citation:
      "P. McCullagh and J. A. Nelder (1989), Generalized linear models, second edition, section 6.2. Chapman and Hall.",
    usedFor: "The dispersion that widens the interval of idle reads that cluster.",
    verified: "The usual definition: the variance over the mean.",
  },
  {
    citation:
      "E. C. Fieller (1954), Some problems in interval estimation. Journal of the Royal Statistical Society B 16, 175\u2013185.",
    usedFor: "The limits of the power in hand.",
    verified: "Verified against published examples of dose and response, and against R.",
  },
  {
    citation: "D. J. Finney (1971), Probit analysis, third edition. Cambridge University Press.",
    usedFor:
      "The curve of reads over transmit power, and the factor by which its variances grow where reads scatter about it.",
    verified: "The curve is verified against published examples and against R; the factor is the usual one.",
  },
  {
    citation: "GS1, EPC Tag Data Standard.",
    usedFor: "Pure identity URIs of tag codes, and raw URIs of all others.",
    verified:
      "Verified against pairs of code and URI that public test suites quote, and against the scheme files of GS1 Tag Data Translation 2.0.",
  },
  {
    citation:
      "R. J. Hyndman and Y. Fan (1996), Sample quantiles in statistical packages. The American Statistician 50, 361\u2013365.",
    usedFor: "The definition of a quantile, their type 7.",
    verified: "Verified against R.",
  },
  {
    citation: "ISO 9000, Quality management systems: fundamentals and vocabulary.",
    usedFor: "The term concession.",
    verified: "The glossary gives the meaning in its own words.",
  },
  {
    citation:
      "R. L. Berger (1982), Multiparameter hypothesis testing and acceptance sampling. Technometrics 24, 295\u2013300.",
    usedFor: "All findings met: the intersection-union test, which needs no correction for many.",
    verified: "The argument is given in full above.",
  },
  {
    citation:
      "H. T. Friis (1946), A note on a simple transmission formula. Proceedings of the IRE 34, 254\u2013256.",
    usedFor: "How far the settings of a reader should reach in free space.",
    verified: "Verified against losses and ranges reckoned by hand.",
  },
  {
    citation:
      "ETSI EN 302 208; 47 CFR 15.247: limits of radiated power. 47 CFR 1.1310; ICNIRP (2020): limits of exposure.",
    usedFor: "Radiated power and exposure: planning aids, no clearance.",
    verified:
      "The distances are verified against filings with the FCC; where each limit comes from stands beside it.",
  },
  {
    citation:
      "GS1, EPC Radio-Frequency Identity Protocols, Generation-2 UHF RFID (ISO/IEC 18000-63), table 6.14.",
    usedFor: "How long tags keep silent after they have answered.",
    verified: "Read in the standard.",
  },
];
