import { expect, test } from "vitest";
import type { ItemResult } from "../../../src/model/journey/item.ts";
import type { JourneyComparison } from "../../../src/model/journey/journey-result.ts";
import { journeyContext } from "../../../src/pages/journey/journey-context.ts";
import { journeyPages } from "../../../src/pages/journey/journey-pages.ts";
import {
  durationText,
  journeyVerdict,
  lostSentence,
  promiseSentences,
} from "../../../src/pages/journey/words.ts";
import { noArchive } from "../../../src/pages/parts/archive.ts";
import type { Page } from "../../../src/pages/parts/page.ts";
import { renderPage, wordsOf } from "../render-page.ts";
import { emptyJourney, faultsOf, sampleJourney } from "./sample-journey.ts";

const readPointPage = (facility: string, readPoint: string) =>
  facility === "depot" && readPoint === "lorry" ? "depot/read-points/lorry.html" : null;
const site = journeyPages(sampleJourney, {
  archive: { mark: "0123456789abcdef".repeat(4), inputs: "none" },
  readPointPage,
});
const page = (name: string): Page => site.pages.find(({ path }) => path === `journeys/crates/${name}.html`)!;
const html = (name: string) => renderPage(page(name));
const words = (name: string) => wordsOf(html(name));
const table = (name: string) =>
  site.files
    .find(({ path }) => path === `journeys/crates/tables/${name}.csv`)!
    .text.replace(/^\ufeff/, "")
    .trim()
    .split(/\r?\n/);

test("the samples are results that the schema takes", () => {
  expect([...faultsOf(sampleJourney), ...faultsOf(emptyJourney)]).toEqual([]);
});

test("the first page says in its heading whether the journey meets its criteria, and how many items were whole", () => {
  const heading = /<h1 class="verdict">(.*?)<\/h1>/.exec(html("index"))![1];
  expect(heading).toBe("The journey does not meet its criteria: 2 of 4 items were seen on every leg.");
  expect(words("sign-off-sheet")).toContain(heading);
});

test("the chain names every leg with its share, and leads to the read points that the site holds", () => {
  const picture = /<svg[^>]*class="picture wide".*?<\/svg>/s.exec(html("index"))![0];
  for (const text of [
    "Desk",
    "Plant",
    "Lorry",
    "Depot",
    "4 of 4",
    "2 of 4",
    "3 of 4",
    "Stored (optional)",
    "1 last seen here",
  ])
    expect(picture).toContain(text);
  expect([...picture.matchAll(/<a href="([^"]*)"/g)].map(([, href]) => href)).toEqual([
    "../../depot/read-points/lorry.html",
  ]);
  expect(words("index")).toContain("Desk, Plant (not in this site)");
});

test("a lost item stands with the place where it was last seen, and leads to its timeline", () => {
  expect(words("index")).toContain(
    "CRATE-2 R1 Tagged: Desk, Plant 15 June 2026, 07:05:20 not seen on Carried",
  );
  expect(html("index")).toContain('href="items.html#item-2"');
  expect(html("items")).toContain('id="item-2"');
  expect(table("lost")).toEqual([
    "run,tag,missing_legs,last_seen_leg,last_seen_facility,last_seen_read_point,last_seen_at",
    "R1,CRATE-2,carried,tagged,plant,desk,2026-06-15T07:05:20Z",
  ]);
});

test("a timeline has each leg in its order, wrong places where they fall in time, and what became of the carrier", () => {
  const [, , late, other] = words("items")
    .split(/(?=CRATE-\d )/)
    .slice(1);
  expect(late).toContain("Late on Carried.");
  expect(late!.indexOf("Tagged: seen")).toBeLessThan(
    late!.indexOf("wrong place Yard behind the depot, Depot"),
  );
  expect(late!.indexOf("wrong place Yard behind the depot, Depot")).toBeLessThan(
    late!.indexOf("Carried: late"),
  );
  expect(late).toContain("94 min after the latest leg seen before; allowed within 30 min");
  expect(late).toContain("and 1 more visit");
  expect(other).toContain("carrier not with it, heard 60 min after");
  expect(other).toContain("Stored: seen, before an earlier leg");
});

