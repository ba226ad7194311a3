import { readFileSync } from "node:fs";
import { isDeepStrictEqual } from "node:util";
import { describe, expect, it } from "vitest";
import { judgedAtEveryPass, judgedOnce } from "../../../bench/simulation/hard-walks.ts";
import days from "../../../src/analysis/comparison/simulated.json" with { type: "json" };
import { changedByDay } from "../../../src/analysis/comparison/simulated.ts";
import { fewestPasses } from "../../../src/analysis/plan/sample-size.ts";
import { intervals } from "../../../src/intervals/index.ts";
import simulated from "../../../src/intervals/simulated.json" with { type: "json" };
import { inHundred, inHundredOf, powerLogsInHundred, untilMet } from "../../../src/intervals/simulated.ts";
import { measures } from "../../../src/measures/index.ts";

const notes = readFileSync(new URL("../../../bench/README.md", import.meta.url), "utf8");
const percent = (share: number) => `${(share * 100).toFixed(1)} %`;

describe("the simulated figures that the bench wrote", () => {
  it("cover every interval, and taking presentations as independent, at each scatter", () => {
    const found = simulated.wrongSignOffs.map(({ scatter, rule }) => `${rule} ${scatter}`).sort();
    const rules = ["naive Wilson", ...intervals.ids()];
    expect(found).toEqual(rules.flatMap((rule) => [1, 1.5, 2].map((scatter) => `${rule} ${scatter}`)).sort());
  });

  it("cover every family of harder walks, with all its settings, seeds and standard errors", () => {
    const families = [...judgedOnce, ...judgedAtEveryPass];
    expect(simulated.hardWalks.map(({ family, settings }) => [family, settings])).toEqual(
      families.map(({ words, models }) => [words, models.length]),
    );
    for (const { settings, seeds, walks, highest, standardError } of simulated.hardWalks) {
      expect(seeds[1]! - seeds[0]! + 1).toBe(settings);
      expect(walks).toBeGreaterThanOrEqual(1000);
      expect(standardError).toBeCloseTo(Math.sqrt((highest * (1 - highest)) / walks), 5);
    }
  });

  it("keep what is promised, with two standard errors to spare", () => {
    const within = ({ highest, standardError }: { highest: number; standardError: number }, most: number) =>
      expect(highest).toBeLessThanOrEqual(most + 2 * standardError);
    for (const share of simulated.hardWalks) within(share, share.isAtEveryPass ? 0.03 : 0.05);
    for (const share of simulated.wrongSignOffs.filter(({ rule }) => rule === "any-time"))
      within(share, 0.03);
    for (const share of simulated.wrongSignOffs)
      if (share.rule === "beta-binomial" && share.scatter <= 1.5) within(share, 0.05);
    for (const share of simulated.falseChanges) within(share, 0.07);
    for (const { wronglyMet, standardError } of simulated.idleReads)
      within({ highest: wronglyMet, standardError }, 0.07);
  });

  it("stand in the notes on the bench", () => {
    const figures = (rule: string) => [1, 1.5, 2].map((scatter) => `${inHundred(scatter, rule)} %`);
    const row = (words: string, rule: string) => `| ${words} | ${figures(rule).join(" | ")} |`;
    expect(notes).toContain(row("every presentation taken as independent, Wilson", "naive Wilson"));
    for (const id of ["wilson", "exact", "beta-binomial"])
      expect(notes).toContain(row(`\`interval: ${id}\``, id));
    expect(notes).toContain(row("`interval: any-time`, looked at after every pass", "any-time"));
    for (const { family, rule, settings, highest, standardError } of simulated.hardWalks)
      expect(notes).toContain(
        `| ${family} | \`${rule}\` | ${settings} | ${percent(highest)} | ${(standardError * 100).toFixed(2)} |`,
      );
    for (const { naive, highest } of simulated.falseChanges)
      expect(notes).toContain(`| ${percent(naive)} | ${percent(highest)} |`);
    for (const { stay, wronglyMet, untested } of simulated.idleReads)
      expect(notes).toMatch(
        new RegExp(`\\| ${stay} min .*\\| ${percent(wronglyMet)} .*\\| ${percent(untested)}`),
      );
    for (const share of [0.99, 0.9, 0.5]) {
      const found = simulated.powerLogs.filter((one) => one.share === share && one.weakDb === 0);
      const cells = found.map(({ wronglyMet }) => percent(wronglyMet));
      for (const [i, way] of ["the same, or not known", "others, not named", "others, named"].entries())
        expect(notes).toContain(
          `| ${100 * share} % | ${way} | ${cells.slice(3 * i, 3 * i + 3).join(" | ")} |`,
        );
    }
    for (const { quantile, passes, tagScatterDb, passScatterDb } of simulated.signals) {
      const cells = [true, false].flatMap((isSameTags) => {
        const own = { quantile, passes, tagScatterDb, passScatterDb, isSameTags };
        const found = simulated.signals.find((one) => isDeepStrictEqual({ ...one, ...own }, one))!;
        return [percent(found.wronglyMet), percent(found.withoutRemark)];
      });
      expect(notes).toContain(
        `| ${100 * quantile} % | ${passes} x 40 | ${tagScatterDb} dB, ${passScatterDb} dB | ${cells.join(" | ")} |`,
      );
    }
    const { mean, median, fixedPasses } = simulated.untilMet;
    expect(notes).toContain(`after ${mean} passes on average, half of them after ${median}`);
    expect(notes).toContain(`${fixedPasses} passes that were decided beforehand`);
  });

  it("on days that differ stand in the notes and on the pages", () => {
    for (const rate of [0.99, 0.97])
      for (const passes of [20, 40]) {
        const shares = [1, 4].map((sessions) => {
          const found = days.dayEffects.find(
            (one) => one.trueRate === rate && one.passes === passes && one.sessions === sessions,
          )!;
          expect(changedByDay({ trueRate: rate, passes, tags: 40, sessions })).toBe(
            (100 * found.highest).toFixed(0),
          );
          return (Math.round(1000 * found.highest) / 10).toFixed(1);
        });
        expect(notes).toContain(`| ${100 * rate} % | ${passes} x 40 | ${shares.join(" | ")} |`);
        // Several sessions a round show the days as scatter of the passes.
        expect(Number(shares[1])).toBeLessThan(Number(shares[0]) / 2);
      }
    expect(() => changedByDay({ trueRate: 0.5, passes: 20, tags: 40, sessions: 1 })).toThrow(/No simulation/);
  });

  it("stand in the words of the cards, and what can be worked out is what a plan works out", () => {
    const betaBinomial = intervals.get("beta-binomial").words.chapter!.paragraphs(true).join(" ");
    expect(betaBinomial).toContain(
      `at most ${inHundred(1, "wilson")} in 100, and beta-binomial ${inHundred(1, "beta-binomial")}.`,
    );
    expect(betaBinomial).toContain(
      `${inHundredOf("unequal", "beta-binomial")} in 100 with passes of unequal size`,
    );
    const anyTime = intervals.get("any-time").words.chapter!.paragraphs(true).join(" ");
    expect(anyTime).toContain(`ever signs off at most ${inHundredOf("logit", "any-time")} in 100`);
    expect(anyTime).toContain(`after ${untilMet.meanPasses} passes on average`);
    const margin = measures.get("power-margin").method.of;
    expect(margin).toContain(`at most ${powerLogsInHundred(0)} in 100 are met`);
    const guide = readFileSync(new URL("../../../docs/power-logs.md", import.meta.url), "utf8").replaceAll(
      "\n",
      " ",
    );
    expect(guide).toContain(`at most ${powerLogsInHundred(0)} in 100 are met`);
    expect(guide).toContain(
      `8 dB more than the others, up to ${powerLogsInHundred(8)} in 100 are met for 99 %, and ${powerLogsInHundred(4)} if`,
    );
    expect(() => powerLogsInHundred(5)).toThrow(/No simulation of power logs/);
    expect(() => inHundred(3, "wilson")).toThrow(/No simulation of wilson/);
    expect(() => inHundredOf("unheard of", "wilson")).toThrow(/No simulation of wilson/);
    const fewest = ["any-time", "beta-binomial"].map((interval) =>
      fewestPasses(
        {
          trialsPerPass: 40,
          unit: "presentations",
          sameTags: false,
          sense: "at-least",
          limit: 0.99,
          minimumPasses: 1,
          basis: { confidence: 0.95, interval, missCorrelation: 0.02 },
        },
        0,
      ),
    );
    expect([untilMet.fewestPasses, untilMet.fewestPassesFixed]).toEqual(fewest);
    expect(anyTime).toContain(`${fewest[0]} passes of 40 tags where beta-binomial takes ${fewest[1]}`);
  });
});
