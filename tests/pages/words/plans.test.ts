import { describe, expect, it } from "vitest";
import { makePlan } from "../../../src/analysis/plan/make-plan.ts";
import type { Facility, Plan } from "../../../src/model/facility.ts";
import { riskText } from "../../../src/pages/words/figures.ts";
import {
  allMetSentence,
  criterionPlaces,
  planBasisSentence,
  readPointPlanSentence,
  sameTagsSentence,
  sizeSentence,
  tagsCountedSentence,
  twoRoundsSentence,
  wrongSignOffSentence,
} from "../../../src/pages/words/plans.ts";
import { criterion, walkedFacility } from "../../analysis/walked.ts";

const plain = (text: string) => text.replace(/[\u202f\u00a0]/g, " ");

function planned(said: Partial<Plan> = {}, more: Partial<Facility> = {}) {
  const plan: Plan = {
    seed: 1,
    tagsPerPass: 40,
    manifest: null,
    sameTags: false,
    expectedRate: 0.998,
    each: [],
    readPoints: ["dock-1"],
    ...said,
  };
  return makePlan(walkedFacility({ plan, ...more }))!;
}

describe("a plan in words", () => {
  it("says what it takes, what it rests on and what it risks", () => {
    const made = planned();
    const [finding] = made.findings;
    expect(plain(planBasisSentence(made))).toBe(
      "40 tags per pass, different tags in every pass; expected rate 99.8 %. Assumed correlation of misses within a pass: 0.02; Wilson interval, two-sided at 95 %.",
    );
    expect(plain(sizeSentence(finding!))).toBe(
      "At least 17 passes without a miss are needed. If 99.8 % of the tags are read, 43 passes end in “met” with a probability of 80 % and 56 passes with 90 %.",
    );
    expect(plain(wrongSignOffSentence(finding!))).toBe(
      "A read point that just misses the limit would wrongly end in “met” in 1.6 % of walks of 56 passes.",
    );
    expect(plain(readPointPlanSentence(made.readPoints[0]!))).toBe("56 passes.");
  });

  it("says what it takes for all findings together, if there are several", () => {
    const alone = planned();
    expect(allMetSentence(alone.findings[0]!, alone)).toBe("");
    const criteria = [criterion({ id: "one" }), criterion({ id: "other", limit: 0.9 })];
    const both = planned({}, { criteria });
    expect(both.findings.map((finding) => plain(allMetSentence(finding, both)))).toEqual([
      "For all 2 planned findings to be met together: 56 passes (with a probability of 80 %) or 70 (90 %).",
      "For all 2 planned findings to be met together: 4 passes (with a probability of 80 %) or 5 (90 %).",
    ]);
  });

  it("says how long two rounds have to be to be told apart", () => {
    const made = planned({ expectedRate: 0.99 }, { smallestChangeThatMatters: 0.03 });
    expect(plain(twoRoundsSentence(made))).toBe(
      "If the read rate rises from 96 % to 99 %, by the smallest change that matters, two rounds show it that have 22 passes (with a probability of 80 %) or 30 (90 %) each.",
    );
    expect(twoRoundsSentence({ ...made, twoRounds: null })).toBe("");
    const unseen = { chance: 0.8, passes: null, reached: null };
    expect(
      plain(twoRoundsSentence({ ...made, twoRounds: { ...made.twoRounds!, forChance: [unseen] } })),
    ).toMatch(/^Not even two rounds of 1000 passes would show that the read rate rose from 96 % to 99 %/);
  });

  it("names one number where it serves for both chances", () => {
    const criteria = [criterion({ limit: 0.9, minimumPasses: 10 })];
    expect(plain(sizeSentence(planned({}, { criteria }).findings[0]!))).toMatch(
      /read, 10 passes end in “met” with a probability of 90 %/,
    );
  });

  it("says that an impossible plan is one", () => {
    const made = planned({ expectedRate: 0.98 });
    expect(plain(sizeSentence(made.findings[0]!))).toBe(
      "No number of passes is enough: at least 99 % is required, and 98 % is expected.",
    );
    expect(readPointPlanSentence(made.readPoints[0]!)).toContain("no number of passes");
    // Nobody would plan such a walk, so nothing is said of what it risks.
    expect(wrongSignOffSentence(made.findings[0]!)).toBe("");
  });

  it("names the read points of a criterion, unless they are all of many that are planned", () => {
    const ids = ["a", "b", "c", "d"];
    const findings = ids.map((readPoint) => ({ ...planned().findings[0]!, readPoint }));
    const facilityNames = { readPoints: ids.map((id) => ({ id, name: id.toUpperCase() })), conditions: [] };
    expect(criterionPlaces(findings, facilityNames, 4)).toBe("All four planned read points");
    expect(criterionPlaces(findings, facilityNames, 5)).toBe("A, B, C and D");
    expect(criterionPlaces(findings.slice(0, 2), facilityNames, 2)).toBe("A and B");
  });

  it("says where not all tags of a pass count", () => {
    const all = planned();
    const [finding] = all.findings;
    expect(tagsCountedSentence(finding!, all)).toBe("");
    expect(tagsCountedSentence({ ...finding!, tagsCounted: 6, group: { way: "flat" } }, all)).toBe(
      "Of the 40 tags of a pass, 6 count in each group.",
    );
    expect(tagsCountedSentence({ ...finding!, tagsCounted: 1, group: null }, all)).toBe(
      "Of the 40 tags of a pass, 1 counts.",
    );
    expect(tagsCountedSentence({ ...finding!, tagsCounted: 0 }, all)).toBe(
      "The load has no tag that the criterion counts.",
    );
  });

  it("warns where the same tags in every pass would take more, or would never do", () => {
    const few = planned(
      { tagsPerPass: 10, expectedRate: 0.9999 },
      { criteria: [criterion({ limit: 0.995 })] },
    );
    expect(plain(sameTagsSentence(few.findings[0]!, few))).toBe(
      "With the same 10 tags in every pass, no number of passes is enough: use other tags.",
    );
    const more = planned({ tagsPerPass: 10, expectedRate: 0.9999 });
    expect(plain(sameTagsSentence(more.findings[0]!, more))).toMatch(
      /^With the same 10 tags .* at least \d+ passes are needed\.$/,
    );
    expect(sameTagsSentence(planned().findings[0]!, planned())).toBe("");
  });

  it("never prints a risk smaller than it is", () => {
    expect([0, 0.00001, 0.001, 0.01521, 0.025].map((risk) => plain(riskText(risk)))).toEqual([
      "at most 0.1 %",
      "at most 0.1 %",
      "at most 0.1 %",
      "1.6 %",
      "2.5 %",
    ]);
  });
});