/** Which of the items stand open on the page that tells of them. */
const openItems = (items: ItemResult[]): string[] => {
  const { pages } = journeyPages({ ...sampleJourney, items });
  const written = renderPage(pages.find(({ template }) => template === "journey/items")!);
  return [...written.matchAll(/id="(item-\d+)" open/g)].map(([, id]) => id!);
};
const sample = (tag: string): ItemResult => sampleJourney.items.find((item) => item.tag === tag)!;

test("only items that missed a leg, came late, out of order or elsewhere stand open; a void one and a whole one do not", () => {
  const [whole, lost] = [sample("CRATE-1"), sample("CRATE-2")];
  const unheard = { heard: false, at: null, apartS: null };
  const alone = { ...whole, legs: whole.legs.map((leg) => ({ ...leg, carrier: leg.carrier && unheard })) };
  const items = [
    whole,
    lost,
    alone,
    { ...lost, voidReason: "the lorry broke down" },
    { ...whole, inOrder: false },
  ];
  expect(openItems(items)).toEqual(["item-2", "item-5"]);
});

test("the line of an item says what its folded timeline has: the carrier that was missed, and a wrong place", () => {
  const lines = [...html("items").matchAll(/<summary>(.*?)<\/summary>/g)].map(([, line]) => line!);
  expect(lines.filter((line) => line.includes("Its carrier was not heard with it on Carried."))).toHaveLength(
    1,
  );
  expect(lines.find((line) => line.includes("CRATE-3"))).toContain("Seen in a wrong place.");
});

test("where more than a dozen items of a page went astray none stands open, and the page says that lines unfold", () => {
  const lost = Array.from({ length: 13 }, () => sample("CRATE-2"));
  expect(openItems(lost.slice(1))).toHaveLength(12);
  expect(openItems(lost)).toEqual([]);
  const { pages } = journeyPages({ ...sampleJourney, items: lost });
  expect(wordsOf(renderPage(pages[1]!))).toContain("unfolds to its timeline");
});

test("findings of one criterion stand together, with its words once", () => {
  const [first, other] = sampleJourney.findings.filter(({ group }) => group?.leg !== undefined);
  const between = sampleJourney.findings.find(({ group, state }) => group === null && state !== "met")!;
  const undecided = (value: number) => ({
    state: "undecided" as const,
    estimate: { ...first!.estimate, value },
  });
  const findings = [
    { ...first!, ...undecided(0.5) },
    { ...between, ...undecided(0.6), measure: first!.measure, sense: first!.sense, limit: first!.limit },
    {
      ...other!,
      criterion: first!.criterion,
      ...undecided(0.7),
      measure: first!.measure,
      sense: first!.sense,
    },
  ];
  const { pages } = journeyPages({ ...sampleJourney, findings });
  const picture = /id="findings-[^"]*".*?<svg[^>]*class="picture wide".*?<\/svg>/s.exec(
    renderPage(pages[0]!),
  )![0];
  const title = sampleJourney.criteria.find(({ id }) => id === first!.criterion)!.title;
  expect(picture.split(title)).toHaveLength(2);
});

test("one round alone is not named in the head of its pages, one of two is", () => {
  expect(words("index")).not.toContain("round judged");
  const second = { ...sampleJourney.rounds[0]!, id: "second", title: "Second" };
  const { pages } = journeyPages({ ...sampleJourney, rounds: [...sampleJourney.rounds, second] });
  expect(wordsOf(renderPage(pages[0]!))).toContain("round judged: First");
});

test("the walks' promise is said in plain words, and that the journey is outside of it", () => {
  const said = words("index");
  expect(said).toContain("94.0 % of journeys are whole by their own walks: the product of their rates");
  expect(said).toContain(
    "At exactly the rates observed in those walks, the share lies between 94.0 and 95.0 % however the misses depend on each other",
  );
  expect(said).toContain("The uncertainty of the rates themselves is not in these bounds.");
  expect(said).toContain("That is below the bounds, though chance alone may do as much");
});

