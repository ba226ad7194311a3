import { describe, expect, it, test } from "vitest";
import {
  type Cohort,
  type DoseCurve,
  type DoseGroup,
  designEffectAt,
  doseFor,
  doseResponse,
  type Link,
  nestedCohorts,
  type Spread,
  shareAt,
  spreadOf,
  waldLowerP,
} from "../../src/statistics/regression/dose-response.ts";
import { criticalValue } from "../../src/statistics/wilson.ts";

/** The standard error of a dose by the delta method. */
const errorAt = ({ slope, covariance }: DoseCurve, dose: number): number =>
  Math.sqrt(covariance.intercept + 2 * dose * covariance.both + dose * dose * covariance.slope) /
  Math.abs(slope);

/** Fieller's g: the squared half-width of the slope's interval over the squared slope; the limits are bounded below 1. */
const fiellerG = ({ slope, covariance }: DoseCurve, { quantile, factor }: Spread): number =>
  (quantile * quantile * factor * covariance.slope) / (slope * slope);

function groupsOf(dose: number[], n: number[], k: number[]): DoseGroup[] {
  return dose.map((each, i) => ({ dose: each, n: n[i]!, k: k[i]! }));
}

function fitted(groups: DoseGroup[], link: Link): DoseCurve {
  const curve = doseResponse(groups, link);
  if (curve.state !== "fitted") throw new Error(`no curve: ${curve.state}`);
  return curve;
}

const plain = { factor: 1, quantile: criticalValue(0.95) };

/** The figures of a table: the dose for a share, its error, and both pairs of limits. */
interface Row {
  share: number;
  dose: number;
  error?: number;
  delta?: [number, number];
  fieller: [number, number];
}

function expectDoses(curve: DoseCurve, rows: readonly Row[]): void {
  for (const { share, dose, error, delta, fieller } of rows) {
    const found = doseFor(curve, share, plain);
    expect(found.dose).toBeCloseTo(dose, 9);
    if (error !== undefined) expect(errorAt(curve, found.dose)).toBeCloseTo(error, 8);
    if (delta !== undefined) {
      const reach = plain.quantile * errorAt(curve, found.dose);
      expect(found.dose - reach).toBeCloseTo(delta[0], 8);
      expect(found.dose + reach).toBeCloseTo(delta[1], 8);
    }
    expect(found.limits.state).toBe("bounded");
    if (found.limits.state !== "bounded") continue;
    expect(found.limits.lower).toBeCloseTo(fieller[0], 8);
    expect(found.limits.upper).toBeCloseTo(fieller[1], 8);
  }
}

/*
 * Beetles after five hours of gaseous carbon disulphide: C. I. Bliss (1935), Ann. Appl. Biol. 22, 134-167; the counts, and the
 * rounded figures below, as A. J. Dobson's textbook prints them, from memory. One of two versions of the data in circulation: 61 of
 * 62 at 1.8610, whose coefficients are these.
 */
const beetles = groupsOf(
  [1.6907, 1.7242, 1.7552, 1.7842, 1.8113, 1.8369, 1.861, 1.8839],
  [59, 60, 62, 56, 63, 59, 62, 60],
  [6, 13, 18, 28, 52, 53, 61, 60],
);

