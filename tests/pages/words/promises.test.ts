import { describe, expect, it } from "vitest";
import type { Finding } from "../../../src/model/result/finding.ts";
import type { Result } from "../../../src/model/result/result.ts";
import { namesOf } from "../../../src/pages/parts/names.ts";
import {
  correlationSentence,
  hangsOnRule,
  ofHundred,
  roundsSentence,
  stricterCount,
  stricterNote,
  stricterSentence,
  togetherSentences,
  unseenSentence,
  unseenSummary,
} from "../../../src/pages/words/promises.ts";
import { sampleResult } from "../sample-result.ts";

const [finding] = sampleResult.findings as [Finding, ...Finding[]];
const basis = { ...sampleResult.basis, confidence: 0.95, missCorrelation: 0.02 };
const many = (count: number) => Array.from({ length: count }, () => finding);
const kind = (share: number) => ({ share, oneIn: Math.floor(1 / share) });
const met: Finding = {
  ...finding,
  state: "met",
  passes: 36,
  tags: 40,
  unseen: { passes: kind(0.0974), tags: kind(0.0881) },
};

describe("what the states of a facility promise", () => {
  it("is, for all findings together, what one alone promises, and less for a single one of many", () => {
    const [whole, single] = togetherSentences({ findings: many(20), basis });
    expect(whole).toMatch(
      /^\u201cMet\u201d for all 20 findings together needs no correction .* in at most 2\.5 of 100 such walks/,
    );
    expect(single).toMatch(
      /of 20 findings that truly just miss their limit, at least one is met in up to 40 of 100 walks if they are independent/,
    );
    expect(togetherSentences({ findings: many(2), basis }).join(" ")).toMatch(
      /both findings .* in up to 5 of 100/,
    );
    expect(togetherSentences({ findings: many(1), basis })).toHaveLength(1);
    expect(togetherSentences({ findings: [], basis })).toEqual([]);
  });

  it("follows from the confidence", () => {
    const [whole, single] = togetherSentences({ findings: many(20), basis: { ...basis, confidence: 0.99 } });
    expect(whole).toContain("at most 0.5 of 100 such walks");
    // 1 - 0.995^20 = 0.0954, and a risk is never rounded down.
    expect(single).toContain("at least one is met in up to 9.6 of 100 walks");
    expect([0.025, 0.05, 0.0494, 0.397, 0.9999].map(ofHundred)).toEqual(["2.5", "5", "5", "40", "100"]);
  });

  it("is less from the second walked round on, and counts no round after the judged one", () => {
    const round = (id: string, passes: number) => ({ ...sampleResult.readPoints[0]!.rounds[0]!, id, passes });
    const point = (signOffRound: string) => ({
      ...sampleResult.readPoints[0]!,
      signOffRound,
      rounds: [round("a", 10), round("b", 0), round("c", 10), round("d", 10)],
    });
    const said = (...ids: string[]) => roundsSentence({ readPoints: ids.map(point), basis });
    expect(said("a", "b")).toBe("");
    expect(said("c")).toMatch(
      /^Two rounds were walked, .* in at least one of them in up to 5 of 100 cases\.$/,
    );
    expect(said("a", "d")).toMatch(/^Up to three rounds were walked, .* in up to 7\.4 of 100 cases\.$/);
  });
});

