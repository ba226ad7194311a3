import { beforeAll, expect, it } from "vitest";
import { judgeFacility } from "../../src/analysis/judge.ts";
import { readSound } from "../intake/folder.ts";
import { pageOf, renderPage } from "../pages/render-page.ts";
import { fixedNumbers } from "./fixed-numbers.ts";
import { wilson } from "./independent-interval.ts";
import { unexplained, unsaid } from "./page-numbers.ts";
import { pageText } from "./page-text.ts";

/*
 * A plan of one tag a pass, where everything can be worked out with binomial chances and nothing of the tool: what is
 * planned is counted from the log's rows, what it takes and risks is searched for and summed up here.
 */

const limit = 0.9;
const expected = 0.98;
const walked = { full: 40, half: 10 };
const yaml = `name: Yard
report: { number: Y-5, revision: A, issued: 2026-06-02 }
rounds: [{ id: first, title: First round, date: 2026-06-01 }]
read_points: [{ id: door, name: Door }]
conditions: [{ column: load, label: Load }]
criteria: [{ id: read, title: Tags are read, measure: tag-read-rate, at_least: ${limit} }]
plan: { seed: 4, tags_per_pass: 1, expected_rate: ${expected}, each: { load: [full, half] } }
`;

function passLog(): string {
  const rows = Object.entries(walked).flatMap(([load, count]) =>
    Array.from({ length: count }, (_, i) => `first,${load}${i},door,${load},${load}${i},yes,`),
  );
  // A void pass and one under a load that is not planned count for nothing.
  const others = ["first,void,door,half,V,yes,dropped", "first,other,door,empty,E,yes,"];
  return `${["round,pass,read_point,load,tag,read,void_reason", ...rows, ...others].join("\n")}\n`;
}

function binomial(n: number, k: number, chance: number): number {
  let product = 1;
  for (let i = 1; i <= k; i += 1) product *= ((n - k + i) / i) * chance;
  return product * (1 - chance) ** (n - k);
}

const sum = (numbers: number[]) => numbers.reduce((a, b) => a + b, 0);
const upTo = (most: number) => Array.from({ length: most + 1 }, (_, i) => i);

const isMet = (n: number, misses: number) => wilson((n - misses) / n, n).lower >= limit;
/** The exact upper end lies below the limit where so few reads, or fewer, are less likely there than 2.5 %. */
const isNotMet = (n: number, misses: number) =>
  wilson((n - misses) / n, n).upper < limit &&
  sum(upTo(n - misses).map((reads) => binomial(n, reads, limit))) < 0.025;

function chances(n: number, rate: number): { met: number; notMet: number } {
  const misses = upTo(n);
  const of = (holds: (n: number, misses: number) => boolean) =>
    sum(misses.filter((some) => holds(n, some)).map((some) => binomial(n, some, 1 - rate)));
  return { met: of(isMet), notMet: of(isNotMet) };
}

function first(holds: (n: number) => boolean): number {
  let n = 1;
  while (!holds(n)) n += 1;
  return n;
}

const fewest = [0, 1, 2, 3].map((misses) => first((n) => n >= misses && isMet(n, misses)));
const [for80, for90] = [0.8, 0.9].map((chance) => first((n) => chances(n, expected).met >= chance));
const each = Math.ceil(for90! / 2);
const tenth = (share: number) => (share * 100).toFixed(1);
const up = (share: number) => (Math.ceil(share * 1000 - 1e-9) / 10).toFixed(1);
/** Alike by 0.02, one tag in every pass is worth n / (1 + (n - 1) 0.02): the fewest that are worth the fewest without. */
const sameTag = first((n) => wilson(1, n / (1 + (n - 1) * 0.02)).lower >= limit);

let text = "";
let sheet = "";
let planned: string[] = [];

beforeAll(async () => {
  const input = await readSound({ "facility.yaml": yaml, "passes/a.csv": passLog() });
  const result = judgeFacility(input, "0.0.0");
  text = pageText(renderPage(pageOf(result, "plan")));
  sheet = pageText(renderPage(pageOf(result, "walk-sheet")));
  planned = result.plan!.walks[0]!.passes.map(({ pass, conditions }) => `${pass} ${conditions.load}`);
});

/** A row of the table of chances, as it is printed. */
function riskRow(rate: number): string {
  const { met, notMet } = chances(for90!, rate);
  const share = (chance: number) => {
    const near = tenth(chance);
    if (near === "0.0" && chance > 1e-6) return "under 0.1";
    return near === "100.0" && chance < 1 - 1e-6 ? "over 99.9" : near;
  };
  const risk = Number(up(met)) <= 0.1 ? "at most 0.1" : up(met);
  const stated = String(Number((rate * 100).toFixed(4)));
  const shown = rate <= limit + 1e-12 ? risk : share(met);
  return `${stated} % … ${shown} % ${share(1 - met - notMet)} % ${share(notMet)} %`;
}

