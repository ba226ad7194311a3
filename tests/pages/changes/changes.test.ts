import { describe, expect, it } from "vitest";
import type { Comparison } from "../../../src/model/result/comparison.ts";
import type { Result } from "../../../src/model/result/result.ts";
import type { RoundsView } from "../../../src/pages/rounds/rounds-page.ts";
import { pageOf, readPointPage, renderPage, wordsOf } from "../render-page.ts";
import { bareResult, cleanResult, sampleResult } from "../sample-result.ts";

const plain = (text: string) => text.replace(/[\u202f\u00a0]/g, " ");
const page = pageOf(sampleResult, "rounds");
const html = renderPage(page);
const words = plain(wordsOf(html));

/** The stretch of the page that speaks of one read point. */
function sectionOf(readPoint: string): string {
  const sections = html.split('<section class="changed-read-point"');
  const own = sections.find((section) => section.startsWith(` id="change-as-found-to-as-left-${readPoint}"`));
  return plain(wordsOf(`<section${own ?? ""}`));
}

/** Three rounds, each pair compared, of which the second is judged. */
const threeRounds: Result = {
  ...sampleResult,
  rounds: [
    { id: "a", title: "First", date: "2026-01-01", changes: null, settings: {} },
    { id: "b", title: "Second", date: "2026-01-02", changes: "Turned", settings: {} },
    { id: "c", title: "Third", date: null, changes: null, settings: {} },
  ],
  signOffRound: "b",
  readPoints: sampleResult.readPoints.map((point) => ({
    ...point,
    signOffRound: "b",
    rounds: ["a", "b", "c"].map((id) => ({ ...point.rounds.at(-1)!, id })),
  })),
  comparisons: (
    [
      ["a", "b"],
      ["b", "c"],
      ["a", "c"],
    ] as const
  ).flatMap(([before, after]) =>
    sampleResult.comparisons.map((one): Comparison => ({ ...one, before, after, reasons: [] })),
  ),
};

describe("the page of a pair of rounds", () => {
  it("starts with what became of the read points, worst first, and averages none with another", () => {
    const verdict =
      "Of six read points, one got worse, two cannot be compared, one shows no clear change, one is as good as before and one got better.";
    expect(html).toContain(`<h1 class="verdict">${verdict}</h1>`);
    const order = [
      ...html.matchAll(/<section class="changed-read-point" id="change-as-found-to-as-left-([^"]+)"/g),
    ];
    expect(order.map(([, name]) => name)).toEqual(["dock-2", "van", "ceiling", "desk", "exit", "dock-1"]);
  });

  it("captions the picture with the weightiest change, and draws it in both forms", () => {
    expect(words).toContain("Largest loss at Dock door 2: a loss of 4.2 percentage points (1.2 to 7.2).");
    expect(html).toContain('class="picture wide"');
    expect(html).toContain('class="picture narrow"');
  });

  it("gives every read point its counts, rates, difference, bounds and p with the test it comes from", () => {
    const row = /Dock door 2 worse (.*?) Dock|Dock door 2 worse (.*?) Van/.exec(words);
    expect(row?.[0]).toContain("95.8");
    expect(row?.[0]).toContain("460 of 480");
    expect(row?.[0]).toContain("440 of 480");
    expect(row?.[0]).toContain("−7.2 −4.2 −1.2 0.0065 McNemar, exact");
  });

  it("says what was changed, which settings differ, what was left out and how the rounds are matched", () => {
    expect(words).toContain("Before As left (21 May 2026) Antenna 3 lowered by 0.4 m");
    expect(sectionOf("dock-2")).toContain("Settings changed: Transmit power 30 to 31.5 dBm.");
    expect(sectionOf("dock-2")).toContain(
      "Of 480 pairs, 430 were read in both rounds, 30 only before, 10 only after and 10 in neither.",
    );
    expect(sectionOf("dock-1")).toContain(
      "Left out, because only As left walked it: 40 of its 1240 presentations",
    );
    expect(sectionOf("dock-1")).toContain(
      "Because tags fail together and the earlier round is weighted, the 600 presentations before are worth about 400 independent ones, and the 1200 after about 800 independent ones.",
    );
    expect(sectionOf("dock-1")).toContain(
      "cannot be matched one to one, so the rounds are treated as independent",
    );
  });

  it("tells what holds after adjustment from what may be chance, and marks all of it as exploratory", () => {
    const section = sectionOf("dock-1");
    expect(section).toContain("By condition, adjusted for three comparisons: better at Speed: 0 to 1 m/s.");
    expect(section).toContain(
      "Possibly chance, with this many comparisons: better at Tag orientation: edge-on.",
    );
    expect(section).toContain("(exploratory)");
    expect(section).toContain("better holds after adjustment");
    expect(section).toContain("better possibly chance");
    expect(section).toContain("0.041 0.082");
    expect(section).toContain("no figure: no conditions in common");
  });

  it("names the tags newly missed and newly read with how often, and says how many it leaves to the CSV", () => {
    const section = sectionOf("dock-2");
    expect(section).toContain(
      "Of 20 tags presented in both rounds, eleven are newly missed and three were missed in both.",
    );
    expect(section).toContain("E28011606000020400000000 newly missed none of 24 11 of 24");
    expect(section).toContain("3 further tags are not listed here");
    expect(sectionOf("dock-1")).toContain("=<b>bold</b> newly read 4 of 10 none of 20");
    expect(sectionOf("desk")).toContain(
      "The logs do not name all tags, so it is not known which tags changed.",
    );
    expect(sectionOf("exit")).toContain(
      "40 tags were presented in both rounds, and none was missed in either.",
    );
  });

  it("gives no number where the rounds cannot be compared, only the reason", () => {
    const section = sectionOf("van");
    expect(section).toContain("The two rounds cannot be compared.");
    expect(section).toContain("As left: no valid pass presented a tag here.");
    expect(section).not.toMatch(/\d+ of \d+/);
  });

  it("leads to the method, each read point and both tables", () => {
    for (const href of [
      "method.html#before-and-after",
      "read-points/dock-2.html",
      "tables/as-found-to-as-left-changes.csv",
      "tables/as-found-to-as-left-changed-tags.csv",
    ]) {
      expect(html).toContain(`href="${href}"`);
    }
  });

  it("speaks of the read point by name where there is one", () => {
    expect(renderPage(pageOf(cleanResult, "rounds"))).toContain(
      '<h1 class="verdict">Dock door 1 got better.</h1>',
    );
  });
});

