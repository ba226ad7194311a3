import { parse } from "csv-parse/sync";
import { describe, expect, it } from "vitest";
import type { HeardSummary } from "../../../src/model/result/heard.ts";
import type { Result } from "../../../src/model/result/result.ts";
import type { RoundResult } from "../../../src/model/result/round.ts";
import { sessionOf } from "../../../src/pages/reader-log/idle-reads.ts";
import type { ReaderLogView } from "../../../src/pages/reader-log/reader-log.ts";
import { pagesOf, readPointPage, renderPage, tableFiles, wordsOf } from "../render-page.ts";
import { hostile, sampleResult, sampleWith } from "../sample-result.ts";

const dock = sampleResult.readPoints[0]!;
const round = dock.rounds[1]!;
const heard = round.heard as HeardSummary;

function pageOf(result: Result, name: string): string {
  return renderPage(readPointPage(result, name));
}

/** The words of one part, for a round whose log showed something else. */
function partOf(id: string, other: Partial<HeardSummary>, of: Partial<RoundResult> = {}): string {
  const rounds = [dock.rounds[0]!, { ...round, ...of, heard: { ...heard, ...other } }];
  const [page] = pagesOf<{ readerLog: ReaderLogView }>(sampleWith({ ...dock, rounds }), "read-point");
  const part = page!.view.readerLog.parts.find((entry) => entry.id === id);
  const { sentences, figure, tables } = part!;
  return [...sentences, figure?.caption, tables[0]?.caption].join("").replace(/\u202f/g, " ");
}

