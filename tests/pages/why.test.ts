import { describe, expect, it } from "vitest";
import { diagnose } from "../../src/analysis/diagnosis/diagnose.ts";
import type { Diagnosis } from "../../src/model/diagnosis/diagnosis.ts";
import type { Why } from "../../src/model/diagnosis/why.ts";
import type { Result } from "../../src/model/result/result.ts";
import { missMapPicture } from "../../src/pages/pictures/miss-map.ts";
import { type WalkedRow, walkedFacility } from "../analysis/walked.ts";
import { pagesOf, readPointPage, renderPage, tableFiles, wordsOf } from "./render-page.ts";
import { sampleResult } from "./sample-result.ts";
import { sampleDiagnosis, sampleWhy } from "./sample-why.ts";

/** The sample, with dock 2 saying this of its misses and all others nothing. */
function told(why: Why | null, diagnosis: Diagnosis | null): Result {
  return {
    ...sampleResult,
    readPoints: sampleResult.readPoints.map((point) =>
      point.id === "dock-2" ? { ...point, why, diagnosis } : { ...point, why: null, diagnosis: null },
    ),
  };
}

const whole = told(sampleWhy, sampleDiagnosis);
const [page] = pagesOf(whole, "why");
const html = renderPage(page!);
const words = wordsOf(html);

const bare: Why = {
  round: "as-left",
  map: null,
  standingOut: null,
  runOfPasses: null,
  drivers: null,
  signal: null,
  antennas: null,
  strays: null,
  idleTags: null,
  settings: null,
  tagTrials: null,
};

const headings = (text: string) => [...text.matchAll(/<h2 id="([^"]+)"/g)].map(([, id]) => id);

describe("the page that says why a read point missed", () => {
  it("begins with the sentence, then says where to look, each with its evidence and a way to it", () => {
    expect(page!.path).toBe("sample-plant/why/dock-2.html");
    expect(words.indexOf(sampleDiagnosis.sentence)).toBeLessThan(words.indexOf("Where to look next"));
    expect(words).toContain("p 0.00010");
    expect(words).toContain("p 0.020");
    expect(words).toContain("stated by the logs");
    expect(html).toMatch(/<a class="screen-only" href="#drivers">/);
    expect(html).toMatch(/<a class="screen-only" href="\.\.\/passes[^"]*#pass-dock-2-as-left-p-04">/);
  });

  it("has a section for each part that the logs carry, and none for what they do not", () => {
    expect(headings(html)).toEqual([
      ...["next", "map", "pattern", "drivers", "tag-trials", "antennas"],
      ...["signal", "strays", "idle-tags", "settings"],
    ]);
    const [only] = pagesOf(told({ ...bare, signal: sampleWhy.signal }, null), "why");
    expect(headings(renderPage(only!))).toEqual(["signal"]);
    expect(wordsOf(renderPage(only!))).toContain("Nothing was missed.");
    expect(pagesOf(told(null, null), "why")).toEqual([]);
  });

  it("says what drives the misses in words, and what the walk cannot tell apart", () => {
    expect(words).toContain("edge-on is missed 3.1 to 9.5 times as often as facing, all else equal.");
    expect(words).toContain("change together, or nearly so, in this walk");
    expect(words).toMatch(/No effect is shown of: Load\./);
  });

  it("says what the misses are due to, and whether they came in a run", () => {
    expect(words).toContain(
      "Seven misses say little: of their pattern, 60 % goes with particular tags, 10 % with particular passes and 30 % with neither",
    );
    const map = { ...sampleWhy.map!, cells: ["mmmm", "mmmm", "mm.m", "rrrr", "rrrr", "...."] };
    expect(wordsOf(renderPage(pagesOf(told({ ...sampleWhy, map }, sampleDiagnosis), "why")[0]!))).toContain(
      "Of the pattern of the misses, 60 % goes with particular tags",
    );
    expect(words).toContain("P-03 to P-04 missed 8 of 10, the other passes 2 of 50");
  });

  it("says which antenna is silent, which is weaker and what would be lost without one", () => {
    expect(words).toContain("Antenna 2 read nothing in this round.");
    expect(words).toContain("Antenna 1 is 3.0 dB weaker than in As found, more than its scatter of 1.2 dB.");
    expect(words).toContain("Without antenna 1, 31 further presentations would have been missed");
  });

  it("says whose the unexpected tags are, what the log states of settings, and which models are told apart", () => {
    expect(words).toContain("manifest trolley-1");
    expect(words).toContain("Transmit power, dBm: the reader's log states 27, the round declares 30.");
    expect(words).toContain("A is read more often than B, by 20.0 to 45.0 percentage points (p 0.00040).");
  });

  it("never prints a share of 100 % where something was missed", () => {
    expect(words).toContain("999 of 1000");
    expect(words).not.toMatch(/999 of 1000 100/);
  });

  it("lists the tags missed only, and writes every cell into the CSV", () => {
    expect([...html.matchAll(/<tr id="tag-(\d+)"/g)].map(([, n]) => n)).toEqual(["1", "2", "3"]);
    const byPass = /class="passes-missed">(.*?)<\/p>/s.exec(html)![1]!;
    const counts = [...byPass.matchAll(/<a href="[^"]+"><bdi>[^<]+<\/bdi><\/a> (\d+)/g)].map(([, n]) =>
      Number(n),
    );
    expect(counts.reduce((sum, count) => sum + count, 0)).toBe(7);
    const file = tableFiles(whole).find(({ path }) => path.endsWith("dock-2-why-map.csv"))!;
    const rows = file.text.trim().split("\r\n");
    expect(rows).toHaveLength(1 + 6 * 4);
    expect(rows.filter((row) => row.endsWith(",missed"))).toHaveLength(7);
    expect(rows.filter((row) => row.endsWith(",not presented"))).toHaveLength(5);
  });

  it("is one sentence and a link under the verdict of the read point", () => {
    const point = renderPage(readPointPage(whole, "dock-2"));
    const sentence = point.indexOf("Edge-on tags are missed");
    expect(sentence).toBeGreaterThan(point.indexOf("</h1>"));
    expect(sentence).toBeLessThan(point.indexOf("<h2"));
    expect(point).toContain('href="../why/dock-2.html"');
    expect(renderPage(readPointPage(whole, "dock-1"))).not.toContain('class="why"');
  });
});

