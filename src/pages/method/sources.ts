/** A source of the method, and how far this report can vouch for having it right. */
export interface Source {
  citation: string;
  usedFor: string;
  standing: string;
}

export const sources: Source[] = [
  {
    citation:
      "E. B. Wilson (1927), Probable inference, the law of succession, and statistical inference. Journal of the American Statistical Association 22, 209\u2013212.",
    usedFor: "The Wilson interval.",
    standing:
      "Cited from memory. The formula is checked against intervals that R packages publish, and against Newcombe's table.",
  },
  {
    citation:
      "C. J. Clopper and E. S. Pearson (1934), The use of confidence or fiducial limits illustrated in the case of the binomial. Biometrika 26, 404\u2013413.",
    usedFor: "The exact interval, and the second condition for \u201cnot met\u201d.",
    standing:
      "Cited from memory. Checked against a worked example that was read in the NIST/SEMATECH e-Handbook of Statistical Methods, section 7.2.4.1 (4 of 20 at 90\u202f%).",
  },
  {
    citation:
      "R. G. Newcombe (1998), Two-sided confidence intervals for the single proportion: comparison of seven methods. Statistics in Medicine 17, 857\u2013872.",
    usedFor: "Printed values of both intervals (table I).",
    standing:
      "Wilson's values as quoted by another public source; the exact ones from memory, in agreement with a statistics library.",
  },
  {
    citation:
      "E. L. Korn and B. I. Graubard (1998), Confidence intervals for proportions with small expected number of positive counts estimated from survey data. Survey Methodology 24, 193\u2013201.",
    usedFor: "The effective sample, corrected for how few passes or tags there are.",
    standing: "Cited from memory. The figures are checked against R's survey package.",
  },
  {
    citation:
      "A. C. Cameron, J. B. Gelbach and D. L. Miller (2011), Robust inference with multiway clustering. Journal of Business and Economic Statistics 29, 238\u2013249.",
    usedFor: "Scatter over passes and tags at once.",
    standing: "Cited from memory. The figures are checked against R's sandwich package.",
  },
  {
    citation:
      "J. G. Skellam (1948), A probability distribution derived from the binomial distribution by regarding the probability of success as variable between the sets of trials. Journal of the Royal Statistical Society B 10, 257\u2013261.",
    usedFor: "The beta-binomial interval, and plans: misses of one pass that go together.",
    standing:
      "Cited from memory. The chances and the ends of the interval are checked against a convolution written in base R.",
  },
  {
    citation:
      "C. Varin, N. Reid and D. Firth (2011), An overview of composite likelihood methods. Statistica Sinica 21, 5\u201342.",
    usedFor: "The beta-binomial interval: weighing correlations by pairs of misses.",
    standing:
      "Cited from memory. That a read point at its limit is seldom signed off is checked by simulation.",
  },
  {
    citation:
      "R. Lugannani and S. Rice (1980), Saddle point approximation for the distribution of the sum of independent random variables. Advances in Applied Probability 12, 475\u2013490.",
    usedFor: "The beta-binomial interval where hundreds were missed.",
    standing:
      "Cited from memory; the form for whole numbers is H. E. Daniels's (1987). Checked against the convolution.",
  },
  {
    citation:
      "R. G. Newcombe (1998), Interval estimation for the difference between independent proportions: comparison of eleven methods. Statistics in Medicine 17, 873\u2013890.",
    usedFor: "The interval of the difference between independent rounds (method 10).",
    standing:
      "Cited from memory. Checked against its table II as quoted by another public source, and against two statistics packages, which agree with it.",
  },
  {
    citation:
      "R. G. Newcombe (1998), Improved confidence intervals for the difference between binomial proportions based on paired data. Statistics in Medicine 17, 2635\u20132650.",
    usedFor:
      "The interval of the difference between paired rounds, with its corrected correlation (method 10).",
    standing:
      "Cited from memory. Checked against its worked examples as quoted by another public source, and against an example that was read in an R package's test output.",
  },
  {
    citation:
      "Q. McNemar (1947), Note on the sampling error of the difference between correlated proportions or percentages. Psychometrika 12, 153\u2013157.",
    usedFor: "p for pairs of which each stands for itself, in the exact binomial form.",
    standing:
      "Cited from memory. Checked against an example that was read in the documentation of an R package (9 against 2).",
  },
  {
    citation:
      "R. A. Fisher (1935), The logic of inductive inference. Journal of the Royal Statistical Society 98, 39\u201382.",
    usedFor: "p for independent presentations, exact.",
    standing:
      "Cited from memory. Checked against an example that was read in an R package's test output (0 of 16 against 15 of 72), and against R.",
  },
  {
    citation:
      "S. Holm (1979), A simple sequentially rejective multiple test procedure. Scandinavian Journal of Statistics 6, 65\u201370.",
    usedFor: "p raised for all looks at the conditions of a read point.",
    standing:
      "Cited from memory. Checked against six adjusted values of R that were read, and against the usual textbook example.",
  },
  {
    citation:
      "J. L. Fleiss (1981), Statistical methods for rates and proportions, second edition, chapter 14. Wiley.",
    usedFor: "Weighting the earlier round to the later one's mix of conditions.",
    standing: "Cited from memory; the formula is the usual one.",
  },
  {
    citation: "L. Kish (1965), Survey sampling, section 11.7. Wiley.",
    usedFor: "What the weighting costs, and its product with the effect of clustering.",
    standing: "Cited from memory. That the two effects multiply is an approximation.",
  },
  {
    citation: "F. Garwood (1936), Fiducial limits for the Poisson distribution. Biometrika 28, 437\u2013442.",
    usedFor: "The interval of tags heard a minute with nothing presented.",
    standing:
      "Cited from memory; its own table was not at hand. The figures are checked against R's poisson.test.",
  },
  {
    citation:
      "P. McCullagh and J. A. Nelder (1989), Generalized linear models, second edition, section 6.2. Chapman and Hall.",
    usedFor: "The dispersion by which piled-up idle reads widen their interval.",
    standing: "Cited from memory; the definition of the variance over the mean is the usual one.",
  },
  {
    citation: "GS1, EPC Tag Data Standard.",
    usedFor: "Pure identity URIs of tag codes, and raw URIs of all others.",
    standing:
      "Checked against pairs of code and URI that public test suites quote, and against the scheme files of GS1 Tag Data Translation 2.0, which were read.",
  },
  {
    citation:
      "H. Robbins (1970), Statistical methods related to the law of the iterated logarithm. Annals of Mathematical Statistics 41, 1397\u20131409.",
    usedFor: "The any-time interval: mixtures of likelihood ratios.",
    standing: "Cited from memory. That the interval keeps its promise is checked by simulation.",
  },
  {
    citation:
      "S. R. Howard, A. Ramdas, J. McAuliffe and J. Sekhon (2021), Time-uniform, nonparametric, nonasymptotic confidence sequences. Annals of Statistics 49, 1055\u20131080.",
    usedFor: "The any-time interval: the beta-binomial mixture, one side at a time.",
    standing:
      "Cited from memory; the weights Beta(1/2, 1/2) are our choice. The likelihood ratio in it gives the decision table of the sequential test in the NIST/SEMATECH e-Handbook, section 6.2.6.",
  },
  {
    citation:
      "R. J. Hyndman and Y. Fan (1996), Sample quantiles in statistical packages. The American Statistician 50, 361\u2013365.",
    usedFor: "The definition of a quantile, their type 7.",
    standing: "Cited from memory. The values are checked against R.",
  },
  {
    citation: "ISO 9000, Quality management systems: fundamentals and vocabulary.",
    usedFor: "The word concession.",
    standing: "Cited from memory; the glossary puts the meaning in words of its own.",
  },
];