describe("what the reader heard", () => {
  const words = wordsOf(pageOf(sampleResult, "dock-1"));

  it("stands only on the page of a read point whose reader wrote a log", () => {
    expect(words).toContain("What the reader's own log shows");
    expect(words).toContain("over 48 valid timed passes: 1200 of 1200 tags presented were read.");
    expect(wordsOf(pageOf(sampleResult, "dock-2"))).not.toContain("What the reader's own log shows");
  });

  it("says how often a tag was heard, with five figures", () => {
    expect(words).toContain(
      "read 1 to 212 times in its pass: half of them 14 times or more, 5 % of them 3 times or less.",
    );
    expect(words).toContain("Reads of a tag 1200 1 3 14 39.5 212");
    expect(partOf("heard-reads", { readsPerTag: { n: 3, min: 1, q05: 1, median: 1, q95: 1, max: 1 } })).toBe(
      "Every tag that was read was read once in its pass.",
    );
  });

  it("sets the antennas' signals beside each other, and names those without one", () => {
    expect(words).toContain(
      "The medians of the antennas lie between \u221263.0 dBm (antenna 3) and \u221255.5 dBm (antenna 1).",
    );
    expect(words).toContain("No signal is recorded for antenna 10.");
    expect(words).toContain("Antenna 2 1090 \u221272.5 \u221268.0 \u221258.3 \u221249.0 \u221244.0");
  });

  it("says what each antenna alone would have caught and what would be lost without it, rounded down", () => {
    expect(words).toContain("Antenna 1 alone would have read 1172 of 1200 tags presented (97.6 %).");
    expect(words).toContain("Without antenna 1, 31 tags would have been missed");
    expect(words).toContain("No tag depended on antenna 3 or 10 alone.");
    expect(words).toContain("Antenna 2 1090 of 1200 90.8 % 4 1196 of 1200 99.6 %");
    expect(words).toContain("Antenna 3 803 of 1200 66.9 % 0 1200 of 1200 100 %");
    const spare = heard.antennas.map((antenna) => ({ ...antenna, onlyHere: 0 }));
    expect(partOf("heard-antennas", { antennas: spare })).toContain("No tag depended on a single antenna.");
    expect(partOf("heard-antennas", { antennas: spare.slice(0, 1) })).toContain("names only antenna 1");
  });

  it("never calls a share whole from which a single tag is missing", () => {
    const most = [{ ...heard.antennas[0]!, tagsRead: 99_999, onlyHere: 0 }];
    expect(partOf("heard-antennas", { antennas: most, tagsPresented: 100_000, tagsRead: 99_999 })).toContain(
      "99.999 %",
    );
  });

  it("says how soon tags were first heard, and how long the windows were", () => {
    expect(words).toContain("within 3.18 s after the window opened, 95 % of them within 7.42 s");
    expect(words).toContain("The windows are 21.5 s long.");
    const [first, ...rest] = round.passList;
    const longer = [{ ...first!, endedAt: first!.startedAt!.replace(":00Z", ":50.5Z") }, ...rest];
    expect(partOf("heard-first-read", {}, { passList: longer })).toContain(
      "The windows are 21.5 to 52.0 s long.",
    );
  });

  it("names the codes heard uninvited with their URI, raw ones too, and hostile ones as text", () => {
    expect(words).toContain(
      "3034257BF400B7800004CB2F urn:epc:id:sgtin:0614141.000734.314159 bystander 3 41 \u221266.5",
    );
    expect(words).toContain("urn:epc:raw:96.xE2801160600002075A1B0001 stray 1 1 not recorded");
    expect(words).toContain(`${hostile.markup} stray 1 2 \u221271.0`);
    expect(words).toContain(
      "Three codes were read in passes that did not present them, one of them a bystander: the most frequent in 3",
    );
    expect(partOf("heard-strays", { strays: heard.strays.slice(1) })).toBe(
      "Two codes were read in passes that did not present them: each in one pass, the strongest at \u221271.0 dBm.",
    );
  });

  it("names bystanders as such, whether some, one or all of what was heard were placed on purpose", () => {
    const captionOf = (...placed: boolean[]) =>
      partOf("heard-strays", {
        strays: placed.map((bystander, i) => ({ ...heard.strays[i]!, bystander })),
      });
    expect(captionOf(true, true, false)).toContain(
      "Three codes were read in passes that did not present them, two of them bystanders:",
    );
    expect(captionOf(true, true)).toContain(
      "Two codes were read in passes that did not present them, all of them bystanders:",
    );
    expect(captionOf(true)).toContain("One code was read in passes that did not present it, a bystander:");
    expect(captionOf(false)).toContain("One code was read in passes that did not present it: in 3 passes");
  });

  it("of a round that is not judged, what was heard between its passes stands with that round", () => {
    const found = { ...dock.rounds[0]!, heard };
    const page = pageOf(sampleWith({ ...dock, rounds: [found, dock.rounds[1]!] }), "dock-1");
    const others = wordsOf(page).split(" Rounds and settings ").at(-1)!;
    expect(others).toContain(
      "24 passes. 562 of 576 tags read: 97.5 % (95.5 to 98.6). 3 tags read in 31.7 idle minutes",
    );
  });

  it("gives what was heard between the passes as tags a minute, in the facility's own time", () => {
    expect(words).toContain("3 tags read in 31.7 idle minutes: 0.095 tags a minute (0.020 to 0.277).");
    expect(words).toContain("most at 09:31 with 1 tag in 61 reads.");
    expect(words).toContain("09:40 1 2");
  });

  it("has a sentence wherever it has nothing to show", () => {
    const desk = wordsOf(pageOf(sampleResult, "desk"));
    expect(desk).toContain(
      "The log does not name the antennas that read the presented tags, so it is not known what each contributes.",
    );
    expect(desk).toContain("No unexpected tag was read in the passes.");
    expect(desk).toContain("0 tags read in 3.5 idle minutes: 0 tags a minute (at most 1.1).");
    expect(partOf("heard-idle", { idle: null })).toContain("There was no idle time");
    expect(partOf("heard-reads", { readsPerTag: null })).toContain("No presented tag was read");
    expect(partOf("heard-first-read", { firstReadMs: null })).toContain("No presented tag was read");
    expect(partOf("heard-signal", { antennas: [{ ...heard.antennas[3]! }] })).toBe(
      "The log does not record signal strength.",
    );
  });

  it("keeps a code that no scheme knows from being named twice, where it is a mere label", () => {
    const tag = { tag: "A4", uri: "urn:epc:raw:8.xA4", presented: 2, missed: 1, passes: [] };
    const point = {
      ...dock,
      rounds: [dock.rounds[0]!, { ...round, tagsRead: round.tagsRead - 1, missedTags: [tag] }],
    };
    const page = pageOf(sampleWith(point), "dock-1");
    expect(wordsOf(page)).toContain("A4 1 of 2");
  });
});

