import { describe, expect, it } from "vitest";
import { placeholders } from "../../src/model/placeholders.ts";
import type { Problem } from "../../src/model/problem.ts";
import type { Result } from "../../src/model/result/result.ts";
import { facilityPages } from "../../src/pages/facility-pages.ts";
import { indexEntry, indexPage } from "../../src/pages/index-page.ts";
import type { OverviewView } from "../../src/pages/overview/overview-page.ts";
import { worstFirst } from "../../src/pages/parts/finding-figures.ts";
import type { SignOffSheetView } from "../../src/pages/sheet/sign-off-sheet.ts";
import { signingSentence } from "../../src/pages/words/signing.ts";
import { pageOf, renderPage, wordsOf } from "./render-page.ts";
import { plannedSample, walkedPasses } from "./sample-plan.ts";
import { bareResult, cleanResult, hostile, sampleResult } from "./sample-result.ts";

const overviewOf = (result: Result) => pageOf<OverviewView>(result, "overview").view;
const sheetOf = (result: Result) => pageOf<SignOffSheetView>(result, "sign-off-sheet").view;
const sheetWords = (result: Result) => wordsOf(renderPage(pageOf(result, "sign-off-sheet")));
const unchanged = (found: string): Problem => ({
  ...{ severity: "warning", code: "placeholder-unchanged", facility: "sample-plant", file: "facility.yaml" },
  ...{ line: 1, column: 1, found, expected: "what is true", advice: "Put it in." },
});
const plain = (text: string) => text.replace(/[\u202f\u00a0]/g, " ");

describe("the overview", () => {
  it("names what stands in the way in a line a read point, at most five, the worst of each first", () => {
    const way = overviewOf(sampleResult).way;
    expect(way.lines.map((line) => [line.mark?.word, line.label])).toEqual([
      ["not met", "Dock door 2"],
      ["untested", "Encoding desk"],
      ["untested", "Ceiling reader, drying hall"],
      ["undecided", "Exit pedestal"],
      ["undecided", hostile.markup],
    ]);
    expect(way.lines[0]?.sentences).toMatch(/more findings are open here\.$/);
    expect(way.rest).toBe("");
    expect(way.lines.every((line) => /^read-points\/[a-z0-9-]+\.html$/.test(line.href))).toBe(true);
  });
  it("answers whether the evidence supports signing, for which read points and on what conditions", () => {
    expect(signingSentence(cleanResult)).toMatch(/^The evidence supports signing for (all|the) /);
    expect(signingSentence(bareResult)).toBe("There is nothing to sign yet.");
    const [door] = sampleResult.readPoints.filter(({ id }) => id === "dock-2");
    const own = sampleResult.findings.filter(({ readPoint }) => readPoint === "dock-2");
    const until = (expired: boolean) =>
      own.map((finding) => ({
        ...finding,
        concession: { ...sampleResult.concessions[0]!, until: "2026-08-31", expired },
      }));
    const result = { ...sampleResult, readPoints: [sampleResult.readPoints[0]!, door!], openPoints: [] };
    expect(signingSentence({ ...result, findings: until(false) })).toBe(
      "The evidence supports signing for Dock door 1 and on the terms of concessions for Dock door 2 (until 31 August 2026).",
    );
    expect(signingSentence({ ...result, findings: until(true) })).toBe(
      "The evidence supports signing for Dock door 1; not yet for Dock door 2.",
    );
  });
  it("folds the findings that are met and says each criterion once below its read point", () => {
    const { figures, met } = overviewOf(sampleResult);
    const many = sampleResult.findings.filter(({ state }) => state === "met").length;
    expect(met.figures.flatMap(({ table }) => table.rows)).toHaveLength(many);
    expect(figures.flatMap(({ table }) => table.rows)).toHaveLength(sampleResult.findings.length - many);
    const [high] = figures;
    const wide = high!.picture.slice(0, high!.picture.indexOf('class="picture narrow"'));
    expect(wide.match(/>Dock door 2</g)).toHaveLength(1);
    expect(wide).toMatch(/<a href="read-points\/[a-z0-9-]+\.html">/);
  });
  it("says so where nothing stands in the way", () => {
    expect(overviewOf(cleanResult).way.rest).toBe("Nothing is open before sign-off.");
  });
  it("names a read point that no criterion covers", () => {
    expect(overviewOf(bareResult).way.lines[0]).toMatchObject({
      label: "Door",
      what: "No criterion covers this read point",
    });
  });
  it("gives the key of the plan a letter, counts, bounds and the weakest condition of each read point", () => {
    const keys = overviewOf(sampleResult).readPoints;
    expect(keys.map((key) => key.letter).join("")).toBe("ABCDEF");
    expect(keys[0]).toMatchObject({ count: "1200 of 1200", value: "100", weakest: "nothing missed" });
    expect(plain(keys[1]?.weakest ?? "")).toMatch(/^.+, [0-9.]+ %$/);
    expect(keys[2]?.strays).toBe("not recorded");
    expect(keys[3]?.ownRound).toBe("round judged: As found");
    expect(keys[5]).toMatchObject({ value: "none", strays: "not walked" });
  });
});

