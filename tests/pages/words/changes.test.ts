import { describe, expect, it } from "vitest";
import type { Change, Comparison } from "../../../src/model/result/comparison.ts";
import {
  changesSentence,
  designSentence,
  tagsSentence,
  worthSentence,
} from "../../../src/pages/words/comparisons.ts";
import { pText } from "../../../src/pages/words/figures.ts";
import { sampleEstimate } from "../sample-result.ts";

const points = (...changes: Change[]) => changes.map((change, i) => ({ name: `Door ${i + 1}`, change }));

describe("what became of the read points", () => {
  it.each<[Change[], string]>([
    [[], "There is no read point to compare."],
    [["no-change-shown"], "Door 1 shows no clear change."],
    [["better", "better"], "Both read points got better."],
    [["worse", "worse", "worse"], "All three read points got worse."],
    [
      ["better", "no-change-that-matters", "worse", "no-change-shown", "no-change-shown", "not-comparable"],
      "Of six read points, one got worse, one cannot be compared, two show no clear change, one is as good as before and one got better.",
    ],
  ])("%j: %s", (changes, sentence) => {
    expect(changesSentence(points(...changes))).toBe(sentence);
  });
});

describe("a p value in print", () => {
  it.each([
    [1, "1"],
    [0.996, "1"],
    [0.42, "0.42"],
    [0.421, "0.43"],
    [0.07, "0.070"],
    [0.0501, "0.051"],
    [0.0123, "0.013"],
    [0.0001, "0.00010"],
    [0.00009999, "below 0.0001"],
    [1e-10, "below 0.0001"],
  ])("%d is printed as %s: two figures, never smaller than it is", (p, text) => {
    expect(pText(p)).toBe(text);
    if (/^\d/.test(text)) expect(Number(text)).toBeGreaterThanOrEqual(p * (1 - 1e-9));
  });
});

describe("how two rounds are matched", () => {
  it("is told with what became of the pairs, which add up", () => {
    const pairs = { readBoth: 53, readOnlyBefore: 0, readOnlyAfter: 4, missedBoth: 1 };
    expect(designSentence({ design: "paired", pairs })).toContain(
      "Of 58 pairs, 53 were read in both rounds, none only before, 4 only after and 1 in neither.",
    );
  });

  it("is nothing where they cannot be compared", () => {
    expect(designSentence({ design: null, pairs: null })).toBe("");
  });
});

describe("what the presentations are worth", () => {
  const said = (before: number, after: number) =>
    worthSentence({
      estimates: { before: sampleEstimate(50, 60, before), after: sampleEstimate(40, 40, after) },
      standardised: false,
    });

  it("is rounded down, and never to nothing", () => {
    expect(said(70, 3)).toBe(
      "Because tags fail together, the 60 presentations before are worth less than one independent presentation, and the 40 after about 13 independent ones.",
    );
  });

  it("is not said where each stands for itself, or nothing can be compared", () => {
    expect(said(1, 1)).toBe("");
    expect(worthSentence({ estimates: null, standardised: false })).toBe("");
  });
});

describe("what became of single tags", () => {
  const tag = {
    tag: "A",
    uri: null,
    before: { presented: 2, missed: 0 },
    after: { presented: 2, missed: 1 },
  };
  const said = (tags: Comparison["tags"], change: Change = "better") => tagsSentence({ tags, change });

  it.each<[Comparison["tags"], string]>([
    [null, "The logs do not name all tags, so it is not known which tags changed."],
    [{ inBoth: 0, missedInBoth: 0, newlyMissed: [], newlyRead: [] }, "No tag was presented in both rounds."],
    [
      { inBoth: 9, missedInBoth: 0, newlyMissed: [], newlyRead: [] },
      "Nine tags were presented in both rounds, and none was missed in either.",
    ],
    [
      { inBoth: 1, missedInBoth: 0, newlyMissed: [], newlyRead: [] },
      "One tag was presented in both rounds, and it was missed in neither.",
    ],
    [
      { inBoth: 30, missedInBoth: 2, newlyMissed: [tag], newlyRead: [tag, tag] },
      "Of 30 tags presented in both rounds, one is newly missed, two are newly read every time and two were missed in both.",
    ],
  ])("%j: %s", (tags, sentence) => {
    expect(said(tags)).toBe(sentence);
  });

  it("is nothing where the rounds cannot be compared", () => {
    expect(said(null, "not-comparable")).toBe("");
  });
});
