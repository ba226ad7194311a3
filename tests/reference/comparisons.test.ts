import { describe, expect, it } from "vitest";
import { fisherP, mcnemarP } from "../../src/statistics/exact-tests.ts";
import { holmAdjusted } from "../../src/statistics/holm.ts";
import { correctedPhi, proportionDifference } from "../../src/statistics/two-proportions.ts";

// Each figure carries its provenance: "read" in the source or in a package's published test output, "quoted" by another
// public source, "from memory" and agreeing with a library, or "library" for a library value only.

interface Independent {
  k1: number;
  n1: number;
  k2: number;
  n2: number;
  printed: [number, number] | null;
  library: [number, number];
  provenance: string;
}

// R. G. Newcombe (1998), Interval estimation for the difference between independent proportions: comparison of eleven
// methods, Stat. Med. 17, 873-890, Table II, method 10, p1 - p2 at 95 %. Library: ratesci 1.0.0 moverci and statsmodels
// 0.13.5 confint_proportions_2indep, which agree; the last two are library values only.
const independent: Independent[] = [
  {
    k1: 9,
    n1: 10,
    k2: 3,
    n2: 10,
    printed: [0.1705, 0.809],
    library: [0.1705227239345, 0.8090179735355],
    provenance: "quoted",
  },
  {
    k1: 0,
    n1: 10,
    k2: 0,
    n2: 20,
    printed: [-0.1611, 0.2775],
    library: [-0.1611251580528, 0.2775327998629],
    provenance: "quoted",
  },
  {
    k1: 10,
    n1: 10,
    k2: 0,
    n2: 20,
    printed: [0.6791, 1],
    library: [0.6790860371419, 1],
    provenance: "quoted",
  },
  {
    k1: 10,
    n1: 10,
    k2: 0,
    n2: 10,
    printed: [0.6075, 1],
    library: [0.6075093504305, 1],
    provenance: "quoted",
  },
  {
    k1: 96,
    n1: 100,
    k2: 100,
    n2: 100,
    printed: null,
    library: [-0.09837071435888, 0.004280850061828],
    provenance: "library",
  },
  {
    k1: 45,
    n1: 60,
    k2: 58,
    n2: 60,
    printed: null,
    library: [-0.3413474079732, -0.09437172877264],
    provenance: "library",
  },
];

describe("Newcombe's difference of independent proportions", () => {
  it.each(independent)(
    "$k1 of $n1 against $k2 of $n2 ($provenance)",
    ({ k1, n1, k2, n2, printed, library }) => {
      const found = proportionDifference(
        { first: { p: k1 / n1, n: n1 }, second: { p: k2 / n2, n: n2 }, phi: 0 },
        0.95,
      );
      if (printed !== null) expectBounds(found, printed, 5e-5);
      expectBounds(found, library, 1e-9);
      expect(found.value).toBeCloseTo(k1 / n1 - k2 / n2, 15);
    },
  );
});

interface Paired {
  /** Read in both, only in the first, only in the second, in neither. */
  table: [number, number, number, number];
  printed: [number, number];
  library: [number, number];
  provenance: string;
}

// R. G. Newcombe (1998), Improved confidence intervals for the difference between binomial proportions based on paired
// data, Stat. Med. 17, 2635-2650, table of worked examples (its number not verified), method 10, at 95 %. Library:
// the formula of the R package contingencytables 3.0.1, re-implemented. The last is from that package's test output.
const paired: Paired[] = [
  {
    table: [36, 12, 2, 0],
    printed: [0.0569, 0.3404],
    library: [0.05692958400324, 0.3404276029749],
    provenance: "quoted",
  },
  {
    table: [18, 12, 2, 18],
    printed: [0.0562, 0.329],
    library: [0.05617184398825, 0.3289759688858],
    provenance: "quoted",
  },
  {
    table: [53, 0, 0, 1],
    printed: [-0.0729, 0.0729],
    library: [-0.07293814547858, 0.07293814547858],
    provenance: "quoted",
  },
  { table: [0, 30, 0, 0], printed: [0.8395, 1], library: [0.8394678198624, 1], provenance: "quoted" },
  {
    table: [1, 0, 0, 1],
    printed: [-0.5734, 0.5734],
    library: [-0.5734194679697, 0.5734194679697],
    provenance: "read",
  },
];

