import { readXlsx } from "hucre/xlsx";
import { describe, expect, it } from "vitest";
import { judgeFacility } from "../../../src/analysis/judge.ts";
import type { Result } from "../../../src/model/result/result.ts";
import { facilityPages } from "../../../src/pages/facility-pages.ts";
import { workbookBytes } from "../../../src/site/workbook-bytes.ts";
import { errors, type Files, read, readSound } from "../../intake/folder.ts";
import { pageOf, pagesOf, renderPage, wordsOf } from "../render-page.ts";
import { plannedSample } from "../sample-plan.ts";

const yaml = (plan: string, more = "") => `name: Hall
report: { number: H-1, revision: A, issued: 2026-05-22 }
rounds: [{ id: first }, { id: as-left, title: As left, date: 2026-05-21 }]
read_points: [{ id: door, name: Door }, { id: -gate, name: Gate }]
conditions:
  - { column: speed_m_s, label: Speed, unit: m/s, bands: [0, 1, 2, 3] }
  - { column: load, label: Load }
  - { column: way, label: Way up }
criteria:
  - { id: read, measure: tag-read-rate, at_least: 0.9, for_each: [way] }
  - { id: slow, measure: tag-read-rate, at_least: 0.9, where: { speed_m_s: { to: 2 } } }
${more}plan: { seed: 3, expected_rate: 0.995, each: { load: [full, "=2", -1, half], speed_m_s: [0.5, 1 to 2] }, ${plan} }
`;
const tally = "tags_per_pass: 12, read_points: [door, -gate]";
const listed = "tags_per_pass: 3, manifest: pallet, read_points: [door]";
const pallet = { "manifests/pallet.csv": "tag\nT1\nT2\nT3\n" };

async function resultOf(files: Files): Promise<Result> {
  return judgeFacility(await readSound(files), "0.0.0");
}

const walkLogs = (result: Result) =>
  facilityPages(result).files.filter(({ path }) => path.includes("/walk-sheets/"));

/** A log as somebody fills it in: the cells by column, where they are still to be filled. */
function filled(text: string, cells: Record<string, string>): string {
  const [header, ...rows] = text.replace("\uFEFF", "").trimEnd().split("\r\n");
  const columns = header!.split(",");
  const lines = rows.map((row) =>
    row
      .split(",")
      .map((cell, i) => (cell === "" || cell === "?" ? (cells[columns[i]!] ?? cell) : cell))
      .join(","),
  );
  return `${[header, ...lines].join("\n")}\n`;
}

const answers = {
  started_at: "2026-05-21T10:00:00Z",
  ended_at: "2026-05-21T10:00:20Z",
  speed_m_s: "1.4",
  way: "flat",
  tags_read: "12",
  missed_tags: "none",
  walked_by: "U. Drisk",
};