describe("pairs of rounds", () => {
  const pairsOf = (result: Result) => pageOf<RoundsView>(result, "rounds").view.pairs;

  it("stand on one page, the one that ends in the round judged first, the others folded", () => {
    expect(pairsOf(threeRounds).map(({ anchor }) => anchor)).toEqual([
      "pair-a-to-b",
      "pair-b-to-c",
      "pair-a-to-c",
    ]);
    expect(pairsOf({ ...threeRounds, signOffRound: "c" })[0]!.anchor).toBe("pair-b-to-c");
    const rounds = renderPage(pageOf(threeRounds, "rounds"));
    expect(rounds).toContain('<section id="pair-a-to-b"');
    expect(rounds.match(/<details class="fold" id="pair-/g)).toHaveLength(2);
  });

  it("list what was changed before every round between the two", () => {
    expect(pairsOf(threeRounds)[2]!.changed.map(({ title, text }) => `${title}: ${text}`)).toEqual([
      "Before Second (2 January 2026): Turned",
      "Before Third: No change is stated.",
    ]);
  });

  it("are none where there is one round, whose page says so", () => {
    expect(pairsOf(bareResult)).toEqual([]);
    expect(wordsOf(renderPage(pageOf(bareResult, "rounds")))).toContain("There is only one round");
  });

  it("keep apart where their names come to the same slug", () => {
    const alike = {
      ...threeRounds,
      comparisons: threeRounds.comparisons.map((one) => ({ ...one, before: one.before.toUpperCase() })),
    };
    const twice = { ...threeRounds, comparisons: [...threeRounds.comparisons, ...alike.comparisons] };
    const anchors = pairsOf(twice).map(({ anchor }) => anchor);
    expect(new Set(anchors).size).toBe(6);
    expect(anchors).toContain("pair-a-to-b-2");
    const html = renderPage(pageOf(twice, "rounds"));
    const ids = [...html.matchAll(/ id="([^"]+)"/g)].map(([, id]) => id);
    expect(new Set(ids).size).toBe(ids.length);
  });
});

describe("elsewhere", () => {
  it("a read point's page says in a sentence what became of it since the round before, and leads there", () => {
    const dock = renderPage(readPointPage(sampleResult, "dock-2"));
    expect(plain(wordsOf(dock))).toContain(
      "Since As found : worse . 460 of 480 tags read before, 440 of 480 after: 95.8 % and 91.6 %, a loss of 4.2 percentage points (1.2 to 7.2).",
    );
    expect(dock).toContain('href="../rounds.html#change-as-found-to-as-left-dock-2"');
  });

  it("a read point that is judged on the first round has nothing before it", () => {
    expect(wordsOf(renderPage(readPointPage(sampleResult, "van")))).not.toContain("Since As found");
  });

  it("the sheet says in one sentence what became of the read points", () => {
    const sheet = wordsOf(renderPage(pageOf(sampleResult, "sign-off-sheet")));
    expect(sheet).toContain("Since As found Of six read points, one got worse");
    expect(wordsOf(renderPage(pageOf(bareResult, "sign-off-sheet")))).not.toContain("Since");
  });
});