describe("Bliss's beetles", () => {
  const probit = fitted(beetles, "probit");
  const logit = fitted(beetles, "logit");

  it("have the probit coefficients, errors and deviance of the textbook", () => {
    expect(probit.intercept).toBeCloseTo(-34.935, 3);
    expect(probit.slope).toBeCloseTo(19.728, 3);
    expect(Math.sqrt(probit.covariance.intercept)).toBeCloseTo(2.648, 3);
    expect(Math.sqrt(probit.covariance.slope)).toBeCloseTo(1.487, 3);
    expect(probit.deviance).toBeCloseTo(10.12, 2);
    expect(probit.degreesOfFreedom).toBe(6);
  });

  // R 4.2.2, glm to convergence and dose.p of MASS 7.3-58.2, with Fieller's closed form; the coefficients agree with Fisher scoring
  // in 40 digits.
  it("have the probit figures of R to its last digits, with the doses for 50, 90, 95 and 99 % and both their limits", () => {
    expect(probit.intercept).toBeCloseTo(-34.93525889918, 8);
    expect(probit.slope).toBeCloseTo(19.72793421132, 8);
    expect(Math.sqrt(probit.covariance.intercept)).toBeCloseTo(2.64791779862, 8);
    expect(Math.sqrt(probit.covariance.slope)).toBeCloseTo(1.487235040904, 8);
    expect(probit.covariance.both).toBeCloseTo(-3.936543849981, 8);
    expect(probit.deviance).toBeCloseTo(10.119758113, 8);
    expect(probit.pearson).toBeCloseTo(9.513426963084, 8);
    expect(fiellerG(probit, plain)).toBeCloseTo(0.02183193244348, 9);
    expectDoses(probit, [
      {
        share: 0.5,
        dose: 1.770852362186,
        error: 0.003803336806861,
        delta: [1.763397959024, 1.778306765349],
        fieller: [1.763114319498, 1.778193800472],
      },
      {
        share: 0.9,
        dose: 1.835813627356,
        error: 0.005646951888322,
        delta: [1.824745805032, 1.846881449679],
        fieller: [1.825804783661, 1.848325634079],
      },
      {
        share: 0.95,
        dose: 1.854229243381,
        error: 0.006749326809276,
        delta: [1.841000805915, 1.867457680847],
        fieller: [1.842413661441, 1.869370032124],
      },
      {
        share: 0.99,
        dose: 1.888773876376,
        error: 0.009032429043247,
        delta: [1.871070640759, 1.906477111994],
        fieller: [1.873143104759, 1.909271872204],
      },
    ]);
  });

  // statsmodels 0.15.0 in Python: GLM with the logit link to a tolerance of 1e-14, computed for this test, with Fieller's closed
  // form; its error at 50 % is the one that R's investr publishes, 0.003858052, which was read in its tests.
  it("have the logit figures of an independent library, and the error at 50 % that R's investr publishes", () => {
    expect(logit.intercept).toBeCloseTo(-60.7174545616353, 7);
    expect(logit.slope).toBeCloseTo(34.27032573414692, 7);
    expect(Math.sqrt(logit.covariance.intercept)).toBeCloseTo(5.180711463340782, 7);
    expect(Math.sqrt(logit.covariance.slope)).toBeCloseTo(2.9121400706357186, 7);
    expect(logit.deviance).toBeCloseTo(11.232231097419321, 8);
    expect(logit.pearson).toBeCloseTo(10.026817585637584, 8);
    expect(fiellerG(logit, plain)).toBeCloseTo(0.02773858082833607, 9);
    expect(errorAt(logit, doseFor(logit, 0.5, plain).dose)).toBeCloseTo(0.003858052, 7);
    expectDoses(logit, [
      {
        share: 0.5,
        dose: 1.771720964447574,
        error: 0.003858055311436597,
        fieller: [1.7638581717725383, 1.779200475432326],
      },
      {
        share: 0.9,
        dose: 1.8358354579712497,
        error: 0.0061925366441786004,
        fieller: [1.8250554857823047, 1.8498905165297883],
      },
      {
        share: 0.99,
        dose: 1.9058054749299478,
        error: 0.011475996535748743,
        fieller: [1.8863405054495783, 1.9325380145557713],
      },
    ]);
  });
});

