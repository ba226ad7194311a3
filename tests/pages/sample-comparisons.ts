import type { Estimate } from "../../src/model/estimate.ts";
import type { Comparison } from "../../src/model/result/comparison.ts";

type MakeEstimate = (k: number, n: number, designEffect?: number) => Estimate;

/** Every kind of change at the read points of the sample, with tags whose codes are hostile. */
export function sampleComparisons(estimateOf: MakeEstimate): Comparison[] {
  const row = (readPoint: string, said: Partial<Comparison>): Comparison => ({
    readPoint,
    before: "as-found",
    after: "as-left",
    group: null,
    exploratory: false,
    design: "independent",
    standardised: false,
    difference: null,
    estimates: null,
    pairs: null,
    p: null,
    pAdjusted: null,
    test: null,
    change: "not-comparable",
    tags: null,
    reasons: [],
    ...said,
  });
  const compared = (
    k1: number,
    n1: number,
    k2: number,
    n2: number,
    lower: number,
    upper: number,
    p: number,
  ): Partial<Comparison> => ({
    estimates: { before: estimateOf(k1, n1, 1.5), after: estimateOf(k2, n2, 1.5) },
    difference: { value: k2 / n2 - k1 / n1, lower, upper, confidence: 0.95 },
    p,
    test: "difference",
  });
  const look = (readPoint: string, group: Record<string, string>, said: Partial<Comparison>) =>
    row(readPoint, { group, exploratory: true, ...said });
  return [
    row("dock-1", {
      ...compared(588, 600, 1200, 1200, 0.0061, 0.0369, 0.0042),
      change: "better",
      standardised: true,
      reasons: [
        { code: "mix-differs" },
        {
          code: "conditions-left-out",
          round: "as-left",
          presentations: 40,
          ofPresentations: 1240,
          combinations: 1,
          examples: [{ speed_m_s: "2 to 3", orientation: "edge-on", load: null }],
        },
        { code: "settings-not-stated", round: "as-found" },
      ],
      tags: {
        inBoth: 60,
        missedInBoth: 0,
        newlyMissed: [],
        newlyRead: [
          {
            tag: "=<b>bold</b>",
            uri: null,
            before: { presented: 10, missed: 4 },
            after: { presented: 20, missed: 0 },
          },
        ],
      },
    }),
    look(
      "dock-1",
      { speed_m_s: "0 to 1" },
      {
        ...compared(288, 300, 600, 600, 0.011, 0.069, 0.0003),
        change: "better",
        pAdjusted: 0.0009,
      },
    ),
    look(
      "dock-1",
      { orientation: "edge-on" },
      {
        ...compared(198, 200, 400, 400, 0.001, 0.036, 0.041),
        change: "better",
        pAdjusted: 0.082,
      },
    ),
    look(
      "dock-1",
      { load: "full" },
      {
        ...compared(200, 200, 400, 400, -0.009, 0.018, 1),
        change: "no-change-shown",
        pAdjusted: 1,
      },
    ),
    look("dock-1", { load: "empty" }, { design: null, reasons: [{ code: "not-walked", round: "as-left" }] }),
    row("dock-2", {
      ...compared(460, 480, 440, 480, -0.072, -0.012, 0.0065),
      change: "worse",
      design: "paired",
      pairs: { readBoth: 430, readOnlyBefore: 30, readOnlyAfter: 10, missedBoth: 10 },
      test: "mcnemar",
      reasons: [
        {
          code: "settings-differ",
          settings: [{ setting: "transmit_power_dbm", before: "30", after: "31.5" }],
        },
      ],
      tags: {
        inBoth: 20,
        missedInBoth: 3,
        newlyMissed: Array.from({ length: 11 }, (_, i) => ({
          tag: `E28011606000020400${String(i).padStart(6, "0")}`,
          uri: null,
          before: { presented: 24, missed: 0 },
          after: { presented: 24, missed: 11 - i },
        })),
        newlyRead: [],
      },
    }),
    row("exit", {
      ...compared(239, 240, 239, 240, -0.004, 0.004, 1),
      change: "no-change-that-matters",
      tags: { inBoth: 40, missedInBoth: 0, newlyMissed: [], newlyRead: [] },
    }),
    row("van", { design: null, reasons: [{ code: "not-walked", round: "as-left" }] }),
    row("desk", {
      ...compared(5, 6, 6, 6, -0.28, 0.56, 0.4),
      change: "no-change-shown",
      reasons: [{ code: "tags-not-named", rounds: ["as-found"] }],
    }),
    row("ceiling", {
      design: null,
      reasons: [
        { code: "not-walked", round: "as-found" },
        { code: "not-walked", round: "as-left" },
      ],
    }),
  ];
}
