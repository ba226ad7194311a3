import { createHash } from "node:crypto";
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { buildSite } from "../browser/built-site.ts";
import { draws } from "../draws.ts";
import { changesStatements } from "./changes-statements.ts";
import { evidenceStatements } from "./evidence-statements.ts";
import { fixedNumbers } from "./fixed-numbers.ts";
import { inputsStatements } from "./inputs-statements.ts";
import { methodParts, methodStatements } from "./method-statements.ts";
import { offByOne } from "./off-by-one.ts";
import { overviewStatements } from "./overview-statements.ts";
import { explainer, unexplained, unsaid } from "./page-numbers.ts";
import { pageText } from "./page-text.ts";
import { passesStatements } from "./passes-statements.ts";
import { longDate } from "./printed.ts";
import { readPointStatements } from "./read-point-statements.ts";
import { bystandersRead, type Count, missedTags, strayPasses, tagsRead, withoutVoids } from "./recount.ts";
import { roundsStatements } from "./rounds-statements.ts";
import { dataFolder, recountedShed, type Shed } from "./shed.ts";
import { sheetStatements } from "./sheet-statements.ts";
import { whyStatements } from "./why-statements.ts";

/*
 * From the log to the page: the figures are counted and worked out a second time here, from the raw files and with
 * nothing of the tool, and every number on a page must be one that this recount puts in that place.
 */

const statementsOf: Record<string, (shed: Shed) => string[] | Promise<string[]>> = {
  "index.html": ({ facts: { report } }) => [
    `${report.number}, revision ${report.revision} ${longDate(report.issued)}`,
  ],
  "shed/index.html": overviewStatements,
  "shed/inputs.html": inputsStatements,
  "shed/method.html": methodStatements,
  "shed/passes.html": passesStatements,
  "shed/read-points/door.html": (shed) => [...readPointStatements(shed), ...evidenceStatements(shed)],
  "shed/rounds.html": (shed) => [...roundsStatements(shed), ...changesStatements(shed)],
  "shed/sign-off-sheet.html": sheetStatements,
  "shed/why/door.html": whyStatements,
};

const html = new Map<string, string>();
const statements = new Map<string, string[]>();
let pages: string[] = [];

beforeAll(async () => {
  const [site, shed] = await Promise.all([buildSite(dataFolder), recountedShed()]);
  pages = site.pages;
  const sha256 = createHash("sha256")
    .update(await readFile(join(site.folder, "shed/result.json")))
    .digest("hex");
  const mark = `Evidence mark ${[...Array(8)].map((_, i) => sha256.slice(4 * i, 4 * i + 4)).join(" ")}`;
  const marks: Record<string, string[]> = {
    foot: [mark],
    // Of the page of rules only the parts are looked at that its own statements are on.
    "shed/method.html": [],
    "shed/inputs.html": [mark, mark.replace("Evidence mark", "the one here:"), `all 64: ${sha256}`],
  };
  for (const [page, of] of Object.entries(statementsOf)) {
    html.set(page, await readFile(join(site.folder, page), "utf8"));
    statements.set(page, [
      ...(await of(shed)),
      ...(page === "index.html" ? [] : (marks[page] ?? marks.foot!)),
    ]);
  }
});

/** The page of rules has worked examples too, tested with the formulas they illustrate: here its parts on the facility. */
function textOf(page: string): string {
  const text = pageText(html.get(page)!);
  if (page !== "shed/method.html") return text;
  return methodParts.map(([from, to]) => text.slice(text.indexOf(from), text.indexOf(to))).join(" ");
}

const explanationsOf = (page: string) => [...statements.get(page)!, ...fixedNumbers];

describe("a number on a page", () => {
  it("is looked at on every page", () => {
    expect([...pages].sort()).toEqual(Object.keys(statementsOf).sort());
  });

  it.each(Object.keys(statementsOf))("follows from the raw files: %s", (page) => {
    expect(unexplained(textOf(page), explanationsOf(page))).toEqual([]);
  });

  it.each(Object.keys(statementsOf))("is missed when its last digit is off by one: %s", (page) => {
    const text = textOf(page);
    const missing = explainer(explanationsOf(page));
    // Every fifth of them, and all with more draws: each is a search through all that the page may say.
    const some = offByOne(text).filter((_, i) => i % 5 < draws(1));
    expect(some.length).toBeGreaterThan(0);
    const unnoticed = some.filter((changed) => missing(changed.text).length === 0);
    expect(unnoticed.map(({ where }) => where)).toEqual([]);
  });
});

describe("a figure of the recount", () => {
  it.each(Object.keys(statementsOf))("stands where it is due: %s", (page) => {
    expect(unsaid(textOf(page), statements.get(page)!)).toEqual([]);
  });
});

describe("the check", () => {
  it("names a wrong figure together with what stands around it", () => {
    const page = "shed/read-points/door.html";
    const wrong = html.get(page)!.replace("(22.0 to 91.9)", "(22.0 to 92.0)");
    const reported = unexplained(pageText(wrong), explanationsOf(page));
    expect(reported).toContainEqual(
      expect.stringMatching(/9 of 14 tags read, 64\.2 % \(22\.0 to >>92\.0<<\)/),
    );
  });
});

describe("the recount", () => {
  it("agrees with what was counted by hand beside the folder", async () => {
    const { before, after } = await recountedShed();
    const valid = withoutVoids(after);
    const kOfN = ({ k, n }: Count) => `${k} of ${n}`;
    expect([kOfN(tagsRead(before)), kOfN(tagsRead(valid)), kOfN(tagsRead(after))]).toEqual([
      "2 of 4",
      "9 of 12",
      "9 of 14",
    ]);
    expect([kOfN(strayPasses(valid)), kOfN(bystandersRead(valid))]).toEqual(["1 of 4", "1 of 2"]);
    expect(missedTags(valid).map(({ tag, missed }) => `${tag} ${missed}`)).toEqual(["A4 2", "A3 1"]);
  });
});