test("the sightings are counted in a sentence that says nothing of what there is none of", () => {
  const sentence = (counts: Partial<typeof sampleJourney.sightings>) => {
    const sightings = { ...sampleJourney.sightings, ...counts };
    const { pages } = journeyPages({ ...sampleJourney, sightings });
    return wordsOf(renderPage(pages.find(({ path }) => path === "journeys/crates/index.html")!));
  };
  const none = { repeated: 0, outsideRuns: 0, otherTags: 0 };
  const start = "sightings were logged for 5 items";
  expect(sentence({ ...none, told: 20, used: 20 })).toContain(`20 ${start}, and all of them count.`);
  expect(sentence({ ...none, told: 20, used: 19, otherTags: 1 })).toContain(
    `20 ${start}: 19 count and 1 is of a tag in no run.`,
  );
  expect(sentence({ told: 20, used: 15, repeated: 2, outsideRuns: 1, otherTags: 2 })).toContain(
    `20 ${start}: 15 count, 2 repeat others, 1 falls outside its run and 2 are of tags in no run.`,
  );
});

test("the file of items has a row for each item and leg", () => {
  const [header, ...rows] = table("items");
  expect(header).toBe(
    "round,run,tag,carrier,void_reason,whole,in_order,leg,state,at,after_s,carrier_heard,carrier_at,carrier_apart_s",
  );
  expect(rows).toHaveLength(15);
  expect(rows[1]).toBe(
    "first,R1,CRATE-1,badge 1,,yes,yes,carried,seen,2026-06-15T07:40:00Z,300,yes,2026-06-15T07:40:02Z,2",
  );
});

test("a thousand items are twenty pages of fifty timelines each", () => {
  const items = Array.from({ length: 1000 }, () => sampleJourney.items[0]!);
  const pages = journeyPages({ ...sampleJourney, items }).pages.filter(
    ({ template }) => template === "journey/items",
  );
  expect(pages.map(({ path }) => path.replace("journeys/crates/", ""))).toEqual([
    "items.html",
    ...Array.from({ length: 19 }, (_, page) => `items-${page + 2}.html`),
  ]);
  const last = renderPage(pages[19]!);
  expect(last.match(/class="timeline"/g)).toHaveLength(50);
  expect(last).toContain('id="item-1000"');
  expect(last.length).toBeLessThan(80_000);
});

test("the sheet has the legs, the findings worst first, the mark and its code, and blocks to sign", () => {
  const sheet = words("sign-off-sheet");
  for (const text of [
    "Acceptance of a chain of read points",
    "Ann Builder",
    "Cleo Client",
    "0123 4567 89ab cdef",
    "1 run, 4 tags",
  ])
    expect(sheet).toContain(text);
  expect(sheet.indexOf("not met")).toBeLessThan(sheet.indexOf("undecided"));
  expect(html("sign-off-sheet").match(/class="signature"/g)).toHaveLength(3);
  expect(html("sign-off-sheet")).toContain('class="picture mark-code"');
});

test.each([
  [0.34, "0.3\u202fs"],
  [43.2, "43\u202fs"],
  [119.4, "119\u202fs"],
  [2520, "42\u202fmin"],
  [7140, "119\u202fmin"],
  [7200, "2\u202fh"],
  [11400, "3\u202fh 10\u202fmin"],
  [187200, "2 days 4\u202fh"],
  [-90, "\u221290\u202fs"],
])("%d s is written %s", (seconds, text) => {
  expect(durationText(seconds)).toBe(text);
});

test("the verdict gives the share of whole journeys as its reason only where that is what fails", () => {
  const { findings, promise } = sampleJourney;
  const whole = findings.find(({ measure }) => measure === "journey-complete-rate")!;
  const others = findings.filter((finding) => finding !== whole);
  const verdict = (state: typeof sampleJourney.state, wholeState: typeof whole.state) =>
    journeyVerdict({ ...sampleJourney, state, findings: [...others, { ...whole, state: wholeState }] });
  expect(verdict("not-met", "not-met")).toContain("does not meet its criteria: 2 of 4");
  expect(verdict("not-met", "met")).toContain("does not meet its criteria, though 2 of 4");
  expect(verdict("met", "met")).toContain("meets its criteria: 2 of 4");
  const none = { ...promise, share: { ...promise.share, k: 0 } };
  const unseen = journeyVerdict({ ...sampleJourney, state: "not-met", findings: others, promise: none });
  expect(unseen).toContain("does not meet its criteria: 0 of 4");
});