describe("the miss map", () => {
  const map = (tags: number, passes: number, isMissed: (tag: number, pass: number) => boolean): string => {
    const names = (count: number, name: (index: number) => string) =>
      Array.from({ length: count }, (_, i) => name(i));
    return missMapPicture({
      id: "map",
      title: "Tags by passes",
      description: "",
      rows: names(tags, (i) => `…00097${String(i).padStart(3, "0")}`).map((label, i) => ({
        label,
        href: `#tag-${i + 1}`,
        isStrong: i === 0,
        missed: 2,
        presented: passes,
      })),
      columns: names(passes, (i) => `P-${String(i + 1).padStart(2, "0")}`).map((label) => ({
        label,
        href: `../passes.html#pass-dock-2-as-left-${label.toLowerCase()}`,
        isStrong: false,
      })),
      cells: names(tags, (tag) => names(passes, (pass) => (isMissed(tag, pass) ? "m" : "r")).join("")),
    });
  };

  it("draws neighbouring misses as one line", () => {
    const svg = map(2, 4, (tag, pass) => tag === 0 && pass > 1);
    const misses = /class="limit"[^>]* d="([^"]*)"/.exec(svg)![1]!;
    expect(misses.match(/M/g)).toHaveLength(1);
    expect(misses).toMatch(/h21$/);
  });

  it("takes at most 40 kB for 60 tags by 60 passes, whatever was missed", () => {
    const alternating = map(60, 60, (tag, pass) => (tag + pass) % 2 === 0);
    expect(Buffer.byteLength(alternating)).toBeLessThan(40_000);
    const usual = map(60, 60, (tag, pass) => (tag * 60 + pass) % 31 === 0);
    expect(Buffer.byteLength(usual)).toBeLessThan(25_000);
    expect(usual.match(/<a /g)).toHaveLength(120);
  });

  it("adds at most 40 kB for a read point of 60 tags by 60 passes, table and all, and a sentence to its first page", () => {
    const rows = Array.from({ length: 3600 }, (_, i): WalkedRow => {
      const [pass, tag] = [Math.floor(i / 60), i % 60];
      const columns = {
        orientation: tag % 3 === 0 ? "edge-on" : "flat",
        speed: pass % 2 === 0 ? "slow" : "fast",
      };
      const read = i % 31 !== 0 && !(tag % 3 === 0 && pass % 7 === 0);
      const heard = read ? { rssiDbm: -50 - (i % 17), antenna: `${1 + (i % 4)}` } : {};
      const code = `3374257BF40C0E4000${(4096 + tag).toString(16).toUpperCase().padStart(6, "0")}`;
      return { pass: `P-${pass + 1}`, tag: code, columns, read, ...heard };
    });
    const conditions = ["orientation", "speed"].map((column) => ({
      column,
      label: column,
      unit: null,
      bands: null,
    }));
    const walk = walkedFacility({ conditions }, rows);
    const { why, diagnosis } = diagnose(walk, walk.facility.readPoints[0]!);
    expect(why!.map!.tags).toHaveLength(60);
    const bytes = (result: Result) => ({
      readPoint: Buffer.byteLength(renderPage(readPointPage(result, "dock-2"))),
      why: pagesOf(result, "why").reduce((sum, one) => sum + Buffer.byteLength(renderPage(one)), 0),
    });
    const found = bytes(told(why, diagnosis));
    expect(found.readPoint - bytes(told(null, null)).readPoint).toBeLessThan(1_000);
    // The map with its table; the links to passes that the sample lacks come on top, some fifty bytes each.
    const withoutMap = bytes(told({ ...why!, map: null }, diagnosis));
    expect(found.why - withoutMap.why + 60 * 50).toBeLessThan(40_000);
    // Everything else that is said, on a page of its own, whatever the size of the walk.
    expect(withoutMap.why).toBeLessThan(25_000);
  });

  it("keeps the labels of 400 tags from running into each other", () => {
    const svg = map(400, 400, (tag, pass) => tag === pass);
    const labels = svg.match(/<a /g)!.length;
    expect(labels).toBeLessThan(200);
    expect(labels).toBeGreaterThan(60);
  });
});