describe("planned against done", () => {
  const open = plannedSample();
  const enough = Object.fromEntries(
    open.plan!.walks.map(({ readPoint, cells }) => [
      readPoint,
      Math.max(...cells.map((cell) => cell.planned!)),
    ]),
  );
  const done = plannedSample(
    ["dock-1", "dock-2"].flatMap((readPoint) =>
      ["1", "1.5"].flatMap((speed) =>
        ["full", hostile.markup].flatMap((load) => walkedPasses(readPoint, speed, load, enough[readPoint]!)),
      ),
    ),
  );

  it("is on the overview in a sentence and a row a read point, and not at all where nothing is planned", () => {
    const view = overviewOf(open).planned!;
    expect(view.sentence).toMatch(/^None of the \d+ planned passes is walked\./);
    expect(view.rows.map(({ missing, short, done: all }) => [missing, short, all])).toEqual([
      ["4", "0", "0"],
      ["4", "0", "0"],
    ]);
    expect(view.page.href).toBe("plan.html");
    expect(overviewOf(sampleResult).planned).toBeNull();
    const words = wordsOf(renderPage(pageOf(sampleResult, "overview")));
    expect(words).not.toMatch(/planned/i);
    expect(words).not.toContain("How much to walk");
  });

  it("stands in the way in one line while a combination is open, with four read points above it", () => {
    const way = overviewOf(open).way;
    expect(way.lines).toHaveLength(5);
    expect(way.lines[4]).toMatchObject({ mark: null, label: "Planned walk", href: "plan.html" });
    expect(way.lines[4]!.what).toBe("Eight planned combinations of conditions not walked in full");
    expect(way.rest).toMatch(/^One further read point is open/);
    const all = overviewOf(done).way;
    expect(all.lines.map(({ label }) => label)).not.toContain("Planned walk");
  });

  it("is a reason not to sign in words, and leaves every finding as it is", () => {
    const words = sheetWords(open);
    expect(words).toContain("Planned and not walked");
    expect(words).toContain("a reason not to sign yet");
    expect(open.findings).toEqual(sampleResult.findings);
    const walked = sheetWords(done);
    expect(walked).not.toContain("Planned and not walked");
    expect(walked).toMatch(/All \d+ planned passes are walked\./);
    expect(sheetWords(sampleResult)).not.toMatch(/planned/i);
  });
});

describe("findings worst first", () => {
  it("go by state, then by how far they lie beyond their limit", () => {
    const states = worstFirst(sampleResult.findings).map((finding) => finding.state);
    const weight = ["not-met", "untested", "undecided", "met"];
    expect([...states].sort((a, b) => weight.indexOf(a) - weight.indexOf(b))).toEqual(states);
    // Findings that are as good as can be lie equally far from their limits.
    const open = sampleResult.findings.filter(({ state }) => state !== "met");
    expect(worstFirst(open.toReversed())).toEqual(worstFirst(open));
  });
});

