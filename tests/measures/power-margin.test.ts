import { describe, expect, it, test } from "vitest";
import { judgeFacility } from "../../src/analysis/judge.ts";
import {
  findingSentence,
  remarkSentence,
  settleNote,
  settleSentence,
} from "../../src/pages/words/findings.ts";
import { log, read, readSound, soundLog, soundYaml } from "../intake/folder.ts";

const criterion = (asked: string, inUse: number | null) =>
  `${soundYaml.replace(
    "{ id: as-left, date: 2026-05-21 }",
    inUse === null
      ? "{ id: as-left, date: 2026-05-21 }"
      : `{ id: as-left, date: 2026-05-21, settings: { dock-1: { transmit_power_dbm: ${inUse} } } }`,
  )}criteria: [{ id: margin, title: Power in hand, measure: power-margin, read_points: [dock-1], ${asked} }]\n`;

const header = "round,read_point,power_dbm,tags_presented,tags_read";
type Steps = readonly [dbm: number, presented: number, read: number][];
/**
 * The steps of tests/reference/dose-response.test.ts: 99 % takes 29.152 dBm by the logit, 26.993 to 32.856 with the same tags at each
 * power, 27.370 to 31.990 with others.
 */
const usual: Steps = [
  [15, 40, 2],
  [18, 40, 9],
  [21, 40, 22],
  [24, 40, 34],
  [27, 40, 39],
  [30, 40, 40],
];
const powerLog = (steps: Steps) => log(header, ...steps.map((step) => `as-left,dock-1,${step.join(",")}`));

/** The same, itemised: the tag of each presentation by its power and its place among those at that power. */
const itemised = (steps: Steps, tag: (dbm: number, place: number) => string) =>
  log(
    "round,read_point,power_dbm,tag,read",
    ...steps.flatMap(([dbm, presented, read]) =>
      Array.from(
        { length: presented },
        (_, i) => `as-left,dock-1,${dbm},${tag(dbm, i)},${i < read ? "yes" : "no"}`,
      ),
    ),
  );

async function finding(
  asked: string,
  { inUse = 30, steps = usual, rows }: { inUse?: number | null; steps?: Steps; rows?: string } = {},
) {
  const power = steps.length === 0 ? {} : { "power/a.csv": rows ?? powerLog(steps) };
  const input = await readSound({
    "facility.yaml": criterion(asked, inUse),
    "passes/a.csv": soundLog,
    ...power,
  });
  return judgeFacility(input, "0.0.0").findings[0]!;
}

const plain = (text: string) => text.replace(/[\u202f\u00a0]/g, " ");

