import simulated from "../../src/analysis/comparison/simulated.json" with { type: "json" };
import { differenceOf, type RecountedDifference } from "./independent-difference.ts";
import * as common from "./pages-in-common.ts";
import { bandOf } from "./pass-rows.ts";
import { flanked, longDate, percent, points, spelled, surprise } from "./printed.ts";
import type { RawRow } from "./raw-rows.ts";
import { missedTags, presented, withoutVoids } from "./recount.ts";
import type { Shed } from "./shed.ts";

/** One look at the rounds: under every condition, or under one value of one. */
interface Look {
  name: string;
  found: RecountedDifference;
}

/** What the page of the two rounds says, with the figures of the recount. */
export function changesStatements(shed: Shed): string[] {
  const [first, last] = shed.facts.rounds;
  const before = withoutVoids(shed.before);
  const after = withoutVoids(shed.after);
  const whole = differenceOf(before, after);
  const looks = looksAt(before, after);
  return [
    ...common.onEveryPage(shed),
    `From ${first!.title} (${longDate(first!.date)}) to ${last!.title} (${longDate(last!.date)})`,
    `What was changed Before ${last!.title} (${longDate(last!.date)})`,
    `Their difference … interval at ${shed.facts.confidence * 100} %`,
    ...picture(whole, first!.title, last!.title),
    `Door no change shown ${cells(whole)} ${surprise(whole.p)} from the interval`,
    sentence(whole),
    ...tagsPresented(before, after),
    worth(whole),
    "Two days differ though nothing was retuned",
    `In simulations of 20 passes of 40 tags at 97 %, days that differ … make ${changedByDay(1)} of 100 equal rounds … in one session, and ${changedByDay(4)} if it was walked in four`,
    `By condition: ${spelled(looks.length)} comparisons`,
    ...looks.map(
      (look) =>
        `${look.name} no change shown ${cells(look.found)} ${surprise(look.found.p)} ${holm(look, looks)}`,
    ),
    ...changedTags(before, after),
  ];
}

/** As the bench wrote it. */
function changedByDay(sessions: number): string {
  const found = simulated.dayEffects.find(
    (one) => one.trueRate === 0.97 && one.passes === 20 && one.sessions === sessions,
  );
  return (100 * found!.highest).toFixed(0);
}

function looksAt(before: RawRow[], after: RawRow[]): Look[] {
  const look = (name: string, wanted: (row: RawRow) => boolean) => ({
    name,
    found: differenceOf(before.filter(wanted), after.filter(wanted)),
  });
  return [
    ...["0 to 1", "1 to 2"].map((band) => look(`Speed: ${band} m/s`, ({ speed }) => bandOf(speed) === band)),
    ...["edge-on", "facing"].map((name) =>
      look(`Tag orientation: ${name}`, ({ orientation }) => orientation === name),
    ),
  ];
}

function picture({ before, after, difference }: RecountedDifference, first: string, last: string): string[] {
  const { lower, value, upper } = points(difference);
  const rate = (share: number) => percent(share, "at least");
  return [
    `Door ${before.k} of ${before.n} ${rate(before.interval.value)} ${after.k} of ${after.n} ${rate(after.interval.value)} ${lower} ${value} ${upper}`,
    `no change shown ${lower} ${value} ${upper} Door`,
    `Door ${first}: ${before.k} of ${before.n} ${flanked(before.interval, "at least")} % ${last}: ${after.k} of ${after.n} ${flanked(after.interval, "at least")} %`,
  ];
}

function cells({ before, after, difference }: RecountedDifference): string {
  const { lower, value, upper } = points(difference);
  const arm = ({ k, n, interval }: RecountedDifference["before"]) =>
    `${flanked(interval, "at least")} % ${k} of ${n}`;
  return `${arm(before)} ${arm(after)} ${lower} ${value} ${upper}`;
}

/** What a page says of the read point as a whole. */
export function sentence({ before, after, difference }: RecountedDifference): string {
  const { lower, upper } = points(difference);
  const rates = [before, after]
    .map(({ interval }) => `${percent(interval.value, "at least")} %`)
    .join(" and ");
  return `${before.k} of ${before.n} tags read before, ${after.k} of ${after.n} after: ${rates} in the later round's mix … a loss of ${lower.replace("−", "")} to a gain of ${upper} percentage points`;
}

/** The earlier round of the shed is worth less than a single presentation, and the page says so in words. */
function worth({ before, after }: RecountedDifference): string {
  if (before.size >= 1) throw new Error("the page names a number here");
  return `the ${before.n} presentations before … less than one … the ${after.n} after about ${Math.floor(after.size)} independent`;
}

/** S. Holm (1979), Scand. J. Stat. 6, 65-70: a look's p is raised by how many are no smaller, and never below one before. */
function holm({ found }: Look, looks: Look[]): string {
  const rising = looks.map((look) => look.found.p).sort((a, b) => a - b);
  let raised = 0;
  for (const [rank, p] of rising.entries()) {
    raised = Math.max(raised, Math.min(1, p * (rising.length - rank)));
    if (p === found.p) break;
  }
  return surprise(raised);
}

const tagsOf = (rows: RawRow[]) => [...new Set(presented(rows).map(({ tag }) => tag))];

function tagsPresented(before: RawRow[], after: RawRow[]): string[] {
  const both = tagsOf(before).filter((tag) => tagsOf(after).includes(tag)).length;
  const onlyAfter = tagsOf(after).length - both;
  return [
    `${spelled(both)} tags were presented in both rounds, none only before and ${onlyAfter} only after`,
  ];
}

/** How many rows each table of the pair has. */
export function rowsOfTables({ before, after }: Shed): { changes: number; changedTags: number } {
  const [earlier, later] = [withoutVoids(before), withoutVoids(after)];
  return { changes: 1 + looksAt(earlier, later).length, changedTags: changedTags(earlier, later).length - 1 };
}

/** In the shed one tag is newly read and none newly missed, and both rounds walked under the same conditions. */
function changedTags(before: RawRow[], after: RawRow[]): string[] {
  const both = tagsOf(before).filter((tag) => tagsOf(after).includes(tag));
  const lost = missedTags(after).map(({ tag }) => tag);
  const newlyRead = missedTags(before).filter(({ tag }) => both.includes(tag) && !lost.includes(tag));
  const now = (name: string) => presented(after).filter(({ tag }) => tag === name).length;
  return [
    `Of ${spelled(both.length)} tags presented in both rounds, ${spelled(newlyRead.length)} is newly read every time`,
    ...newlyRead.map(({ tag, missed, of }) => `${tag} newly read ${missed} of ${of} none of ${now(tag)}`),
  ];
}
