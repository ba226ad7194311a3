import { expect, test } from "vitest";
import { describeRadio } from "../../src/analysis/radio/describe-radio.ts";
import type { Result } from "../../src/model/result/result.ts";
import type { FacilityTemplate } from "../../src/pages/facility-pages.ts";
import { radioRound } from "../analysis/radio/radio-walk.ts";
import { pageOf, pagesOf, readPointPage, renderPage, tableFiles, wordsOf } from "./render-page.ts";
import { sampleResult } from "./sample-result.ts";
import { sampleWhy } from "./sample-why.ts";

const found = { cableLossDb: 0.9, heightM: 2.4, tiltDeg: 15 };

/** The sample with a radio at its first read point. */
function withRadio(asLeft: Parameters<typeof radioRound>[1]): Result {
  const rounds = [radioRound("as-found", found), radioRound("as-left", asLeft)];
  const [first, ...others] = sampleResult.readPoints;
  const why = {
    ...sampleWhy,
    radioSignal: {
      ...{ before: "as-found", passes: 24, passesBefore: 30, changeDb: -11.4, expectedDb: 0.6 },
      ...{ unexplainedDb: -12, allowanceDb: 6, pAdjusted: 0.001 },
    },
    timeToAnswer: {
      ...{ zoneM: 2, basis: "usual" as const, yardstickTagsPerS: 400, passes: 2, withoutSpeed: 1 },
      dwellS: { min: 0.05, median: 0.5, max: 1 },
      neededTagsPerS: { min: 20, median: 40, max: 401.2 },
      achieved: { passes: 2, medianTagsPerS: 35.9, bestTagsPerS: 60.7 },
      behind: ["P-02"],
      tooShort: [
        {
          ...{ pass: "P-02", speedMPerS: 40, tags: 20, missed: 9, dwellS: 0.05 },
          ...{ neededTagsPerS: 401.2, achievedTagsPerS: 35.9 },
        },
      ],
      pAdjusted: 0.01,
    },
    reach: {
      ...{ rangeM: 16.74, eirpDbm: 36, frequencyMhz: 915, tagGainDbi: 2.15, tagThresholdDbm: -18 },
      isTagStated: false,
      distances: [
        { distanceM: 4, presented: 40, missed: 1, spareDb: 12.4, short: false },
        { distanceM: 10, presented: 40, missed: 38, spareDb: 4.5, short: true },
      ],
      ...{ reachedM: 4, pAdjusted: 1e-6 },
    },
  };
  return {
    ...sampleResult,
    readPoints: [{ ...first!, why, radio: describeRadio({ rounds }, "dock-1") }, ...others],
  };
}

const plain = (text: string) => text.replace(/[\u202f\u00a0]/g, " ");
const wordsOfPage = (result: Result, kind: FacilityTemplate) =>
  plain(wordsOf(renderPage(pageOf(result, kind))));

test("a setting over its limit is the first line of overview and sheet, with what became of it", () => {
  const right = withRadio({});
  const line =
    "Over the radio limit. Dock door 1, round As found: 36.6 dBm EIRP, with 30.6 dBm at the antenna where 30 dBm are allowed; the limit is 36 dBm EIRP (47 CFR 15.247";
  for (const kind of ["overview", "sign-off-sheet"] as const) {
    const words = wordsOfPage(right, kind);
    expect(words).toContain(line);
    expect(words).toContain("so it is over by 0.6 dB. Put right in round As left: 36 dBm EIRP.");
    expect(words.indexOf(line)).toBeLessThan(words.search(/Of \w+ read points/));
    expect(wordsOfPage(sampleResult, kind)).not.toContain("Over the radio limit");
  }
  expect(wordsOfPage(withRadio({ cableLossDb: 1 }), "overview")).toContain(
    "round As found and As left: 36.5 dBm EIRP, with 30.5 dBm at the antenna where 30 dBm are allowed; the limit is 36 dBm EIRP (47 CFR 15.247, 902 to 928 MHz, 50 or more hop channels: 1 W conducted, antenna gain up to 6 dBi), so it is over by 0.5 dB. The round judged was walked like that: lower the power and walk again.",
  );
});

test("a read point's page holds power, limit and exposure folded, with the cautions beside them", () => {
  const html = renderPage(readPointPage(withRadio({}), "dock-1"));
  const words = plain(wordsOf(html.slice(html.indexOf('<details class="fold" id="radio">'))));
  expect(words).toMatch(/Radiated power: over its limit in As found; and exposure/);
  expect(words).toMatch(
    /As found at 2\.4 m, tilted 15 degrees 31\.5 0\.9 6 dBi 36\.6 34\.45 e\.r\.p\. 36 no: over by 0\.6 dB/,
  );
  expect(words).toMatch(/As left 31\.5 1\.5 6 dBi 36 33\.85 e\.r\.p\. 36 yes: 0 dB below/);
  // 36 dBm at 915 MHz: 22.8 and 26.3 cm, rounded up.
  expect(words).toMatch(/47 CFR 1\.1310[^|]* read in the rule 6\.10 0\.23/);
  expect(words).toMatch(/ICNIRP 2020[^|]* from memory 4\.58 0\.27/);
  expect(words).toMatch(/planning aid and no clearance.*competent person.*pacemaker.*sign.*transmitter off/);
  expect(renderPage(readPointPage(sampleResult, "dock-1"))).not.toContain('id="radio"');
});

test("the rows behind the figures are files", () => {
  const files = tableFiles(withRadio({})).map(({ path }) => path.split("/").at(-1));
  expect(files).toEqual(
    expect.arrayContaining([
      "dock-1-radio.csv",
      "dock-1-radio-exposure.csv",
      "dock-1-why-time-to-answer.csv",
      "dock-1-why-reach.csv",
    ]),
  );
});

test("a circular antenna and a loss that nobody stated are said", () => {
  const result = withRadio({ antennaGainDbi: null, antennaGainDbic: 9, cableLossDb: null });
  const words = plain(wordsOf(renderPage(readPointPage(result, "dock-1"))));
  expect(words).toMatch(
    /In one plane it is about 3 dB less \(from memory\).*Ask whether your rule counts one plane/,
  );
  expect(words).toContain("No loss of cables is stated, so none is taken off.");
});

test("the page of the misses says time, reach and signal in sentences, needed rates rounded up and shown ones down", () => {
  const page = pagesOf(withRadio({}), "why").find(({ path }) => path.endsWith("/dock-1.html"))!;
  const words = plain(wordsOf(renderPage(page)));
  expect(words).toContain(
    "In a zone of 2 m a tag had 0.05 s to 1.00 s to answer (2 passes). If all tags of a pass come at once, up to 402 tags a second must be read, 40 in the median pass. Of 1 further pass the speed is not known.",
  );
  expect(words).toContain("shows 35 new tags a second in the median pass and 60 in the best");
  expect(words).toMatch(/1 pass needed more than 400 tags a second \(.*common practice, no source\): P-02\./);
  expect(words).toContain(
    "should reach 16.7 m, to a tag of 2.15 dBi that needs −18 dBm (a usual tag, from memory)",
  );
  expect(words).toContain("The farthest at which half of the tags were read is 4 m, of 10 m walked.");
  expect(words).toMatch(/Plausibility only.*beyond 30 ft \(9\.1 m\): common practice, no source/);
  expect(words).toContain("changed by −11.4 dB");
  expect(words).toContain("The 12.0 dB that remain are twice what is lost on one way");
});