describe("the sign-off sheet", () => {
  it("carries every finding once, the worst of each read point among the first", () => {
    const { schedule, ...sheet } = sheetOf(sampleResult);
    const main = sheet.main.flatMap((group) => group.lines);
    const unjudged = sampleResult.readPoints.filter(
      (point) => !sampleResult.findings.some((finding) => finding.readPoint === point.id),
    );
    const scheduled = schedule.flatMap((group) => group.lines);
    expect(main.length + scheduled.length).toBe(sampleResult.findings.length + unjudged.length);
    expect(new Set(main.map((line) => line.letter)).size).toBe(sampleResult.readPoints.length);
    expect(scheduled.every((line) => line.mark.word === "met")).toBe(true);
  });
  it("tells which rounds were walked, how often and under which conditions", () => {
    const [asFound, asLeft] = sheetOf(sampleResult).rounds;
    expect(asFound?.sentence).toBe("1 read point, 12 valid passes, 240 tags presented.");
    expect(asLeft?.date).toBe("21 May 2026");
    expect(sheetOf(sampleResult).conditions.map(plain)[0]).toBe(
      "Speed: 0 to 1 m/s, 1 to 2 m/s and 2 to 3 m/s",
    );
  });
  it("names an open point that was due before the report was issued as overdue, first letter raised", () => {
    const [point] = sampleResult.openPoints;
    const late = { ...point!, closed: null, due: "2026-01-02" };
    const result = { ...sampleResult, openPoints: [late, { ...late, closed: "2026-01-01" }] };
    expect(overviewOf(result).openPoints.map((row) => [row.status, row.overdue])).toEqual([
      ["Overdue", true],
      ["Closed 1 January 2026", false],
    ]);
    expect(overviewOf(result).openPointSentence).toBe(
      "One open point is still to be resolved; one is closed. One was due before the report was issued.",
    );
  });
  it("says nothing of a concession beside a finding that is met", () => {
    const { main, schedule } = sheetOf(sampleResult);
    const lines = [...main, ...schedule].flatMap((group) => group.lines);
    const noted = lines.filter((line) => line.notes.includes("conce"));
    expect(noted.length).toBeGreaterThan(0);
    expect(noted.every((line) => line.mark.word !== "met")).toBe(true);
  });
  it("says on top that nobody should sign while a placeholder is left, and prints none as a signatory", () => {
    const result = {
      ...sampleResult,
      facility: { ...sampleResult.facility, client: placeholders.client },
      preparedBy: { name: placeholders.preparer, role: placeholders.role, organisation: "Sample Installers" },
      problems: [unchanged('"client: My client"'), unchanged('"prepared_by name: Name of the engineer"')],
    };
    const words = sheetWords(result);
    expect(words).toMatch(
      /Not ready to sign\..*"client: My client"; "prepared_by name: Name of the engineer"/,
    );
    expect(words).toContain("My client (not filled in)");
    expect(sheetOf(result).signatures[0]).toMatchObject({ name: "", role: "" });
    expect(sheetWords(sampleResult)).not.toMatch(/Not ready to sign|not filled in/);
  });
  it("leaves a role to the pen where only an organisation is stated", () => {
    expect(sheetOf(sampleResult).signatures[1]).toMatchObject({ name: "B. Sample", role: "" });
  });
  it("has a common heading where findings of a read point are by one criterion, and none over a single one", () => {
    const { main, schedule } = sheetOf(sampleResult);
    for (const { heading, lines } of [...main, ...schedule]) expect(heading !== "").toBe(lines.length > 1);
    expect(main.some(({ heading }) => heading.startsWith("Dock door 2: "))).toBe(true);
  });
  it("signs for the client by the client's own witness, and by the next one as witness", () => {
    const [forClient, other] = [
      { name: "C. Lient", organisation: " brackwater crate hire", role: "Plant manager" },
      { name: "W. Itness", organisation: "Elsewhere", role: "Surveyor" },
    ];
    const signing = (witnessedBy: Result["witnessedBy"], client: string | null) =>
      sheetOf({
        ...sampleResult,
        facility: { ...sampleResult.facility, client },
        witnessedBy,
      }).signatures.map(({ name }) => name);
    expect(signing([other!, forClient!], "Brackwater Crate Hire")).toEqual([
      "A. Sample",
      "C. Lient",
      "W. Itness",
    ]);
    expect(signing([other!], "Brackwater Crate Hire")).toEqual(["A. Sample", "", "W. Itness"]);
    expect(signing([{ ...other!, organisation: null }], null)).toEqual(["A. Sample", "", "W. Itness"]);
  });
  it("gives the day of the next re-test where one is stated", () => {
    const retest = { on: "2027-05-21", why: "yearly" };
    expect(sheetWords({ ...sampleResult, retest })).toContain("Next re-test 21 May 2027: yearly");
    expect(sheetWords(sampleResult)).not.toContain("re-test");
  });
  it("has three blocks to sign whoever is named", () => {
    for (const result of [sampleResult, bareResult]) {
      expect(sheetOf(result).signatures).toHaveLength(3);
    }
  });
});

