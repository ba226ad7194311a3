import { describe, expect, it } from "vitest";
import { judgeFacility } from "../../src/analysis/judge.ts";
import type { Result } from "../../src/model/result/result.ts";
import { facilityPages } from "../../src/pages/facility-pages.ts";
import { inputChoice } from "../../src/pages/parts/archive.ts";
import { log, read } from "../intake/folder.ts";
import { renderPage, wordsOf } from "../pages/render-page.ts";

const yaml = `name: Invented yard
client: Invented Client
time_zone: Europe/Dublin
report: { number: R, revision: A, issued: 2026-05-22 }
prepared_by: { name: Una Drisk, organisation: Stellmarrow }
witnessed_by: [{ name: Ulf Dorn, organisation: Invented Client }]
rounds: [{ id: r, title: Only, date: 2026-05-21, changes: Una Drisk lowered the antenna }]
read_points: [{ id: gate, name: Gate }]
criteria:
  - { id: pairs, title: Badge is paired, measure: agreement-rate, observed: badge_read, expected: badge_worn, at_least: 0.5 }
  - { id: strays, title: Few strays, measure: stray-pass-rate, at_most: 0.9 }
concessions:
  - { criterion: pairs, read_point: gate, granted_by: "Pell Harragate, plant manager", on: 2026-05-22, reason: Agreed with Pell Harragate }
open_points:
  - { id: P1, text: Ask Tam Orrelby, owner: Stellmarrow }
  - { id: P2, text: Tidy, owner: Bram Ostick }
`;
const [worn, other] = ["331645AA3C004BC000000034", "331645AA3C004BC000000099"];
const passes = log(
  "pass,read_point,badge_worn,badge_read,tag,presented,read,walked_by,note,operator",
  `P1,gate,${worn},${worn},T1,yes,yes,Tam Orrelby,Tam Orrelby slipped,Sefa Brindlow`,
  `P1,gate,${worn},${worn},${worn},no,yes,Tam Orrelby,,`,
  `P2,gate,${worn},${other},T1,yes,no,Una Drisk and Bram Ostick,,`,
);
const people = [
  "Una",
  "Drisk",
  "Ulf",
  "Dorn",
  "Pell",
  "Harragate",
  "Tam",
  "Orrelby",
  "Bram",
  "Ostick",
  "Sefa",
  "Brindlow",
];

async function judged(more = "pseudonyms: true\n"): Promise<Result> {
  const { input, problems } = await read({ "facility.yaml": yaml + more, "passes/p.csv": passes });
  if (input === null) throw new Error(JSON.stringify(problems));
  return judgeFacility(input, "0");
}

describe("with pseudonyms", () => {
  it("nobody's name and no badge is in the result, nor in any file made of it", async () => {
    const result = await judged();
    const { pages, files } = facilityPages(result);
    const texts = [JSON.stringify(result), ...pages.map(renderPage), ...files.map(({ text }) => text)];
    for (const secret of [...people, worn!, other!])
      expect(
        texts.filter((text) => text.includes(secret)),
        secret,
      ).toEqual([]);
    expect(JSON.stringify(await judged(""))).toContain("Tam Orrelby");
  });

  it("initials tell people apart, badges are numbered, and firms and offices keep their names", async () => {
    const result = await judged();
    expect(result.preparedBy).toMatchObject({ name: "U.D. 2", organisation: "Stellmarrow" });
    expect(result.witnessedBy[0]!.name).toBe("U.D.");
    expect(result.concessions[0]).toMatchObject({
      grantedBy: "P.H., plant manager",
      reason: "Agreed with P.H.",
    });
    expect(result.openPoints.map(({ owner }) => owner)).toEqual(["Stellmarrow", "B.O."]);
    const [first, second] = result.readPoints[0]!.rounds[0]!.passList;
    expect(first).toMatchObject({ walkedBy: ["T.O."], notes: ["T.O. slipped"], strayTags: ["badge 1"] });
    expect(second!.walkedBy).toEqual(["U.D. 2 and B.O."]);
  });

  it("no figure changes", async () => {
    const figures = ({ findings }: Result) => findings.map(({ state, estimate }) => ({ state, estimate }));
    expect(figures(await judged())).toEqual(figures(await judged("")));
  });

  it("the sheet says who holds the list, and the input files stay out of the site unless they are asked for", async () => {
    const result = await judged();
    const sheet = facilityPages(result).pages.find(({ template }) => template === "sign-off-sheet")!;
    expect(wordsOf(renderPage(sheet))).toContain("numbers for their badges: Stellmarrow holds the list");
    expect(inputChoice(result, null)).toBe("none");
    expect(inputChoice(result, "small")).toBe("small");
    expect(inputChoice(await judged(""), null)).toBe("small");
  });
});