test("legs and their late sightings are told where they are", () => {
  const said = words("index");
  expect(said).toContain("later than the leg allows, and counts as not seen: 1 on Carried.");
  expect(said).toContain("Finding State Runs Count");
  expect(said).toContain("Once an item was seen without its carrier");
  const seen = sampleJourney.legs.map((leg) => ({
    ...leg,
    sightingRate: { ...leg.sightingRate, k: 4, value: 1 },
  }));
  const { pages } = journeyPages({ ...sampleJourney, legs: seen });
  expect(wordsOf(renderPage(pages[0]!))).toContain("Every leg that a journey needs sees every item: 4 of 4");
});

test("rounds are compared on the page, worst first, and the runs to make are told there", () => {
  const estimate = sampleJourney.promise.share;
  const rate = {
    measure: "journey-complete-rate",
    before: "first",
    after: "second",
    estimates: { before: estimate, after: estimate },
    p: 0.5,
  };
  const comparisons: JourneyComparison[] = [
    {
      ...rate,
      leg: null,
      difference: { value: 0.1, lower: 0.02, upper: 0.1801, confidence: 0.95 },
      change: "better",
    },
    { ...rate, measure: "leg-sighting-rate", leg: "carried", difference: null, change: "not-comparable" },
    {
      ...rate,
      measure: "leg-sighting-rate",
      leg: "tagged",
      difference: { value: -0.2, lower: -0.3, upper: -0.1, confidence: 0.95 },
      change: "worse",
    },
  ];
  const second = { ...sampleJourney.rounds[0]!, id: "second", title: "Second" };
  const fewest = [{ faults: 0, trials: 72, runs: 4 }];
  const plan = {
    tagsPerRun: 20,
    sameTags: false,
    expectedRate: 0.99,
    expectedOrderRate: null,
    findings: [],
    unplanned: [
      {
        criterion: "whole",
        measure: "sighting-lag-quantile",
        unit: "sightings" as const,
        trialsPerRun: 20,
        fewest,
      },
    ],
    forAll: [],
    runs: 4,
    runsDone: 1,
  };
  const journey = { ...sampleJourney, rounds: [...sampleJourney.rounds, second], comparisons, plan };
  const { pages } = journeyPages(journey);
  const said = wordsOf(renderPage(pages[0]!));
  expect(said).toContain(
    "First to Second: one rate is worse, one rate cannot be compared and one rate is better.",
  );
  const worst = said.indexOf("\u221220.0 points (\u221230.0 to \u221210.0)");
  // Bounds are rounded outwards.
  expect(said.indexOf("+10.0 points (+2.0 to +18.1)")).toBeGreaterThan(worst);
  expect(worst).toBeGreaterThan(0);
  expect(said).toContain("4 runs for every finding to be met if nothing is at fault. 1 run was made so far.");
  expect(said).toContain("At least 4 with no fault in all: 72 sightings, if each item of a run is seen once");
  const method = (made: typeof pages) =>
    wordsOf(renderPage(made.find(({ path }) => path === "journeys/crates/method.html")!));
  expect(method(pages)).toContain("How many runs to make A run is sized as a pass is");
  expect(method(journeyPages({ ...journey, plan: null }).pages)).not.toContain("How many runs to make");
});

test("a journey without a run claims nothing of runs", () => {
  const sightings = { told: 0, used: 0, repeated: 0, outsideRuns: 0, otherTags: 0 };
  const { pages } = journeyPages({ ...emptyJourney, sightings });
  const said = wordsOf(renderPage(pages[0]!));
  for (const text of ["No item was sent yet.", "No sighting was logged."]) expect(said).toContain(text);
  expect(said).not.toMatch(/each was seen at the end|does what the walks showed|all of them count/);
  const { promise, legs, items } = sampleJourney;
  const names = journeyContext(sampleJourney, { archive: noArchive, readPointPage: () => null }).names;
  const bounds = { lower: 0.94, upper: 0.95 };
  const none = { ...promise, bounds, share: { ...promise.share, k: 0, n: 0, value: null }, outside: null };
  expect(promiseSentences({ promise: none, legs }, names).at(-1)).toBe("No run was made yet.");
  expect(lostSentence({ lost: [], items })).toContain("No item was lost");
});