describe("a pass log ready to fill", () => {
  it("is taken without an error once it is filled in, and its passes are counted as planned", async () => {
    const before = await resultOf({ "facility.yaml": yaml(tally) });
    const logs = walkLogs(before);
    expect(logs.map(({ path }) => path)).toEqual(["hall/walk-sheets/door.csv", "hall/walk-sheets/gate.csv"]);
    const passes = Object.fromEntries(logs.map(({ text }, i) => [`passes/${i}.csv`, filled(text, answers)]));
    const { input, problems } = await read({ "facility.yaml": yaml(tally), ...passes });
    expect(errors(problems)).toEqual([]);
    const { plan } = judgeFacility(input!, "0.0.0");
    for (const { cells } of plan!.walks) {
      expect(cells.map(({ state }) => state)).toEqual(cells.map(() => "done"));
      expect(cells.map(({ done }) => done)).toEqual(cells.map(({ planned }) => planned));
    }
    expect(plan!.walks.map((walk) => walk.passes)).toEqual(before.plan!.walks.map((walk) => walk.passes));
  });

  it("is the same as a workbook, with the same bytes in every build", async () => {
    const before = await resultOf({ "facility.yaml": yaml(tally) });
    const { workbooks } = facilityPages(before);
    expect(workbooks.map(({ path }) => path)).toEqual([
      "hall/walk-sheets/door.xlsx",
      "hall/walk-sheets/gate.xlsx",
    ]);
    const passes: Files = {};
    for (const [i, workbook] of workbooks.entries()) {
      expect(Buffer.from(await workbookBytes(workbook))).toEqual(Buffer.from(await workbookBytes(workbook)));
      const rows = workbook.rows.map((row) =>
        row.map((cell, c) => cell ?? answers[workbook.columns[c]!.header as keyof typeof answers] ?? null),
      );
      passes[`passes/${i}.xlsx`] = Buffer.from(await workbookBytes({ ...workbook, rows }));
    }
    const { input, problems } = await read({ "facility.yaml": yaml(tally), ...passes });
    expect(errors(problems)).toEqual([]);
    const { plan } = judgeFacility(input!, "0.0.0");
    for (const { cells } of plan!.walks)
      expect(cells.map(({ done }) => done)).toEqual(cells.map(({ planned }) => planned));
  });

  it("offers in its cells what may stand there, from a hidden sheet", async () => {
    const [workbook] = facilityPages(await resultOf({ "facility.yaml": yaml(listed), ...pallet })).workbooks;
    const offered = Object.fromEntries(workbook!.columns.map(({ header, choices }) => [header, choices]));
    expect(offered).toMatchObject({
      round: ["first", "as-left"],
      read_point: ["door", "-gate"],
      load: ["full", "=2", "-1", "half"],
      missed_tags: ["none"],
      started_at: [],
    });
    expect(offered.void_reason).toContain("Load slipped");
    const { sheets } = await readXlsx(await workbookBytes(workbook!));
    expect(sheets.map(({ name, hidden }) => [name, hidden ?? false])).toEqual([
      ["Pass log", false],
      ["lists", true],
    ]);
    const lists = sheets[1]!.rows;
    const last = workbook!.rows.length + 51;
    expect(sheets[0]!.dataValidations).toContainEqual(
      expect.objectContaining({ type: "list", formula1: "lists!$A$1:$A$2", range: `A2:A${last}` }),
    );
    expect(lists.slice(0, 2).map(([round]) => round)).toEqual(["first", "as-left"]);
  });

  it("is refused as a workbook, too, where nobody filled it in", async () => {
    const files: Files = { "facility.yaml": yaml(listed), ...pallet };
    const [workbook] = facilityPages(await resultOf(files)).workbooks;
    const { problems } = await read({
      ...files,
      "passes/a.xlsx": Buffer.from(await workbookBytes(workbook!)),
    });
    expect(new Set(errors(problems).map(({ code, sheet }) => `${sheet}: ${code}`))).toContain(
      "Pass log: tags-to-fill-in",
    );
  });

  it("names the load where there is one, and is taken as well", async () => {
    const files = { "facility.yaml": yaml(listed), ...pallet };
    const [log] = walkLogs(await resultOf(files));
    expect(log!.text.replace("\uFEFF", "").split("\r\n")[0]).toBe(
      "round,pass,read_point,started_at,ended_at,speed_m_s,load,way,manifest,missed_tags,stray_tags,void_reason,walked_by,note",
    );
    const { input, problems } = await read({ ...files, "passes/a.csv": filled(log!.text, answers) });
    expect(errors(problems)).toEqual([]);
    const { cells } = judgeFacility(input!, "0.0.0").plan!.walks[0]!;
    expect(new Set(cells.map(({ state }) => state))).toEqual(new Set(["done"]));
  });

  it.each([
    ["tally", { "facility.yaml": yaml(tally) }],
    ["listed", { "facility.yaml": yaml(listed), ...pallet }],
  ])(
    "is refused where a row was left as it is, so that no pass counts that nobody walked: %s",
    async (_, files) => {
      const [log] = walkLogs(await resultOf(files));
      const { tags_read: _read, missed_tags: _missed, ...others } = answers;
      const { input, problems } = await read({ ...files, "passes/a.csv": filled(log!.text, others) });
      expect(input).toBeNull();
      expect(errors(problems).length).toBeGreaterThan(0);
    },
  );

  it("leaves the number blank where the plan names a band only", async () => {
    const [log] = walkLogs(await resultOf({ "facility.yaml": yaml(tally) }));
    const speeds = log!.text
      .split("\r\n")
      .slice(1, -1)
      .map((row) => row.split(",")[5]);
    expect(new Set(speeds)).toEqual(new Set(["0.5", ""]));
  });

  it("leaves out what was walked, and offers a void pass again under a number of its own", async () => {
    const files = { "facility.yaml": yaml(tally) };
    const [log] = walkLogs(await resultOf(files));
    const [header, first, second, ...rest] = filled(log!.text, answers).trimEnd().split("\n");
    const voided = second!.replace(/,,U\. Drisk/, ",dropped,U. Drisk");
    const after = await resultOf({ ...files, "passes/a.csv": `${[header, first, voided].join("\n")}\n` });
    const left = walkLogs(after)[0]!.text.trimEnd().split("\r\n").slice(1);
    expect(left).toHaveLength(rest.length + 1);
    expect(left[0]).toContain(",w02-2,");
    expect(left[1]).toContain(",w03,");
  });

  it("asks for no combination that was walked as planned, whatever its passes were called", async () => {
    const files = { "facility.yaml": yaml(tally) };
    const [log] = walkLogs(await resultOf(files));
    const [header, ...rows] = filled(log!.text, answers).trimEnd().split("\n");
    const renamed = rows.map((row) => row.replace(/,w(\d+),/, ",early-$1,"));
    const all = await resultOf({ ...files, "passes/a.csv": `${[header, ...renamed].join("\n")}\n` });
    expect(walkLogs(all)[0]!.text.trimEnd().split("\r\n")).toHaveLength(1);
    const few = await resultOf({ ...files, "passes/a.csv": `${[header, ...renamed.slice(5)].join("\n")}\n` });
    expect(walkLogs(few)[0]!.text.trimEnd().split("\r\n")).toHaveLength(1 + 5);
  });
});