// Sea lampreys in TFM, May: J. Hlina and others; data and published figures were read in the tests of the R package ecotox 1.4.4,
// whose three decimals are cut off, not rounded. The longer figures: Fisher scoring in 40 digits, and R's glm, which agrees.
test("the lampreys of May have their published concentrations for 50 and 99 % with Fieller's limits, and their X²", () => {
  const concentration = [
    0.79, 0.8, 0.76, 1.36, 1.22, 1.18, 1.54, 1.44, 1.36, 1.69, 1.66, 1.6, 1.92, 1.86, 1.8, 2.2, 2.18, 2.1,
  ];
  const dead = [0, 1, 0, 13, 10, 7, 16, 11, 17, 17, 19, 18, 22, 19, 18, 20, 20, 20];
  const of = [20, 20, 20, 21, 19, 18, 20, 21, 20, 20, 20, 20, 22, 20, 20, 20, 20, 20];
  const curve = fitted(groupsOf(concentration.map(Math.log10), of, dead), "probit");
  const cut = (value: number) => Math.floor(value * 1000) / 1000;
  const { dose, limits } = doseFor(curve, 0.5, plain);
  if (limits.state !== "bounded") throw new Error("no limits");
  expect(cut(10 ** dose)).toBe(1.25);
  expect(cut(10 ** limits.lower)).toBe(1.184);
  expect(cut(10 ** limits.upper)).toBe(1.306);
  expect(cut(curve.pearson)).toBe(14.113);

  expect(curve.intercept).toBeCloseTo(-0.9946949617865, 9);
  expect(curve.slope).toBeCloseTo(10.25484556984, 8);
  expect(Math.sqrt(curve.covariance.intercept)).toBeCloseTo(0.1803562772128, 9);
  expect(Math.sqrt(curve.covariance.slope)).toBeCloseTo(1.019460584644, 9);
  expect(curve.pearson).toBeCloseTo(14.11375604661, 8);
  expect(fiellerG(curve, plain)).toBeCloseTo(0.03796459851659, 9);
  expect(dose).toBeCloseTo(0.09699755642465, 9);
  expect(limits.lower).toBeCloseTo(0.0735095681009, 9);
  expect(limits.upper).toBeCloseTo(0.1162391797799, 9);
  const high = doseFor(curve, 0.99, plain);
  if (high.limits.state !== "bounded") throw new Error("no limits");
  expect(10 ** high.dose).toBeCloseTo(2.107905234036, 8);
  expect(10 ** high.limits.lower).toBeCloseTo(1.954815374652, 8);
  expect(10 ** high.limits.upper).toBeCloseTo(2.345603485409, 8);
  expect(spreadOf(curve, 0.95)).toEqual(plain);
});

// Chrysanthemum aphids under rotenone: D. J. Finney, Probit analysis; slope and LD50 as another public source quotes the third
// edition (1971). The longer figures: R's glm and dose.p.
test("Finney's rotenone has its published slope and dose for 50 %, and R's figures behind them", () => {
  const doses = [10.2, 7.7, 5.1, 3.8, 2.6].map(Math.log10);
  const aphids = groupsOf(doses, [50, 49, 46, 48, 50], [44, 42, 24, 16, 6]);
  const probit = fitted(aphids, "probit");
  expect(probit.slope).toBeCloseTo(4.21, 2);
  expect(10 ** doseFor(probit, 0.5, plain).dose).toBeCloseTo(4.85, 2);

  expect(probit.intercept).toBeCloseTo(-2.887463256362, 8);
  expect(probit.slope).toBeCloseTo(4.213196756115, 8);
  expect(probit.deviance).toBeCloseTo(1.738968595411, 8);
  expect(probit.pearson).toBeCloseTo(1.728875031653, 8);
  expectDoses(probit, [
    {
      share: 0.5,
      dose: 0.6853378618435,
      error: 0.02206838493803,
      fieller: [0.6399337178077, 0.7287096891208],
    },
  ]);

  // The logit: statsmodels 0.15.0, computed for this test.
  const logit = fitted(aphids, "logit");
  expect(logit.intercept).toBeCloseTo(-4.886912275999412, 8);
  expect(logit.slope).toBeCloseTo(7.146177555935405, 8);
  expect(logit.deviance).toBeCloseTo(1.4240565848085402, 8);
  expectDoses(logit, [
    {
      share: 0.5,
      dose: 0.6838498256932458,
      error: 0.02244642199732812,
      fieller: [0.637594071067755, 0.7283616227760197],
    },
    { share: 0.99, dose: 1.3268676928211087, fieller: [1.1969510680379984, 1.537059463610054] },
  ]);
});