describe("a sheet for chosen read points", () => {
  const readPoints = ["dock-1", "dock-2"];
  const signed = sampleResult.findings.filter(({ readPoint }) => readPoints.includes(readPoint));
  const otherwise = { interval: null, correlations: [{ missCorrelation: 0.1, findings: 1 }] };
  const result: Result = { ...sampleResult, signOff: { readPoints, otherwise } };
  const { main, schedule, ...sheet } = sheetOf(result);
  const lines = [...main, ...schedule].flatMap((group) => group.lines);

  it("holds their findings and no others, under the letters of the plan", () => {
    expect(lines).toHaveLength(signed.length);
    expect([...new Set(lines.map(({ letter }) => letter))].sort()).toEqual(["A", "B"]);
    expect(sheet.findings).toBe(`${signed.length} findings`);
  });
  it("says which read points it leaves out and in which state they are", () => {
    expect(sheet.heading).toBe("Acceptance of two of six read points");
    expect(sheet.scope).toMatch(/^This sheet is for two of six read points: Dock door 1 and Dock door 2\. /);
    const left = sampleResult.readPoints.filter(({ id }) => !readPoints.includes(id));
    for (const { name } of left) expect(sheet.scope).toContain(`${name} (`);
    expect(sheet.scope).toMatch(/signing accepts nothing of those\.$/);
    expect(sheetOf(sampleResult).scope).toBe("");
  });
  it("judges, counts and lists only what concerns them", () => {
    expect(sheet.verdict).toMatch(/^Of two read points one meets its criteria and one does not/);
    expect(sheet.promises).toContain(`all ${signed.length} be met`);
    expect(sheet.openPoints.every((point) => /^(Dock door [12]|the facility)$/.test(point.readPoint))).toBe(
      true,
    );
    expect(sheet.concessions.every((entry) => /^Dock door [12]$/.test(entry.readPoint))).toBe(true);
    expect(sheet.rounds.map(({ sentence }) => sentence.split(",")[0])).toEqual(["2 read points"]);
  });
  it("leaves every other page as it is", () => {
    const pages = (of: Result) =>
      facilityPages(of).pages.filter(({ template }) => template !== "sign-off-sheet");
    expect(JSON.stringify(pages(result))).toBe(JSON.stringify(pages(sampleResult)));
  });
});

describe("the page of all facilities", () => {
  it("lists the worst facility first and links to its overview", () => {
    const { view } = indexPage([cleanResult, bareResult, sampleResult].map(indexEntry));
    const { rows } = view;
    expect(rows.map((row) => row.name)).toEqual(["Sample wash plant", "Bare hall", "Clean depot"]);
    expect(rows[0]?.href).toBe("sample-plant/index.html");
    expect(view.lead).toMatch(
      /^Three facilities: one does not meet its criteria, one is untested and one meets its criteria\./,
    );
  });
  it("says so where there is none", () => {
    expect(indexPage([]).view.lead).toBe("No facility was found.");
  });
});

describe("the pages of a facility", () => {
  it("have different paths under its folder, and only links that end in a file name", () => {
    for (const result of [sampleResult, bareResult, cleanResult] as Result[]) {
      const { pages, files } = facilityPages(result);
      const paths = [...pages, ...files].map((entry) => entry.path);
      expect(new Set(paths).size).toBe(paths.length);
      expect(paths.every((path) => path.startsWith(`${result.facility.id}/`) && !path.includes(".."))).toBe(
        true,
      );
      for (const page of pages) {
        for (const link of page.view.navigation) expect(link.href).toMatch(/[a-z0-9-]+\.html$/);
      }
    }
  });
  it("are a function of the result: twice the same", () => {
    expect(JSON.stringify(facilityPages(sampleResult).pages)).toBe(
      JSON.stringify(facilityPages(sampleResult).pages),
    );
  });
});
