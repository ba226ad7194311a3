import { describe, expect, it } from "vitest";
import { pageOf, renderPage, tableFiles, wordsOf } from "./render-page.ts";
import { bareResult, sampleResult } from "./sample-result.ts";

describe("the page of rounds", () => {
  const html = renderPage(pageOf(sampleResult, "rounds"));
  const words = wordsOf(html);

  it("gives k of n and the interval of every round at every read point", () => {
    for (const { rounds } of sampleResult.readPoints) {
      for (const { tagReadRate } of rounds) {
        if (tagReadRate.n > 0) expect(words).toContain(`${tagReadRate.k} of ${tagReadRate.n}`);
      }
    }
    expect(words).toContain("79.1 92.0 97.2 %");
  });

  it("says why overlap is no test", () => {
    expect(words).toContain("Whether intervals overlap is not a test of a difference");
  });

  it("keeps p, Holm's adjustment and the number of looks behind folds", () => {
    const open = wordsOf(html.replace(/<details[\s\S]*?<\/details>/g, " "));
    expect(words).toContain("Holm");
    expect(open).not.toMatch(/Holm|p adjusted|\bp =/);
  });

  it("says what was changed, and where no pass was walked", () => {
    expect(words).toContain("Antenna 3 lowered by 0.4 m");
    expect(words).toContain("not walked in this round");
    expect(words).toContain("No bystander was placed in any round.");
  });

  it("has nothing to compare where there is one round, and says so", () => {
    expect(wordsOf(renderPage(pageOf(bareResult, "rounds")))).toContain("There is only one round, only");
  });
});

describe("the inputs page", () => {
  const html = renderPage(pageOf(sampleResult, "inputs"));
  const words = wordsOf(html);

  it("lists every file with its rows and its whole SHA-256", () => {
    for (const input of sampleResult.inputs) {
      expect(words).toContain(input.path);
      expect(words).toContain(input.sha256);
    }
    expect(words).toContain("3462 rows: 3390 entered the figures, 72 belong to void passes");
  });

  it("accounts for every row of a reader's log, and says what became of each", () => {
    expect(words).toContain("reads/dock-1.csv.gz 48 213 48 004 12 190 7");
    expect(words).toContain("have 48 213 rows, and every row is accounted for. 7 rows were refused");
    expect(words).toContain("Of the readers' own logs, 48 004 rows entered them.");
    expect(words).toContain("The row equals another row in every column");
    const bare = wordsOf(renderPage(pageOf(bareResult, "inputs")));
    expect(bare).not.toContain("where every row went");
  });

  it("says what an auditor asks: revisions with their marks, corrections, and what became of the files", () => {
    expect(words).toContain("0123 4567 89ab cdef 0123 4567 89ab cdef");
    expect(words).toContain("passes/as-left.csv was changed, with a correction");
    expect(words).toContain("passes/taken-out.csv was taken out without a correction");
    expect(words).toContain("Pass 7: the end was typed an hour late.");
    expect(wordsOf(renderPage(pageOf(bareResult, "inputs")))).not.toContain("Revisions, corrections");
  });

  it("puts the remarks into sentences with their place", () => {
    expect(words).toContain('Found column "weather <i>"; expected a declared column.');
    expect(words).toContain("passes/as-left.csv:1:9");
    expect(wordsOf(renderPage(pageOf(bareResult, "inputs")))).toContain("There are no remarks.");
  });

  it("puts remarks with one cause into one sentence, with their count and the first three places", () => {
    const [first] = sampleResult.problems;
    const problems = [2, 3, 4, 5, 6].map((line) => ({ ...first!, line, found: `column "c${line}"` }));
    const page = renderPage(pageOf({ ...sampleResult, problems }, "inputs"));
    expect(wordsOf(page)).toContain("There is 1 remark on them.");
    expect(page.match(/expected a declared column/g)).toHaveLength(1);
    expect(wordsOf(page)).toContain(
      'passes/as-left.csv:2:9 ; passes/as-left.csv:3:9 ( column "c3" ); passes/as-left.csv:4:9 ( column "c4" ) and 2 more',
    );
  });

  it("offers every table of the facility and the archived result", () => {
    for (const { path } of tableFiles(sampleResult)) {
      expect(html).toContain(`href="${path.replace("sample-plant/", "")}"`);
    }
    expect(html).toContain('href="result.json"');
  });
});