/** Drawn at these multiples of the misses that the limit allows, until a refusal is all but certain. */
const multiples = [
  ...[
    0, 0.01, 0.02, 0.035, 0.05, 0.1, 0.15, 0.2, 0.25, 0.3, 0.35, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1, 1.15, 1.3,
  ],
  ...[1.5, 1.75, 2, 2.5, 3, 3.5, 4, 5, 6],
];
const drawn = multiples.map((multiple) => 1 - (1 - limit) * multiple);
const refused = drawn.findIndex((rate) => chances(for90!, rate).notMet > 0.9999);
const rates = drawn.slice(0, refused + 1);

const twoRounds = (8 * (0.975 * 0.025 + 0.98 * 0.02)) / 0.005 ** 2;

/** The axis starts at the first of its labels that the lowest rate does not lie below. */
const start = [90, 80, 50, 20, 0].find((label) => label <= 100 * rates.at(-1)! + 1e-9);

function statements(): string[] {
  const all = sum(Object.values(walked));
  const planned = `${2 * each} passes are planned at one read point`;
  const far = `${all} of ${2 * each} planned passes … two of two combinations`;
  const good = `${tenth(chances(for90!, expected).met)} % of walks of ${for90} passes end in “met”`;
  const bad = `${up(chances(for90!, limit).met)} % of walks of ${for90} passes`;
  const picture = `${up(chances(for90!, limit).met)} % wrongly “met”`;
  return [
    `${planned}. ${far}`,
    `Planned: ${each} passes in each of 2 combinations of conditions, ${2 * each} in all. ${far}`,
    `Load full short ${each} ${walked.full} ${each} ${walked.full}`,
    `Load half short ${each} ${walked.half} ${each} ${walked.half}`,
    "Tags per pass 1, different tags",
    "Expected rate 98 %",
    "Assumed correlation 0.02 between misses",
    "Wilson, two-sided at 95 %",
    "from seed 4",
    `80 % of walks … 90 % of walks … Tags are read Door 90 % required ${fewest.join(" ")} ${for80} ${for90}`,
    "No fault One fault Two faults Three faults",
    `At least ${fewest[0]} passes without a miss … If 98 % of the tags are read, ${for80} passes end in “met” with … 80 % and ${for90} passes with 90 %.`,
    `With the same 1 tag in every pass, at least ${sameTag} passes`,
    `If 98 % of the tags are read, ${good}. A read point that just misses the limit … ${bad}`,
    `0 % 20 % 40 % 60 % 80 % 100 % 90 % required ${picture}`,
    `The axis starts at ${start} %, not at 0`,
    // The textbook's size for four in five, 8 (pq + pq) / d², is more passes of one tag than are looked at.
    `Telling two rounds apart Not even two rounds of ${Math.min(1000, Math.ceil(twoRounds))} passes would show that the read rate rose from 97.5 % to 98 %`,
    "in at least two sessions: two days differ",
    "Sessions at least two, on different days",
    "the three curves",
    "the interval aims at 2.5 % or less",
    ...rates.map(riskRow),
    "Y-5, revision A",
    "issued 2 June 2026",
    "First round, 1 June 2026",
  ];
}

it("the page on how much to walk says what the recount says, and no other number", () => {
  expect(unsaid(text, statements())).toEqual([]);
  expect(unexplained(text, [...statements(), ...fixedNumbers])).toEqual([]);
});

it("a recount that is off by one is found out", () => {
  const wrong = statements().map((one) =>
    one.replace(`half short ${each} ${walked.half}`, `half short ${each} ${walked.half + 1}`),
  );
  expect(unsaid(text, wrong)).toHaveLength(1);
});

it("half of the planned passes are with each load, and the walk sheet lists those that lack, and no other number", () => {
  expect(planned).toHaveLength(2 * each);
  expect(planned.filter((pass) => pass.endsWith("full"))).toHaveLength(each);
  const all = sum(Object.values(walked));
  const lacking = Object.entries(walked).flatMap(([load, count]) =>
    planned.filter((pass) => pass.endsWith(` ${load}`)).slice(0, each - count),
  );
  expect(lacking).toHaveLength(2 * each - all);
  for (const pass of planned) expect(sheet.includes(pass), pass).toBe(lacking.includes(pass));
  const said = [
    "A4 or Letter",
    "Y-5, revision A",
    "First round, 1 June 2026",
    "Tags 1 per pass",
    `To walk ${each} passes in each of 2 combinations of conditions, ${2 * each} in all`,
    `So far ${all} of ${2 * each} passes are walked`,
    `${2 * each - all} are left`,
    ...lacking,
  ];
  expect(unsaid(sheet, said)).toEqual([]);
  expect(unexplained(sheet, [...said, ...fixedNumbers])).toEqual([]);
});