describe("Newcombe's difference of paired proportions", () => {
  it.each(paired)("$table ($provenance)", ({ table, printed, library }) => {
    const [both, first, second, neither] = table;
    const n = both + first + second + neither;
    const phi = correctedPhi({ both, onlyFirst: first, onlySecond: second, neither });
    const found = proportionDifference(
      { first: { p: (both + first) / n, n }, second: { p: (both + second) / n, n }, phi },
      0.95,
    );
    expectBounds(found, printed, 6e-5);
    expectBounds(found, library, 1e-9);
  });
});

describe("McNemar's exact p", () => {
  it("of 9 against 2 is 0.0654", () => {
    // M. P. Fay, vignette of the R package exact2x2 1.7.0. Provenance: read. Library: statsmodels 0.13.5.
    expect(Math.abs(mcnemarP(9, 2) - 0.06543)).toBeLessThan(5e-5);
    expect(mcnemarP(9, 2)).toBeCloseTo(0.0654296875, 9);
    expect(mcnemarP(2, 9)).toBe(mcnemarP(9, 2));
  });

  it("without a pair that came out differently is 1", () => {
    // The test output of the R package contingencytables prints "No discordant pairs". Provenance: read.
    expect(mcnemarP(0, 0)).toBe(1);
  });
});

describe("Fisher's exact p", () => {
  it("of 0 of 16 against 15 of 72 is 0.0629", () => {
    // M. W. Fagerland, S. Lydersen and P. Laake (2017), chapter 4, in the test output of contingencytables. Provenance: read.
    // Library: scipy 1.10.1 and R 4.2.2.
    expect(Math.abs(fisherP({ k: 0, n: 16 }, { k: 15, n: 72 }) - 0.06287)).toBeLessThan(5e-5);
    expect(fisherP({ k: 0, n: 16 }, { k: 15, n: 72 })).toBeCloseTo(0.06286666463011, 9);
  });

  it.each([
    // scipy 1.10.1. Provenance: library.
    [96, 100, 100, 100, 0.1212407213734],
    [45, 60, 58, 60, 0.001090133951106],
  ])("of %i of %i against %i of %i (library)", (k1, n1, k2, n2, p) => {
    expect(fisherP({ k: k1, n: n1 }, { k: k2, n: n2 })).toBeCloseTo(p, 9);
    expect(fisherP({ k: k2, n: n2 }, { k: k1, n: n1 })).toBeCloseTo(p, 9);
  });
});

describe("Holm's adjusted p values", () => {
  it("are R's for six comparisons of pairs", () => {
    // R pairwise.prop.test with p.adjust = "holm", as recorded in statsmodels' tests. Provenance: read.
    const p = [
      0.00533824886503131, 0.8327574849753566, 0.1880573726722516, 0.002026764254350234, 0.1309487516334318,
      0.1076118730631731,
    ];
    const printed = [
      0.02669124432515654, 0.8327574849753566, 0.4304474922526926, 0.0121605855261014, 0.4304474922526926,
      0.4304474922526926,
    ];
    expectClose(holmAdjusted(p), printed, 12);
  });

  it("are 0.03, 0.06, 0.06, 0.02 for the four of the textbooks", () => {
    // S. Holm (1979), with the usual example of four. Provenance: from memory; agrees with R 4.2.2 p.adjust.
    expectClose(holmAdjusted([0.01, 0.04, 0.03, 0.005]), [0.03, 0.06, 0.06, 0.02], 12);
  });

  it("never fall and never pass 1, ties among them", () => {
    // R 4.2.2 p.adjust. Provenance: library.
    expectClose(holmAdjusted([0.01, 0.01, 0.02, 0.5, 1]), [0.05, 0.05, 0.06, 1, 1], 9);
  });
});

function expectBounds(
  found: { lower: number; upper: number },
  bounds: [number, number],
  within: number,
): void {
  expect(Math.abs(found.lower - bounds[0])).toBeLessThanOrEqual(within);
  expect(Math.abs(found.upper - bounds[1])).toBeLessThanOrEqual(within);
}

function expectClose(found: number[], expected: number[], digits: number): void {
  expect(found).toHaveLength(expected.length);
  found.forEach((p, i) => void expect(p).toBeCloseTo(expected[i]!, digits));
}
