import { measureCard } from "../../measures/journey/cards.ts";
import { journeyMeasures } from "../../measures/journey/index.ts";
import { rounded } from "../../measures/rounding.ts";
import { percent, shareText, withUnit } from "../../measures/scales.ts";
import type {
  JourneyComparison,
  JourneyFinding,
  JourneyPlanResult,
  JourneyResult,
  PlannedRuns,
  UnplannedRuns,
} from "../../model/journey/journey-result.ts";
import { counted, countText, joined } from "../../model/number-words.ts";
import { byState } from "../../model/state.ts";
import { placedFinding } from "../../pages/journey/findings.ts";
import { journeyContext } from "../../pages/journey/journey-context.ts";
import {
  itemSentence,
  journeyVerdict,
  lateSentence,
  lostSentence,
  promiseSentences,
  rateText,
  remarkText,
} from "../../pages/journey/words.ts";
import { noArchive } from "../../pages/parts/archive.ts";
import { changeWords } from "../../pages/words/comparisons.ts";
import { findingSentence, settleSentence } from "../../pages/words/findings.ts";
import { findingCells, findingLines } from "./finding-lines.ts";
import { aligned, plain, widestLine, wrap } from "./text.ts";

/** A journey as the terminal shows it: a line for each finding, worst first, what was lost or astray, what the walks promise, and the verdict. */
export function journeyLines(result: JourneyResult): string {
  const { names } = contextOf(result);
  const optional = new Set(result.legs.filter((leg) => leg.optional).map(({ id }) => id));
  const legName = (id: string) => `${names.leg(id)}${optional.has(id) ? " (optional)" : ""}`;
  const findings = [...result.findings].sort((a, b) => byState(a.state, b.state));
  const lines = findingLines(
    findings.map((finding) => {
      const leg = finding.group?.leg;
      const where = leg === undefined ? "whole chain" : legName(leg);
      return { cells: findingCells(placedFinding(finding), where), below: belowFinding(finding, result) };
    }),
  );
  const lost = result.lost.slice(0, itemsShown).map(({ item, lastSeen }) => {
    const own = result.items[item]!;
    const last = lastSeen === null ? "Never seen." : `Last seen at ${names.place(lastSeen)}.`;
    return `${own.tag} on run ${own.run}: ${itemSentence(own, optional, names)} ${last}`;
  });
  const more = result.lost.length - lost.length;
  const astray = result.wrongPlaces.slice(0, itemsShown).map((place) => {
    const { tag, run } = result.items[place.item]!;
    return `${tag} on run ${run} was seen where it was not sent: ${names.place(place)}.`;
  });
  const moreAstray = result.wrongPlaces.length - astray.length;
  const said = [
    journeyVerdict(result),
    result.items.length === 0 ? "" : lostSentence(result),
    result.legs.some(({ late }) => late > 0) ? lateSentence(result, names) : "",
    ...lost,
    more > 0 ? `and ${counted(more, "more", "more")}.` : "",
    ...astray,
    moreAstray > 0 ? `and ${counted(moreAstray, "more", "more")} seen where they were not sent.` : "",
    ...promiseSentences(result, names),
    // The sentences on what the walks promise say these two already.
    ...result.remarks
      .filter(({ code }) => code !== "outside-bounds" && code !== "not-walked")
      .map((remark) => remarkText(remark, names)),
  ].filter((text) => text !== "");
  const title = `${result.title}, ${names.round(result.signOffRound)}`;
  return [title, ...lines, ...said.flatMap((text) => wrap(text, widestLine))]
    .map((line) => `${plain(line)}\n`)
    .join("");
}

/** Items that are named in the terminal: the pages name them all. */
const itemsShown = 5;

function contextOf(result: JourneyResult) {
  return journeyContext(result, { archive: noArchive, readPointPage: () => null });
}

/** Under a finding that is not met: what was asked, and what would settle it. */
function belowFinding(finding: JourneyFinding, { criteria }: JourneyResult): string[] {
  const criterion = criteria.find(({ id }) => id === finding.criterion)!;
  const placed = placedFinding(finding);
  const isInWords = measureCard(finding.measure).words.figure !== undefined && finding.estimate.n > 0;
  return [
    isInWords ? findingSentence(placed, criterion) : "",
    ...(finding.state === "met" ? [] : [criterion.title, settleSentence(placed)]),
  ];
}

/** The rounds of a journey compared: for each pair what became of each rate, the worst first. */
export function compareJourneyLines(result: JourneyResult): string {
  const { names } = contextOf(result);
  const lines = [`${result.title}: before and after`];
  if (result.comparisons.length === 0)
    lines.push("  There is only one round, so there is nothing to compare.");
  const pairs = new Map<string, JourneyComparison[]>();
  for (const one of result.comparisons) {
    const key = `${names.round(one.before)} to ${names.round(one.after)}`;
    pairs.set(key, [...(pairs.get(key) ?? []), one]);
  }
  for (const [title, own] of pairs) {
    lines.push(title);
    const cells = own.map(({ measure, leg, change, estimates, difference }) => [
      changeWords[change],
      leg === null ? measureCard(measure).title : `${measureCard(measure).title}: ${names.leg(leg)}`,
      rateText(estimates.before),
      rateText(estimates.after),
      difference === null
        ? ""
        : `${points(difference.value)} points (${points(difference.lower)} to ${points(difference.upper)})`,
    ]);
    lines.push(...aligned(cells));
  }
  return lines.map((line) => `${plain(line)}\n`).join("");
}

