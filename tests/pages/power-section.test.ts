import { describe, expect, it } from "vitest";
import { powerResults } from "../../src/analysis/radio/power-curves.ts";
import type { PowerCohort, PowerStep } from "../../src/model/radio/power-steps.ts";
import type { Result } from "../../src/model/result/result.ts";
import { walkedFacility } from "../analysis/walked.ts";
import { pagesOf, renderPage, tableFiles, wordsOf } from "./render-page.ts";
import { sampleResult } from "./sample-result.ts";
import { sampleWhy } from "./sample-why.ts";

const counts = (...steps: [dbm: number, read: number][]): PowerStep[] =>
  steps.map(([powerDbm, read]) => ({ powerDbm, presented: 40, read }));
const usual = counts([15, 2], [18, 9], [21, 22], [24, 34], [27, 39], [30, 40]);

/** The sample, whose dock 2 has a power log. */
function withPower(
  steps: PowerStep[],
  inUseDbm: number | null,
  cohorts: PowerCohort[] | null = null,
): Result {
  const walked = walkedFacility({ criteria: [] }, []);
  walked.log.power.push({ readPoint: "dock-1", round: "as-left", inUseDbm, steps, cohorts });
  const power = powerResults(walked, "dock-1");
  return {
    ...sampleResult,
    readPoints: sampleResult.readPoints.map((point) =>
      point.id === "dock-2" ? { ...point, why: sampleWhy, power } : point,
    ),
  };
}

function sectionOf(result: Result) {
  const page = pagesOf(result, "why").find(({ path }) => path.endsWith("dock-2.html"))!;
  const html = renderPage(page);
  const [, section = ""] = /<h2 id="power">(.*?)(?:<h2 |<\/main>)/s.exec(html) ?? [];
  return { html: section, words: wordsOf(section).replace(/[\u202f\u00a0]/g, " ") };
}

describe("the power log on the page that says why a read point missed", () => {
  it("says what 99 % takes by both curves, that the far tail depends on the choice, and the margin", () => {
    const { words } = sectionOf(withPower(usual, 30));
    expect(words).toContain("99 % of the tags take a transmit power of 29.2 dBm (27.0 to 32.9) by the logit");
    expect(words).toContain(
      "by the probit 28.3 dBm (26.5 to 31.0). So far out the figure depends on the shape",
    );
    expect(words).toContain("At the power in use, 30 dBm, that leaves a margin of 0.8 dB (−2.9 to 3.0).");
    expect(words).toContain("146 of 240 tags read at six powers from 15 to 30 dBm.");
  });

  it("says whether the band rests on the tags that the log names, or on the same ones at every power", () => {
    expect(sectionOf(withPower(usual, 30)).words).toContain(
      "The log does not name its tags: the band allows for the same ones at every power.",
    );
    const others = usual.map((_, step) => ({ subjects: 40, groups: [step], trials: [1] }));
    const { words } = sectionOf(withPower(usual, 30, others));
    expect(words).toContain("The log names its tags");
    expect(words).toContain("29.2 dBm (27.4 to 32.0) by the logit");
  });

  it("draws the counts, the logit with its band, the probit and the power in use", () => {
    const { html } = sectionOf(withPower(usual, 30));
    const [wide] = /<svg.*?<\/svg>/s.exec(html)!;
    expect(wide.match(/<circle/g)).toHaveLength(usual.length + 1);
    expect(wide.match(/<polygon/g)).toHaveLength(1);
    expect(wide.match(/<path/g)).toHaveLength(2);
    expect(wide).toContain("in use: 30");
    expect(wide).not.toMatch(/NaN|Infinity/);
  });

  it("has the counts and both curves in one table for download, unrounded", () => {
    const files = tableFiles(withPower(usual, 30));
    const fileOf = (name: string) => files.find(({ path }) => path.endsWith(name))!.text;
    const [header, first] = fileOf("dock-2-power.csv").split("\r\n");
    expect(header).toBe(
      "power_dbm,tags_presented,tags_read,share_read,logit_share,logit_lower,logit_upper,probit_share",
    );
    expect(first).toMatch(/^15,40,2,0\.05,0\.0\d{4,}/);
    expect(fileOf("dock-2-power-needed.csv")).toContain("share_fraction,logit_power_dbm");
  });

  it("says in words what has no figures, and draws nothing of it", () => {
    const separated = sectionOf(withPower(counts([18, 0], [21, 40]), 24));
    expect(separated.words).toContain("Reads go from none at 18.0 dBm to all at 21.0 dBm");
    expect(separated.html).not.toContain("<svg");
    const flat = sectionOf(withPower(counts([15, 16], [18, 24], [21, 16], [24, 24]), 24));
    expect(flat.words).toContain("(no limits)");
    expect(flat.words).not.toMatch(/NaN|Infinity|null/);
    expect(sectionOf(withPower(usual, null)).words).toContain("do not state the power in use");
  });
});