describe("the margin of the power in use", () => {
  it("is the power in use less the power that 99 % needs, with Fieller's limits for the same tags at each power, over all of the log", async () => {
    const { estimate, passes, tags, withVoids, unseen } = await finding("at_least: 0");
    expect(estimate).toMatchObject({ kind: "margin", method: "fieller", k: 146, n: 240 });
    expect(estimate.designEffect).toBeCloseTo(1.5431429449130765, 8);
    expect(estimate.effectiveN).toBeCloseTo(240 / 1.5431429449130765, 5);
    expect(estimate.value).toBeCloseTo(30 - 29.152486332455446, 7);
    expect(estimate.lower).toBeCloseTo(30 - 32.85618009950909, 7);
    expect(estimate.upper).toBeCloseTo(30 - 26.993378426749338, 7);
    expect({ passes, tags, withVoids, unseen }).toEqual({
      passes: 6,
      tags: null,
      withVoids: null,
      unseen: null,
    });
  });

  it("has closer limits where the log names other tags at each power, and the same where it names the same ones", async () => {
    const others = await finding("at_least: 0", { rows: itemised(usual, (dbm, i) => `T${dbm}-${i}`) });
    expect(others.estimate.lower).toBeCloseTo(30 - 31.98988242855239, 7);
    expect(others.estimate.upper).toBeCloseTo(30 - 27.370089790719913, 7);
    expect(others.estimate.designEffect).toBeCloseTo(1, 9);
    const same = await finding("at_least: 0", { rows: itemised(usual, (_, i) => `T${i}`) });
    expect(same).toEqual(await finding("at_least: 0"));
  });

  it("is met, not met or undecided by its limits", async () => {
    expect((await finding("at_least: 0", { inUse: 32.9 })).state).toBe("met");
    expect((await finding("at_least: 0", { inUse: 32.8 })).state).toBe("undecided");
    expect((await finding("at_least: 0", { inUse: 26.9 })).state).toBe("not-met");
    expect((await finding("at_least: 0", { inUse: 27 })).state).toBe("undecided");
    expect((await finding("at_least: 3", { inUse: 32.9 })).state).toBe("undecided");
  });

  it("may be to another share", async () => {
    const { estimate } = await finding("at_least: 0, share: 0.9");
    expect(estimate.value).toBeCloseTo(30 - 24.645022929381053, 7);
    expect(estimate.lower).toBeCloseTo(30 - 26.74234175321623, 7);
  });

  it("says in words what it is, and what would settle it", async () => {
    const asked = { share: 0.99 };
    const undecided = await finding("at_least: 0");
    expect(plain(findingSentence(undecided, asked))).toBe(
      "146 of 240 tags read over all powers: the power in use is 0.8 dB above what 99 % needs (−2.9 to 3.0); 0 dB required.",
    );
    const { toSettle } = undecided;
    if (toSettle === null || !("furtherWithoutMiss" in toSettle)) throw new Error("nothing settles it");
    expect(toSettle.unit).toBe("presentations");
    expect(plain(settleSentence(undecided))).toBe(
      `${toSettle.furtherWithoutMiss} further presentations at the same powers, read in the same shares, would settle it.`,
    );
    // So many more at the same powers do, and one fewer set of tags does not.
    const times = (factor: number): Steps => usual.map(([dbm, n, k]) => [dbm, n * factor, k * factor]);
    const factor = Math.ceil(1 + toSettle.furtherWithoutMiss! / 240);
    expect((await finding("at_least: 0", { steps: times(factor) })).state).toBe("met");
    expect((await finding("at_least: 0", { steps: times(factor - 1) })).state).toBe("undecided");

    const short = await finding("at_least: 0", { inUse: 28 });
    expect(plain(findingSentence(short, asked))).toContain(
      "the power in use is 1.2 dB below what 99 % needs",
    );
    expect(short.toSettle).toMatchObject({ furtherWithoutMiss: null, retune: false });
    expect(plain(settleSentence(short))).toMatch(
      /^The value is on the wrong side .* More tags at the same powers/,
    );
  });
});