describe("a walk sheet", () => {
  it("has the cautions, every pass in its order and room for what was seen", async () => {
    const result = await resultOf({ "facility.yaml": yaml(tally) });
    const [sheet, gate] = pagesOf(result, "walk-sheet");
    expect([sheet, gate].map((page) => page!.path)).toEqual([
      "hall/walk-sheets/door.html",
      "hall/walk-sheets/gate.html",
    ]);
    const html = renderPage(sheet!);
    const words = wordsOf(html).replace(/[\u202f\u00a0]/g, " ");
    const ids = [...words.matchAll(/\bw\d\d+\b/g)].map(([id]) => id);
    expect(ids).toEqual(result.plan!.walks[0]!.passes.map(({ pass }) => pass));
    for (const said of [
      "Implants",
      "competent person",
      "Start",
      "End",
      "Tags read",
      "Strays",
      "Void",
      "Way up",
      "Signature",
    ])
      expect(words).toContain(said);
    expect(words).toContain("12 per pass, different tags in every pass");
    expect(words).toContain("1 to 2 m/s walked at");
  });

  it("asks for the tags missed where the load is known, and only for passes that are left", async () => {
    const files = { "facility.yaml": yaml(listed), ...pallet };
    const [log] = walkLogs(await resultOf(files));
    const [header, first] = filled(log!.text, answers).split("\n");
    const result = await resultOf({ ...files, "passes/a.csv": `${header}\n${first}\n` });
    const words = wordsOf(renderPage(pageOf(result, "walk-sheet")));
    expect(words).toContain("Tags missed");
    expect(words).toContain("manifest pallet");
    expect(words).toMatch(/\d+ are left, in the random order below\./);
    expect(words).not.toContain(" w01 ");
    expect(words).toContain(" w02 ");
  });

  it("shows hostile text as text", () => {
    for (const page of pagesOf(plannedSample(), "walk-sheet"))
      expect(renderPage(page)).not.toContain("<script>alert");
  });
});