describe("what a stricter rule would show", () => {
  const [first, second] = sampleResult.readPoints as [Result["readPoints"][0], Result["readPoints"][0]];
  const names = namesOf(sampleResult);
  const judged = (
    readPoint: string,
    state: Finding["state"],
    stricter: Finding["state"] | null,
  ): Finding => ({
    ...finding,
    readPoint,
    group: null,
    state,
    stricter: stricter === null ? null : { interval: "beta-binomial", state: stricter },
  });
  const findings = [
    judged(first.id, "met", "undecided"),
    judged(first.id, "met", "undecided"),
    judged(second.id, "not-met", "undecided"),
    judged(second.id, "met", "met"),
    judged(second.id, "met", null),
  ];
  const otherwise = (count: number, others: number[]): Result["otherwise"] => ({
    interval: { id: "beta-binomial", findings: count },
    correlations: [0, 0.1, 0.5].map((missCorrelation, i) => ({ missCorrelation, findings: others[i]! })),
  });

  it("is said of each finding, and of all of them with their places", () => {
    expect(findings.map(stricterNote)).toEqual([
      ...Array.from({ length: 3 }, () => "undecided by beta-binomial"),
      "",
      "",
    ]);
    expect(stricterSentence({ otherwise: otherwise(3, [0, 0, 0]), findings }, names)).toBe(
      `By the stricter beta-binomial interval three findings would be undecided: ${first.name} (two findings) and ${second.name}.`,
    );
    expect(stricterCount({ otherwise: otherwise(3, [0, 0, 0]) })).toContain("three findings");
  });

  it("is that nothing changes where nothing does, and nothing at all where the rule is as strict", () => {
    const same = /every finding would have the same state/;
    expect(
      stricterSentence({ otherwise: otherwise(0, [0, 0, 0]), findings: findings.slice(3) }, names),
    ).toMatch(same);
    expect(stricterCount({ otherwise: otherwise(0, [0, 0, 0]) })).toMatch(same);
    const strict = { ...otherwise(0, [0, 0, 0]), interval: null };
    expect(stricterSentence({ otherwise: strict, findings }, names)).toBeNull();
    expect(stricterCount({ otherwise: strict })).toBe("");
  });

  it("counts only correlations above the assumed one", () => {
    expect(correlationSentence({ otherwise: otherwise(0, [9, 1, 12]), basis })).toBe(
      "If misses were more alike than the assumed 0.02, one finding would have another state at 0.1 and twelve at 0.5.",
    );
    expect(correlationSentence({ otherwise: otherwise(0, [9, 0, 0]), basis })).toMatch(
      /0\.02, every finding would have the same state at 0\.1 and 0\.5\.$/,
    );
    expect(correlationSentence({ otherwise: { interval: null, correlations: [] }, basis })).toBe("");
    expect(hangsOnRule({ otherwise: otherwise(0, [9, 0, 0]), basis })).toBe(false);
    expect(hangsOnRule({ otherwise: otherwise(0, [0, 0, 1]), basis })).toBe(true);
    expect(hangsOnRule({ otherwise: otherwise(1, [0, 0, 0]), basis })).toBe(true);
  });
});

describe("what may not have come up", () => {
  it("is said beside a finding that is met, and beside no other", () => {
    expect(unseenSentence(met)).toBe(
      "36 passes with 40 different tags were walked: a kind of pass rarer than 1 in 10 or a kind of tag rarer than 1 in 11 may not have come up.",
    );
    expect(unseenSentence({ ...met, state: "undecided" })).toBe("");
    expect(unseenSentence({ ...met, unseen: null })).toBe("");
  });

  it("leaves tags out where no log names them, and is anything after few passes", () => {
    const one = { ...met, passes: 1, tags: null, unseen: { passes: kind(0.975), tags: null } };
    expect(unseenSentence(one)).toBe("1 pass was walked: even a common kind of pass may not have come up.");
  });

  it("is told of the facility by the finding with the fewest passes and the one with the fewest tags", () => {
    const short = { ...met, passes: 12, tags: 80, unseen: { passes: kind(0.265), tags: kind(0.045) } };
    const few = { ...met, tags: 10, unseen: { passes: kind(0.0974), tags: kind(0.308) } };
    const open: Finding = { ...met, state: "undecided", passes: 1, tags: 1 };
    expect(unseenSummary({ findings: [met, short, few, open] })).toMatch(
      /as few as 12 passes or 10 different tags: there a kind of pass rarer than 1 in 3 or a kind of tag rarer than 1 in 3 may be missing/,
    );
    expect(unseenSummary({ findings: [open] })).toBe("");
  });
});
