import { expect, it } from "vitest";
import { rankSumP } from "../../src/statistics/rank-sum.ts";

/*
 * Permeability of the human chorioamnion at term and at 12 to 26 weeks, the example of M. Hollander and D. A. Wolfe, Nonparametric Statistical
 * Methods (1973), which R's help page of wilcox.test repeats: W = 35, one-sided p = 0.1272. From memory.
 */
it("agrees with the handbook's example of two samples without ties", () => {
  const atTerm = [0.8, 0.83, 1.89, 1.04, 1.45, 1.38, 1.91, 1.64, 0.73, 1.46];
  const early = [1.15, 0.88, 0.9, 0.74, 1.21];
  expect(rankSumP(atTerm, early)).toBeCloseTo(2 * 0.1272, 3);
});