function points(difference: number): string {
  const text = rounded(difference * 100, 1, "nearest");
  return difference > 0 ? `+${text}` : text;
}

/** A journey's plan: how many runs each criterion takes; null without a plan. */
export function planJourneyLines(result: JourneyResult): string | null {
  const { plan, criteria } = result;
  if (plan === null) return null;
  const { names } = contextOf(result);
  const lines = [`${result.title}: how many runs to make`];
  const basis = `${counted(plan.tagsPerRun, "item", "items")} a run, ${plan.sameTags ? "the same every time" : "others each time"}; each leg is believed to see ${shareWithUnit(plan.expectedRate)} of them${plan.expectedOrderRate === null ? "" : `, and ${shareWithUnit(plan.expectedOrderRate)} to be seen in order`}.`;
  lines.push(...wrap(basis, widestLine));
  lines.push(
    ...wrap(
      `${neededSentence(plan)} ${counted(plan.runsDone, "run was", "runs were")} made so far.`,
      widestLine,
    ),
  );
  const add = (title: string, sentence: string) =>
    lines.push(`  ${title}`, ...wrap(sentence, widestLine - 4).map((line) => `    ${line}`));
  for (const criterion of criteria) {
    const own = plan.findings.filter((one) => one.criterion === criterion.id);
    const legs = own.flatMap(({ leg }) => (leg === null ? [] : [names.leg(leg)]));
    const [first] = own;
    if (first !== undefined)
      add(`${criterion.title}${legs.length === 0 ? "" : ` (${legs.join(", ")})`}`, sizeSentence(first));
    const unplanned = plan.unplanned.find((one) => one.criterion === criterion.id);
    if (unplanned !== undefined) add(criterion.title, unplannedSentences(unplanned, plan));
  }
  return lines.map((line) => `${plain(line)}\n`).join("");
}

const shareWithUnit = (rate: number) => withUnit(shareOf(rate), percent);

const shareOf = (rate: number) => rounded(rate * 100, 2, "nearest").replace(/\.?0+$/, "");

function sizeSentence({ expected, limit, impossible, fewest, forChance }: PlannedRuns): string {
  if (impossible)
    return `Expected are ${shareText(Math.round(expected * 1e6), 1e6)}, which is not better than the ${shareWithUnit(limit)} that are asked: no number of runs will do.`;
  const chances = forChance.map(({ chance, runs }) => `${runsText(runs)} to be met in ${casesText(chance)}`);
  return `${fewestText(fewest)}. As expected: ${chances.join(", ")}.`;
}

/** How many runs they are all met with. */
function neededSentence({ runs, forAll, unplanned }: JourneyPlanResult): string {
  if (runs === null) return "No number of runs will do for every finding.";
  const needed = counted(runs, "run", "runs");
  const [last] = forAll.slice(-1);
  if (last === undefined) return `${needed} for every finding to be met if nothing is at fault.`;
  const together = `to be met together in ${casesText(last.chance)}`;
  return unplanned.length === 0
    ? `${needed} for all findings ${together}.`
    : `${needed} for the findings whose chance is told ${together}, and for the others to be met if nothing is at fault.`;
}

/** What it takes where the plan does not tell how often that will do, and why it does not. */
function unplannedSentences(
  { measure, unit, trialsPerRun, fewest }: UnplannedRuns,
  { tagsPerRun }: JourneyPlanResult,
): string {
  const { withoutExpected = "" } = journeyMeasures.get(measure).plan;
  if (unit === "items") return `${fewestText(fewest)}. ${withoutExpected}`;
  const legs = trialsPerRun / tagsPerRun;
  const seenOn = legs === 1 ? "once" : `once on each of ${countText(legs)} legs`;
  const sightings = joined(fewest.map(({ trials }) => runsText(trials)));
  return `${fewestText(fewest)}: ${sightings} sightings, if each item of a run is seen ${seenOn} and each sighting tells when the site knew. ${withoutExpected}`;
}

function fewestText(fewest: PlannedRuns["fewest"]): string {
  const least = fewest.map(
    ({ faults, runs }) =>
      `${runsText(runs)} with ${faults === 0 ? "no fault" : counted(faults, "fault", "faults")}`,
  );
  return `At least ${least.join(", ")} in all`;
}

const runsText = (runs: number | null) => (runs === null ? "more than anybody makes" : countText(runs));

const casesText = (chance: number) => `${countText(Math.round(chance * 10))} of 10 cases`;
