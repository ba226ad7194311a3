import { describe, expect, it } from "vitest";
import type { Change, Comparison } from "../../../src/model/result/comparison.ts";
import {
  changesSentence,
  comparisonReasonSentence,
  comparisonSentence,
  exploratorySentence,
  holdsAfterAdjustment,
  isMostlyLeftOut,
} from "../../../src/pages/words/comparisons.ts";
import { pointFigures } from "../../../src/pages/words/figures.ts";
import { sampleEstimate } from "../sample-result.ts";

const rounds = [
  { id: "as-found", title: "As found" },
  { id: "as-left", title: "As left" },
];
const conditions = [
  { column: "speed_m_s", label: "Speed", unit: "m/s", bands: [0, 1, 2] },
  { column: "load", label: "Load", unit: null, bands: null },
];

/** Spaces as a keyboard has them. */
const spaced = (text: string) => text.replace(/[\u202f\u00a0]/g, " ");

function comparison(
  change: Change,
  value: number,
  lower: number,
  upper: number,
  said: Partial<Comparison> = {},
) {
  return {
    readPoint: "dock-1",
    before: "as-found",
    after: "as-left",
    group: null,
    exploratory: false,
    design: "independent",
    standardised: false,
    difference: { value, lower, upper, confidence: 0.95 },
    estimates: { before: sampleEstimate(190, 200), after: sampleEstimate(198, 200) },
    pairs: null,
    p: 0.02,
    pAdjusted: null,
    test: "difference",
    change,
    tags: null,
    reasons: [],
    ...said,
  } satisfies Comparison as Comparison;
}

describe("a comparison of less than half of a round", () => {
  const leftOut = (presentations: number) =>
    comparison("better", 0.04, 0.01, 0.07, {
      reasons: [
        {
          code: "conditions-left-out",
          round: "as-left",
          presentations,
          ofPresentations: 1000,
          combinations: 1,
          examples: [],
        },
      ],
    });

  it("says so in its sentence, and half of a round is not worth a word", () => {
    expect(spaced(comparisonSentence(leftOut(879), 0.005))).toMatch(
      / Only 12 % of a round could be compared\.$/,
    );
    expect(comparisonSentence(leftOut(500), 0.005)).not.toContain("Only");
    expect(isMostlyLeftOut(leftOut(501))).toBe(true);
    expect(isMostlyLeftOut({ ...leftOut(1000), difference: null })).toBe(false);
  });

  it("is told of in the headline of the two rounds", () => {
    const point = (name: string, isMostlyLeftOut: boolean) =>
      ({ name, change: "better", isMostlyLeftOut }) as const;
    expect(changesSentence([point("A", true), point("B", false)])).toBe(
      "Both read points got better. At one of them less than half of a round could be compared.",
    );
    expect(changesSentence([point("A", true)])).toBe(
      "A got better. Less than half of a round could be compared.",
    );
    expect(changesSentence([point("A", false)])).toBe("A got better.");
  });
});

describe("a comparison in words", () => {
  const counts = "190 of 200 tags read before, 198 of 200 after: 95.0 % and 99.0 %";

  it.each([
    ["better", 0.04, 0.0072, 0.0786, ", a gain of 4.0 percentage points (0.7 to 7.9)."],
    [
      "better",
      0.002,
      0.0011,
      0.0031,
      ", a gain of 0.2 percentage points (0.1 to 0.4), less than the 0.5 percentage points that matter.",
    ],
    ["worse", -0.04, -0.0786, -0.0072, ", a loss of 4.0 percentage points (0.7 to 7.9)."],
    [
      "no-change-that-matters",
      0.001,
      -0.003,
      0.004,
      ". As good as before: the difference is between −0.3 and 0.4 percentage points, and less than 0.5 does not matter.",
    ],
    [
      "no-change-shown",
      0.01,
      -0.012,
      0.03,
      ". No change is shown: the counts are consistent with anything from a loss of 1.2 to a gain of 3.0 percentage points.",
    ],
    [
      "no-change-shown",
      0.01,
      0,
      0.03,
      ". No change is shown: the counts are consistent with anything from no difference to a gain of 3.0 percentage points.",
    ],
  ] as const)("%s, %d from %d to %d", (change, value, lower, upper, words) => {
    expect(spaced(comparisonSentence(comparison(change, value, lower, upper), 0.005))).toBe(counts + words);
  });

  it("says where the earlier rate was weighted", () => {
    const weighted = comparison("better", 0.04, 0.01, 0.07, { standardised: true });
    expect(spaced(comparisonSentence(weighted, 0.005))).toContain(
      "95.0 % and 99.0 % in the later round's mix of conditions, a gain",
    );
  });

  it("gives no number where there is none", () => {
    const none = comparison("not-comparable", 0, 0, 0, { difference: null, estimates: null });
    expect(comparisonSentence(none, 0.005)).not.toMatch(/\d/);
  });
});

describe("a difference in points", () => {
  it("never shows as nought what is not, and rounds its bounds outwards", () => {
    expect(pointFigures({ value: 0.01, lower: 0.0004, upper: 0.0205 })).toEqual({
      value: "1.00",
      lower: "0.04",
      upper: "2.05",
    });
    expect(pointFigures({ value: 0, lower: -0.0112, upper: 0.0112 })).toEqual({
      value: "0.0",
      lower: "−1.2",
      upper: "1.2",
    });
    expect(pointFigures({ value: 0.07, lower: 0.07, upper: 0.07 }).upper).toBe("7.0");
  });
});

describe("exploratory rows in words", () => {
  const row = (change: Change, load: string, pAdjusted: number) =>
    comparison(change, 0.04, 0.01, 0.07, { group: { load }, exploratory: true, pAdjusted });

  it("tell what holds after adjustment from what may be chance", () => {
    const rows = [row("better", "full", 0.01), row("worse", "half", 0.2), row("no-change-shown", "none", 1)];
    expect(exploratorySentence(rows, conditions)).toBe(
      "By condition, adjusted for three comparisons: better at Load: full. Possibly chance, with this many comparisons: worse at Load: half.",
    );
    expect(rows.map(holdsAfterAdjustment)).toEqual([true, false, false]);
  });

  it("say nothing where nothing changed", () => {
    expect(exploratorySentence([row("no-change-shown", "full", 1)], conditions)).toBe("");
  });
});

describe("what stands in the way of a comparison, in words", () => {
  const said = (reason: Parameters<typeof comparisonReasonSentence>[0]) =>
    spaced(comparisonReasonSentence(reason, rounds, conditions));

  it("names rounds by their titles, conditions by their labels, settings with their units", () => {
    expect(said({ code: "not-walked", round: "as-left" })).toBe(
      "As left: no valid pass presented a tag here.",
    );
    expect(
      said({
        code: "conditions-left-out",
        round: "as-found",
        presentations: 20,
        ofPresentations: 60,
        combinations: 4,
        examples: [
          { speed_m_s: "0 to 1", load: null },
          { speed_m_s: "1 to 2", load: "full" },
        ],
      }),
    ).toBe(
      "Left out, because only As found walked it: 20 of its 60 presentations (Speed: 0 to 1 m/s, Load: not stated; Speed: 1 to 2 m/s, Load: full; and 2 more).",
    );
    expect(
      said({
        code: "settings-differ",
        settings: [
          { setting: "transmit_power_dbm", before: "27", after: "30" },
          { setting: "session", before: "1", after: null },
        ],
      }),
    ).toBe("Settings changed: Transmit power 27 to 30 dBm; Session 1 to not stated.");
  });
});