// Invented counts of tags read at six powers of a reader; R's glm, dose.p and Fieller's closed form.
const powers = groupsOf([15, 18, 21, 24, 27, 30], [40, 40, 40, 40, 40, 40], [2, 9, 22, 34, 39, 40]);

describe("tags read at six transmit powers", () => {
  const probit = fitted(powers, "probit");

  it("have R's curve, covariance and deviance", () => {
    expect(probit.intercept).toBeCloseTo(-6.202994029105, 8);
    expect(probit.slope).toBeCloseTo(0.3022005597711, 9);
    expect(probit.covariance.intercept).toBeCloseTo(0.4830458913806, 8);
    expect(probit.covariance.both).toBeCloseTo(-0.02268998711148, 9);
    expect(probit.covariance.slope).toBeCloseTo(0.001094937081103, 9);
    expect(probit.deviance).toBeCloseTo(0.1858630456654, 9);
    expect(fiellerG(probit, plain)).toBeCloseTo(0.04605691207406, 8);
  });

  it("need R's powers for 50, 90 and 99 %, with R's limits", () => {
    expectDoses(probit, [
      {
        share: 0.5,
        dose: 20.52608384909,
        error: 0.375716935217,
        fieller: [19.76257545378, 21.27061254618],
      },
      {
        share: 0.9,
        dose: 24.76681578723,
        error: 0.5803373666639,
        fieller: [23.78124106413, 26.14290068728],
      },
      {
        share: 0.99,
        dose: 28.2241102055,
        error: 0.9029784081852,
        fieller: [26.73842014956, 30.43415070006],
      },
    ]);
  });

  // statsmodels 0.15.0, computed for this test.
  it("need 0.9 dB more for 99 % by the logit, and the same power for 50 %", () => {
    const logit = fitted(powers, "logit");
    expect(logit.slope).toBeCloseTo(0.5319833037718826, 8);
    expectDoses(logit, [
      { share: 0.5, dose: 20.514771920077944, fieller: [19.735502814781352, 21.273192625268617] },
      { share: 0.9, dose: 24.645022929381053, fieller: [23.615813874137732, 26.167816209592043] },
      { share: 0.99, dose: 29.152486332455446, fieller: [27.370089790719913, 31.98988242855239] },
    ]);
    expect(doseFor(logit, 0.99, plain).dose - doseFor(probit, 0.99, plain).dose).toBeCloseTo(0.928, 3);
  });

  it("have the band and the tail of the same library at 24 and at 30 dBm", () => {
    const band = shareAt(probit, 24, plain);
    expect(band.share).toBeCloseTo(0.853099424214683, 8);
    expect(band.lower).toBeCloseTo(0.7710614123446604, 8);
    expect(band.upper).toBeCloseTo(0.9126557597201778, 8);
    expect(waldLowerP(probit, { dose: 30, share: 0.99 }, plain)).toBeCloseTo(0.9494946261442611, 7);
  });
});

// The same library; the closed form of the set of Fieller has no upper or lower end here, since g is nearly 4.
test("Fieller's limits have no bounds where the slope is not told from 0, and the delta method hides it", () => {
  const logit = fitted(groupsOf([15, 18, 21, 24], [10, 10, 10, 10], [4, 6, 4, 7]), "logit");
  expect(fiellerG(logit, plain)).toBeCloseTo(3.9643039229414523, 6);
  const half = doseFor(logit, 0.5, plain);
  expect(half.dose).toBeCloseTo(18.418303582559755, 7);
  expect(half.limits).toEqual({ state: "unbounded", excluded: null });
  expect(2 * plain.quantile * errorAt(logit, half.dose)).toBeLessThan(14);
  const high = doseFor(logit, 0.99, plain);
  if (high.limits.state !== "unbounded" || high.limits.excluded === null) throw new Error("no gap");
  expect(high.limits.excluded.lower).toBeCloseTo(-28.161017140848408, 6);
  expect(high.limits.excluded.upper).toBeCloseTo(35.06534404250238, 6);
});

