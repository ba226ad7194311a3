import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { fewestPasses } from "../../src/analysis/plan/sample-size.ts";
import { correlationAt } from "../../src/intervals/any-time.ts";
import { intervals } from "../../src/intervals/index.ts";
import { eventEstimate } from "../../src/measures/evidence/events.ts";
import { rateEstimate } from "../../src/measures/evidence/rates.ts";
import { figuresOf, tagsAMinute } from "../../src/measures/scales.ts";
import { glossary } from "../../src/pages/method/glossary.ts";
import { formulaParts } from "../../src/pages/method/intervals.ts";
import { sources } from "../../src/pages/method/sources.ts";
import type { WorkedExample } from "../../src/pages/method/worked-example.ts";
import { pointFigures } from "../../src/pages/words/figures.ts";
import { clopperPearsonBounds } from "../../src/statistics/clopper-pearson.ts";
import { confidenceSequenceBounds } from "../../src/statistics/confidence-sequence.ts";
import { clusterSums, effectiveSampleSize } from "../../src/statistics/effective-sample.ts";
import { proportionDifference } from "../../src/statistics/two-proportions.ts";
import { wilsonBounds } from "../../src/statistics/wilson.ts";
import { plannedWalk } from "../analysis/plan/planned.ts";
import { pageOf, renderPage, wordsOf } from "./render-page.ts";
import { bareResult, sampleResult } from "./sample-result.ts";

const template = readFileSync(new URL("../../templates/pages/method.njk", import.meta.url), "utf8");
const provenance = readFileSync(new URL("../reference/sources.md", import.meta.url), "utf8");
const page = wordsOf(renderPage(pageOf(sampleResult, "method")));

const plain = (text: string) => text.replaceAll("\u202f", " ");

function fewest(reaches: (n: number) => boolean): number {
  let n = 1;
  while (!reaches(n)) n += 1;
  return n;
}