describe("the tables of what the reader heard", () => {
  const read = (figure: string) => {
    const path = `sample-plant/tables/dock-1-heard-${figure}.csv`;
    const text = tableFiles(sampleResult).find((file) => file.path === path)?.text ?? "";
    return parse(text, { bom: true, columns: true }) as Record<string, string>[];
  };

  it("hold the rows behind each figure in full", () => {
    expect(read("reads")).toMatchObject([
      { tags: "1200", least_reads: "1", median_reads: "14", q95_reads: "39.5" },
    ]);
    expect(read("signal").map(({ antenna }) => antenna)).toEqual(["1", "2", "3"]);
    expect(read("antennas")[1]).toMatchObject({ tags_heard_only_here: "4", tags_read_without_it: "1196" });
    expect(read("first-read")[0]).toMatchObject({ least_ms: "512.25", window_before_s: "0.5" });
    expect(read("strays").map(({ uri }) => uri)).toEqual(heard.strays.map(({ uri }) => uri ?? ""));
    expect(read("strays").map(({ bystander }) => bystander)).toEqual(["yes", "no", "no"]);
    expect(read("idle")).toHaveLength(3);
  });
});

describe("a page behind ten million reads", () => {
  it("is no heavier than one behind ten thousand: lists are cut, and the rest stands in the CSV", () => {
    const strays = Array.from({ length: 20_000 }, (_, i) => ({
      ...heard.strays[0]!,
      tag: i.toString(16).toUpperCase().padStart(24, "0"),
    }));
    const minutes = Array.from({ length: 5000 }, (_, i) => ({
      minute: `2026-05-${String(1 + Math.floor(i / 1440)).padStart(2, "0")}T${String(Math.floor(i / 60) % 24).padStart(2, "0")}:${String(i % 60).padStart(2, "0")}Z`,
      reads: 2000,
      tags: 40,
    }));
    const idle = { ...heard.idle!, heard: minutes };
    const point = { ...dock, rounds: [dock.rounds[0]!, { ...round, heard: { ...heard, strays, idle } }] };
    const page = pageOf(sampleWith(point), "dock-1");
    expect(page.length).toBeLessThan(pageOf(sampleResult, "dock-1").length + 150_000);
    expect(wordsOf(page)).toContain("19 900 further codes are in the CSV table.");
    expect(wordsOf(page)).toContain("The first 60 of 5000 minutes");
  });
});

describe("a session", () => {
  it("runs from the first window to the last and loses no tag, whatever a bar covers", () => {
    const minutes = Array.from({ length: 900 }, (_, i) => ({
      minute: `2026-05-21T${String(8 + Math.floor(i / 60)).padStart(2, "0")}:${String(i % 60).padStart(2, "0")}Z`,
      reads: 1,
      tags: 1 + (i % 3),
    }));
    const session = sessionOf(round.passList, heard.window, minutes);
    expect(session.step).toBe(5);
    expect(session.bars.length).toBeLessThanOrEqual(240);
    const sum = (counts: number[]) => counts.reduce((total, count) => total + count, 0);
    expect(sum(session.bars.map(({ count }) => count))).toBe(sum(minutes.map(({ tags }) => tags)));
    expect(session.passes).toHaveLength(round.passList.length);
    for (const { from, to } of session.passes) {
      expect(from).toBeGreaterThanOrEqual(session.from);
      expect(to).toBeLessThanOrEqual(session.to);
    }
    expect(session.ticks.length).toBeLessThanOrEqual(10);
    expect(session.axisText).toBe("the facility's clock, 21 May 2026");
  });

  it("of several days names the day with the clock", () => {
    const later = { minute: "2026-05-22T08:00Z", reads: 1, tags: 1 };
    const session = sessionOf(round.passList, heard.window, [...heard.idle!.heard, later]);
    expect(session.clock(Date.UTC(2026, 4, 22, 8) / 60_000)).toBe("22 May 2026, 09:00");
    expect(session.axisText).toContain("21 May 2026 to 22 May 2026");
  });
});