/*
 * Subjects with a tolerance each. The figures: Python, with the whole matrix of covariances min(P1, P2) - P1 P2 between trials, numpy
 * 2.4.6, written for this test.
 */
describe("the same subjects at several doses", () => {
  const cohorts = nestedCohorts([40, 40, 40, 40, 40, 40]);
  const curveOf = (link: Link, groups: DoseGroup[] = powers, of: readonly Cohort[] = cohorts) => {
    const curve = doseResponse(groups, link, of);
    if (curve.state !== "fitted" || curve.clustered === null) throw new Error("no curve");
    return { ...curve, clustered: curve.clustered };
  };

  it("have the covariance of an independent program, by logit and probit, and leave the estimates as they were", () => {
    const logit = curveOf("logit");
    expect(logit).toEqual({ ...fitted(powers, "logit"), clustered: logit.clustered });
    expect(logit.clustered.intercept).toBeCloseTo(2.582523009702977, 8);
    expect(logit.clustered.both).toBeCloseTo(-0.12229232421498497, 9);
    expect(logit.clustered.slope).toBeCloseTo(0.005987958737758659, 10);
    const { clustered } = curveOf("probit");
    expect(clustered.intercept).toBeCloseTo(0.6184066221945341, 9);
    expect(clustered.both).toBeCloseTo(-0.02876063113397491, 10);
    expect(clustered.slope).toBeCloseTo(0.001398497804275276, 11);
  });

  it("widen the limits of the dose, most of all for 50 %, and the band", () => {
    const logit = curveOf("logit");
    expectDoses(logit, [
      { share: 0.5, dose: 20.514771920077944, fieller: [19.40226454415108, 21.643510217733144] },
      { share: 0.9, dose: 24.645022929381053, fieller: [23.294740565703453, 26.74234175321623] },
      { share: 0.99, dose: 29.152486332455446, fieller: [26.993378426749338, 32.85618009950909] },
    ]);
    expect(designEffectAt(logit, 20.514771920077944, plain)).toBeCloseTo(2.0735740886940883, 8);
    expect(designEffectAt(logit, 29.152486332455446, { factor: 2 })).toBeCloseTo(2 * 1.5431429449130765, 8);
    const band = shareAt(logit, 24, plain);
    expect(band.lower).toBeCloseTo(0.743891770415033, 8);
    expect(band.upper).toBeCloseTo(0.933508184729631, 8);
  });

  it("may differ from dose to dose, and respond more than once at one", () => {
    const groups = groupsOf([18, 21, 24, 27], [30, 40, 30, 12], [7, 22, 26, 12]);
    const mixed = [
      { subjects: 20, groups: [0, 1, 2], trials: [1, 1, 1] },
      { subjects: 10, groups: [0, 1, 2], trials: [1, 2, 1] },
      { subjects: 12, groups: [3], trials: [1] },
    ];
    const { clustered } = curveOf("logit", groups, mixed);
    expect(clustered.intercept).toBeCloseTo(4.184459425636367, 8);
    expect(clustered.both).toBeCloseTo(-0.19599034563271706, 9);
    expect(clustered.slope).toBeCloseTo(0.009430689149880869, 10);
  });

  it("change nothing where no two trials share a subject", () => {
    const apart = powers.map(({ n }, group) => ({ subjects: n, groups: [group], trials: [1] }));
    const curve = curveOf("probit", powers, apart);
    for (const entry of ["intercept", "slope", "both"] as const)
      expect(curve.clustered[entry]).toBeCloseTo(curve.covariance[entry], 10);
    expect(designEffectAt(curve, 24, plain)).toBeCloseTo(1, 9);
  });

  it("are as many as possible where nobody says which they were: the smaller group's are among the larger's", () => {
    expect(nestedCohorts([40, 10, 40])).toEqual([
      { subjects: 10, groups: [0, 1, 2], trials: [1, 1, 1] },
      { subjects: 30, groups: [0, 2], trials: [1, 1] },
    ]);
    expect(nestedCohorts([0, 5])).toEqual([{ subjects: 5, groups: [1], trials: [1] }]);
    expect(nestedCohorts([])).toEqual([]);
  });

  it("leave limits without bounds where either covariance has none, and only doses that both contradict are excluded", () => {
    const flat = groupsOf([15, 18, 21, 24], [10, 10, 10, 10], [4, 6, 4, 7]);
    const curve = curveOf("logit", flat, nestedCohorts([10, 10, 10, 10]));
    const apart = (covariance: DoseCurve["covariance"]) =>
      doseFor({ ...curve, covariance, clustered: null }, 0.99, plain).limits;
    const [independent, clustered, both] = [
      apart(curve.covariance),
      apart(curve.clustered),
      doseFor(curve, 0.99, plain).limits,
    ];
    expect([independent.state, both.state]).toEqual(["unbounded", "unbounded"]);
    if (independent.state !== "unbounded" || both.state !== "unbounded") return;
    for (let dose = -120; dose <= 200; dose += 0.5) {
      const isIn = (limits: typeof both | typeof clustered) =>
        limits.state === "bounded"
          ? dose >= limits.lower && dose <= limits.upper
          : limits.excluded === null || dose <= limits.excluded.lower || dose >= limits.excluded.upper;
      expect(isIn(both)).toBe(isIn(independent) || isIn(clustered));
    }
  });
});