describe("the method page", () => {
  it("prints the sizes that the intervals themselves ask for", () => {
    for (const rate of [0.9, 0.95, 0.99, 0.995, 0.999]) {
      const oneSided = fewest((n) => clopperPearsonBounds(1, n, 0.9).lower >= rate);
      const exact = fewest((n) => clopperPearsonBounds(1, n, 0.95).lower >= rate);
      const wilson = fewest((n) => wilsonBounds(1, n, 0.95).lower >= rate);
      expect(template).toContain(
        `<td class="number">${oneSided}</td><td class="number">${exact}</td><td class="number">${wilson}</td>`,
      );
    }
    expect(fewest((n) => clopperPearsonBounds(1, n, 0.8).lower >= 0.95)).toBe(45);
  });

  it("prints the passes that a bad kind of pass takes to come up, and how rare a kind may be that has not", () => {
    for (const limit of [0.99, 0.98, 0.97, 0.95, 0.9]) {
      const passes = [0.25, 0.5, 1].map((worst) =>
        fewest((n) => (1 - (1 - limit) / worst) ** n <= 0.025 * (1 + 1e-12)),
      );
      expect(plain(page)).toContain(`${Math.round(100 * limit)} % ${passes.join(" ")} `);
    }
    const oneIn = (n: number) => Math.floor(1 / (1 - 0.025 ** (1 / n)));
    expect(page).toContain(`With 36 passes, a kind of pass rarer than 1 in ${oneIn(36)} `);
    expect(page).toContain(`with 40 different tags, a kind of tag rarer than 1 in ${oneIn(40)}.`);
  });

  it("says what many findings and many rounds do to a promise, from the confidence", () => {
    const up = (chance: number) => `${Math.ceil(1000 * chance - 1e-9) / 10}`;
    expect(page).toContain(`20 passes hold none of them in ${Math.round(100 * 0.95 ** 20)} of 100 walks`);
    expect(page).toContain(`at least one is met in up to ${Math.ceil(100 * (1 - 0.975 ** 20))} of 100 walks`);
    expect(page).toContain(`in up to ${up(1 - 0.975 ** 2)} of 100 cases, and at least one of three in up to`);
    expect(page).toContain(`one of three in up to ${up(1 - 0.975 ** 3)}.`);
    expect(page).toContain(`no more than about ${Math.round(100 * 0.9 ** 20)} of 100`);
    // Near the ends of the scale both sides of an interval are not wrong equally often.
    expect(page).not.toMatch(/About 2\.5\u202f% would be/);
  });

  it("says what looking after every pass costs, with its true figures", () => {
    expect(fewest((n) => confidenceSequenceBounds(1, n, 0.95).lower >= 0.99)).toBe(455);
    expect(fewest((n) => clopperPearsonBounds(1, n, 0.95).lower >= 0.99)).toBe(368);
    expect(page).toContain("takes 455 independent presentations without a miss instead of 368");
    expect(page).toContain("This report does not use it");
    expect([0.97, 0.95].map((rate) => correlationAt(0.02, rate).toFixed(3))).toEqual(["0.158", "0.234"]);
    expect(plain(page)).toContain("to 0.16 at 97 % and 0.23 at 95 %");
    const fivePasses = clusterSums(Array.from({ length: 5 }, () => ({ n: 40, failures: 0 })));
    const { lower } = rateEstimate(
      { n: 200, k: 200, clusterings: [fivePasses] },
      { confidence: 0.95, interval: "any-time", missCorrelation: 0.02 },
    );
    expect(Math.floor(lower! * 100)).toBe(56);
    expect(plain(page)).toContain("five passes of forty tags without a miss show 56 %");
  });

  it("prints of every interval its formulas, and of the one that is used what it assumes", () => {
    for (const { id, words: own } of intervals.all()) {
      const result = { ...sampleResult, basis: { ...sampleResult.basis, interval: id } };
      const words = plain(wordsOf(renderPage(pageOf(result, "method"))));
      expect(words).toContain(plain(`${own.used} ${own.assumes}`));
      for (const { lead } of own.formulas) expect(words).toContain(lead);
      for (const { citation } of own.sources) expect(words).toContain(plain(citation));
      expect(words.split("This report uses it.").length - 1).toBe(own.chapter === null ? 0 : 1);
      for (const other of intervals.all()) {
        if (other.words.effectiveSample !== null)
          expect(words.includes(plain(other.words.effectiveSample))).toBe(other.id === id);
      }
    }
  });

  it("sets variables, and what stands above and below the line, in their own type", () => {
    expect(formulaParts("*ρ*_{i} ≤ ( 2*k* )^{2*m*}")).toEqual([
      { text: "ρ", isVariable: true, place: "line" },
      { text: "i", isVariable: false, place: "below" },
      { text: " ≤ ( 2", isVariable: false, place: "line" },
      { text: "k", isVariable: true, place: "line" },
      { text: " )", isVariable: false, place: "line" },
      { text: "2", isVariable: false, place: "above" },
      { text: "m", isVariable: true, place: "above" },
    ]);
    const html = renderPage(pageOf(sampleResult, "method"));
    expect(html).toContain("<var>ρ</var><sub>i</sub>");
    expect(html).toContain("<sup>2</sup><sup><var>k</var></sup>");
  });

  it("says what each interval costs, as a plan counts it", () => {
    expect(plain(page)).toContain(
      "Tags per pass Wilson Clopper-Pearson beta-binomial any-time Wilson, correlation 0.1",
    );
    for (const row of [
      "99 % 20 27 26 32 49 56",
      "99 % 40 17 17 22 38 47",
      "97 % 20 9 9 14 31 19",
      "97 % 40 6 6 10 27 16",
      "95 % 20 6 5 10 25 11",
      "95 % 40 4 4 8 23 9",
    ]) {
      expect(plain(page)).toContain(row);
    }
    const plan = plannedWalk({
      basis: { confidence: 0.95, interval: "beta-binomial", missCorrelation: 0.02 },
    });
    expect(fewestPasses(plan, 0)).toBe(22);
  });

  it("tells the story of 16 of 17 with its true figures", () => {
    expect(wilsonBounds(16 / 17, 17, 0.95).upper).toBeCloseTo(0.9895, 4);
    expect(clopperPearsonBounds(16 / 17, 17, 0.95).upper).toBeCloseTo(0.9985, 4);
    expect(Math.round(100 * (1 - 0.99 ** 17))).toBe(16);
    for (const figure of ["98.95\u202f%", "99.85\u202f%", "about 16 of 100"]) {
      expect(template.replaceAll("&#8239;", "\u202f")).toContain(figure);
    }
  });

  it("gives the effective sample of its example as the analysis does", () => {
    const byPass = clusterSums(Array.from({ length: 30 }, () => ({ n: 20, failures: 0 })));
    const worth = effectiveSampleSize({ n: 600, k: 600, clusterings: [byPass] }, 0.02, 0.95);
    expect(Math.round(worth)).toBe(435);
    expect(template).toContain("worth at most 435");
  });

  it("gives the interval of its example of idle reads as the analysis does", () => {
    const byMinute = [1, 1, 1, ...new Array<number>(57).fill(0)];
    const { lower, upper } = figuresOf(
      eventEstimate({ events: 3, minutes: 60, byMinute, stays: { squares: 3, longest: 1 } }, 0.95),
      {
        scale: tagsAMinute,
        sense: "at-most",
      },
    );
    expect(page.replaceAll("&#8239;", " ")).toContain(`at 95 % the interval runs from ${lower} to ${upper}.`);
    expect(page).toContain("Idle reads tags read while no pass was under way");
  });

  it("shows the correlation in use between the others and marks what would be judged otherwise", () => {
    expect(page).toMatch(/Finding 0 0\.02 \(used here\) 0\.1/);
    expect(page).toContain("undecided (differs)");
  });

  it("compares before and after with figures that the formulas themselves give", () => {
    const gain = pointFigures(
      proportionDifference({ first: { p: 0.9, n: 10 }, second: { p: 0.3, n: 10 }, phi: 0 }, 0.95),
    );
    expect(gain).toEqual({ value: "60.0", lower: "17.0", upper: "81.0" });
    expect(page).toContain("are a gain of 60 percentage points, 17.0 to 81.0.");
    expect((1 - 0.95 ** 12).toFixed(2)).toBe("0.46");
    expect(page).toContain("would show a change by chance alone in 46 of 100 cases");
    expect(page).toContain("stays within 0.5 percentage points either way");
    expect(page).toContain("A change whose adjusted p is at most 0.05 holds after adjustment");
    for (const name of ["McNemar", "Fisher", "Holm", "Kish", "standardisation"]) expect(page).toContain(name);
  });

  it("says of every source how it was verified, and explains every term", () => {
    const all = [...sources, ...intervals.all().flatMap(({ words }) => words.sources)];
    for (const { citation, verified } of all) {
      expect(verified).not.toMatch(/memory|read there/);
      expect(provenance, citation).toContain(`| ${citation.split(/[.:,] /)[0]}`);
    }
    const terms = glossary.map(({ term }) => term);
    for (const term of [
      "stray",
      "cross read",
      "bystander",
      "round",
      "as found",
      "as left",
      "concession",
      "timed pass",
      "pass window",
      "idle read",
      "pure identity",
      "raw code",
    ]) {
      expect(terms).toContain(term);
    }
    expect(page).toContain("No published standard that we know of defines stray and cross read");
  });

  it("works out one finding of the facility so that a calculator arrives at the bounds in its file", () => {
    const view = pageOf<{ worked: WorkedExample | null }>(sampleResult, "method").view;
    const { steps, readPoint, criterion } = view.worked!;
    const said = (label: string) => steps.find((step) => step.label === label)!.text;
    const numbers = (label: string) => (said(label).match(/\d+(\.\d+)?/g) ?? []).map(Number);
    const [k, n, p] = numbers("Count") as [number, number, number];
    const effective = numbers("Effective sample").at(-1)!;
    const z = numbers("Confidence").at(-1)!;
    expect(k / n).toBeCloseTo(p, 6);
    const stretch = 1 + (z * z) / effective;
    const centre = (p + (z * z) / (2 * effective)) / stretch;
    const half = (z * Math.sqrt((p * (1 - p)) / effective + (z * z) / (4 * effective ** 2))) / stretch;
    expect(numbers("Centre").at(-1)).toBeCloseTo(centre, 4);
    expect(numbers("Half width").at(-1)).toBeCloseTo(half, 4);
    const finding = sampleResult.findings.find(
      (one) =>
        one.estimate.k === k &&
        one.estimate.n === n &&
        sampleResult.readPoints.some(({ id, name }) => id === one.readPoint && name === readPoint.label) &&
        sampleResult.criteria.some(({ id, title }) => id === one.criterion && title === criterion),
    )!;
    const { lower, upper } = wilsonBounds(k / n, finding.estimate.effectiveN!, sampleResult.basis.confidence);
    expect(numbers("Interval").slice(0, 2)).toEqual([Number(lower.toFixed(4)), Number(upper.toFixed(4))]);
    expect(said("Verdict")).toContain(finding.state === "not-met" ? "not met" : finding.state);
    expect(pageOf<{ worked: unknown }>(bareResult, "method").view.worked).toBeNull();
  });

  it("says so where no finding uses the assumption", () => {
    expect(wordsOf(renderPage(pageOf(bareResult, "method")))).toContain(
      "No finding of this facility uses the assumption.",
    );
  });
});