describe("what the power log cannot say is said in words, and no figure is made of it", () => {
  const words = (of: Awaited<ReturnType<typeof finding>>) =>
    of.remarks.map((remark) => plain(remarkSentence(remark, [])));
  const none = { value: null, lower: null, upper: null, effectiveN: null, designEffect: null };

  it("a step from none to all is separated", async () => {
    const one = await finding("at_least: 0", {
      steps: [
        [15, 10, 0],
        [18, 10, 0],
        [21, 10, 10],
        [24, 10, 10],
      ],
    });
    expect(one.state).toBe("undecided");
    expect(one.estimate).toMatchObject({ ...none, k: 20, n: 40 });
    expect(words(one)).toEqual([
      "Reads go from none at 18.0 dBm to all at 21.0 dBm, so the curve would be a step and has no figures: measure at powers in between.",
    ]);
    expect(plain(findingSentence(one))).toContain("no margin to the power that 99 % needs (no interval)");
  });

  it.each([
    [
      "all read",
      [
        [21, 10, 10],
        [24, 10, 10],
      ],
      /All tags were read at every power/,
    ],
    [
      "none read",
      [
        [21, 10, 0],
        [24, 10, 0],
      ],
      /No tag was read at any power/,
    ],
    [
      "fewer reads with more power",
      [
        [21, 20, 15],
        [24, 20, 9],
        [27, 20, 4],
      ],
      /does not rise with the power/,
    ],
    ["a single power", [[24, 10, 9]], /a single power/],
  ] as [string, Steps, RegExp][])("%s", async (_, steps, says) => {
    const one = await finding("at_least: 0", { steps });
    expect(one.state).toBe("undecided");
    expect(one.estimate).toMatchObject(none);
    expect(words(one).join(" ")).toMatch(says);
  });

  it("limits without bounds satisfy nothing, though there is a value", async () => {
    const flat: Steps = [
      [15, 10, 4],
      [18, 10, 6],
      [21, 10, 4],
      [24, 10, 7],
    ];
    for (const inUse of [0, 30, 40]) {
      const one = await finding("at_least: 0", { steps: flat, inUse });
      expect(one.state).toBe("undecided");
      expect(one.estimate).toMatchObject({ lower: null, upper: null });
      expect(one.estimate.value).not.toBeNull();
      expect(words(one).join(" ")).toMatch(/does not rise clearly enough/);
    }
  });

  it("a power needed beyond all that were measured rests on the shape of the curve", async () => {
    expect(words(await finding("at_least: 0", { steps: usual.slice(0, 5) }))).toEqual([
      expect.stringMatching(/lies above every power measured \(up to 27\.0 dBm\)/),
    ]);
  });

  it("scatter beyond chance widens the limits", async () => {
    const one = await finding("at_least: 0", {
      steps: [
        [15, 40, 12],
        [18, 40, 4],
        [21, 40, 30],
        [24, 40, 22],
        [27, 40, 40],
        [30, 40, 36],
      ],
    });
    expect(one.estimate.designEffect).toBeGreaterThan(2);
    expect(one.estimate.effectiveN).toBeCloseTo(240 / one.estimate.designEffect!, 9);
    expect(words(one).join(" ")).toMatch(/scatter about the curve more than chance/);
  });

  it("without a log it is untested, and says how many powers it takes", async () => {
    const one = await finding("at_least: 0", { steps: [] });
    expect(one).toMatchObject({ state: "untested", toSettle: { furtherPowers: 2 } });
    expect(settleSentence(one)).toBe("At least two powers are needed for a verdict.");
    expect(settleNote(one)).toBe("two powers short");
  });

  it("with fewer powers than the criterion's minimum it is untested", async () => {
    const one = await finding("at_least: 0, minimum_passes: 8", { inUse: 40 });
    expect(one).toMatchObject({ state: "untested", toSettle: { furtherPowers: 2 } });
    expect(settleSentence(one)).toBe("At least two more powers are needed for a verdict.");
  });

  it("without a stated power in use it is untested", async () => {
    const one = await finding("at_least: 0", { inUse: null });
    expect(one).toMatchObject({ state: "untested", toSettle: { furtherPowers: 0 } });
    expect(words(one)).toEqual([expect.stringMatching(/do not state the transmit power in use/)]);
    expect(settleSentence(one)).toMatch(/must state the power in use/);
  });
});

test.each([
  ["at_most: 3", "limit-out-of-range", /write at_least/],
  ["at_least: 3, share: 99", "criterion-key", /Write 0\.99/],
  ["at_least: 3, share: 1", "criterion-key", /above 0 and below 1/],
  ["at_least: 300", "limit-out-of-range", /-30 to 30 dB/],
  ["at_least: 3, for_each: [orientation]", "key-unused", /A power log has no conditions/],
])("a criterion with %s is refused", async (asked, code, says) => {
  const { problems } = await read({ "facility.yaml": criterion(asked, 30), "passes/a.csv": soundLog });
  const errors = problems.filter(({ severity }) => severity === "error");
  expect(errors.map((problem) => problem.code)).toEqual([code]);
  expect(`${errors[0]!.expected} ${errors[0]!.advice}`).toMatch(says);
});