// R's glm calls the first of these converged, with an error of 650,000.
describe("where no finite curve is the likeliest", () => {
  const of = (n: number[], k: number[], dose = [15, 18, 21, 24]) =>
    doseResponse(groupsOf(dose.slice(0, n.length), n, k), "probit");

  it("a clean step is separated, between its two doses", () => {
    expect(of([10, 10, 10, 10], [0, 0, 10, 10])).toEqual({
      state: "separated",
      noneAt: 18,
      allAt: 21,
      rises: true,
    });
  });

  it("a step through one dose that is mixed is separated too, around it", () => {
    expect(of([10, 10, 10], [0, 4, 10])).toEqual({ state: "separated", noneAt: 15, allAt: 21, rises: true });
    expect(of([10, 10, 10], [4, 10, 10])).toEqual({
      state: "separated",
      noneAt: null,
      allAt: 18,
      rises: true,
    });
  });

  it("a step down is named as one", () => {
    expect(of([10, 10], [10, 0])).toEqual({ state: "separated", noneAt: 18, allAt: 15, rises: false });
  });

  it("all, none and a single dose are named", () => {
    expect(of([10, 10], [0, 0])).toEqual({ state: "no-response" });
    expect(of([10, 10], [10, 10])).toEqual({ state: "all-respond" });
    expect(of([10], [4])).toEqual({ state: "too-few-doses" });
    expect(of([10, 0], [4, 0])).toEqual({ state: "too-few-doses" });
    expect(of([], [])).toEqual({ state: "too-few-doses" });
  });
});

describe("scatter beyond the binomial", () => {
  it("widens by the heterogeneity factor, with the t quantile", () => {
    const spread = spreadOf({ pearson: 20, degreesOfFreedom: 4 }, 0.95);
    expect(spread.factor).toBe(5);
    expect(spread.quantile).toBeCloseTo(2.776445, 6);
  });

  it("is not seen in two groups, nor where chance explains it", () => {
    expect(spreadOf({ pearson: 0, degreesOfFreedom: 0 }, 0.95)).toEqual(plain);
    expect(spreadOf({ pearson: 9.4, degreesOfFreedom: 4 }, 0.95)).toEqual(plain);
  });
});

test("equal doses in one group or in several give one curve", () => {
  const apart = powers.flatMap(({ dose, n, k }) => [
    { dose, n: 1, k: Math.min(1, k) },
    { dose, n: n - 1, k: k - Math.min(1, k) },
  ]);
  const [one, several] = [fitted(powers, "logit"), fitted(apart, "logit")];
  expect(several.slope).toBeCloseTo(one.slope, 10);
  expect(several.covariance.slope).toBeCloseTo(one.covariance.slope, 10);
  expect(several.degreesOfFreedom).toBe(one.degreesOfFreedom + 6);
});
