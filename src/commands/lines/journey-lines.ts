import { measureCard } from "../../measures/journey/cards.ts";
import { rounded } from "../../measures/rounding.ts";
import { percent, shareText, withUnit } from "../../measures/scales.ts";
import type {
  JourneyComparison,
  JourneyFinding,
  JourneyResult,
  PlannedRuns,
} from "../../model/journey/journey-result.ts";
import { counted, countText, sentenceStart } from "../../model/number-words.ts";
import { byState } from "../../model/state.ts";
import { placedFinding } from "../../pages/journey/findings.ts";
import { journeyContext } from "../../pages/journey/journey-context.ts";
import {
  itemSentence,
  journeyVerdict,
  lostSentence,
  promiseSentences,
  rateText,
  remarkText,
} from "../../pages/journey/words.ts";
import { noArchive } from "../../pages/parts/archive.ts";
import { changeWords } from "../../pages/words/comparisons.ts";
import { findingParts, findingSentence, settleSentence } from "../../pages/words/findings.ts";
import { stateWord } from "../../pages/words/verdicts.ts";
import { aligned, plain, widestLine, wrap } from "./lines.ts";

const stateWidth = "undecided".length;

/** A journey as the terminal shows it: a line for each finding, worst first, what was lost or astray, what the walks promise, and the verdict. */
export function journeyLines(result: JourneyResult): string {
  const { names } = contextOf(result);
  const findings = [...result.findings].sort((a, b) => byState(a.state, b.state));
  const rows = aligned(
    findings.map((finding) => findingCells(finding, names.leg)),
    { right: 3 },
  );
  const optional = new Set(result.legs.filter((leg) => leg.optional).map(({ id }) => id));
  const lines = findings.flatMap((finding, i) => [rows[i]!, ...belowFinding(finding, result)]);
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

/** State, leg, what was counted, the figure, its interval, the limit. */
function findingCells(finding: JourneyFinding, legName: (id: string) => string): string[] {
  const { count, figure, interval, limit } = findingParts(placedFinding(finding));
  const leg = finding.group?.leg;
  return [
    stateWord(finding.state).padEnd(stateWidth),
    leg === undefined ? "whole chain" : legName(leg),
    count,
    figure,
    interval === "" ? "" : `(${interval})`,
    limit,
  ];
}

/** Under a finding that is not met: what was asked, and what would settle it. */
function belowFinding(finding: JourneyFinding, { criteria }: JourneyResult): string[] {
  const criterion = criteria.find(({ id }) => id === finding.criterion)!;
  const placed = placedFinding(finding);
  const isInWords = measureCard(finding.measure).words.figure !== undefined && finding.estimate.n > 0;
  const indent = " ".repeat(stateWidth + 4);
  return [
    isInWords ? findingSentence(placed, criterion) : "",
    ...(finding.state === "met" ? [] : [criterion.title, settleSentence(placed)]),
  ]
    .filter((text) => text !== "")
    .flatMap((text) => wrap(text, widestLine - indent.length))
    .map((line) => indent + line);
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
  const basis = `${counted(plan.tagsPerRun, "item", "items")} a run, ${plan.sameTags ? "the same every time" : "others each time"}; each leg is believed to see ${withUnit(shareOf(plan.expectedRate), percent)} of them.`;
  lines.push(...wrap(basis, widestLine));
  const done = `${counted(plan.runsDone, "run was", "runs were")} made`;
  lines.push(
    plan.runs === null
      ? `No number of runs will do for every finding. ${sentenceStart(done)} so far.`
      : `${counted(plan.runs, "run", "runs")} for every finding to be met in nine of ten cases; ${done} so far.`,
  );
  for (const criterion of criteria) {
    const own = plan.findings.filter((one) => one.criterion === criterion.id);
    const [first] = own;
    if (first === undefined) continue;
    const legs = own.flatMap(({ leg }) => (leg === null ? [] : [names.leg(leg)]));
    lines.push(`  ${criterion.title}${legs.length === 0 ? "" : ` (${legs.join(", ")})`}`);
    lines.push(...wrap(sizeSentence(first), widestLine - 4).map((line) => `    ${line}`));
  }
  for (const { criterion } of plan.unplanned) {
    const title = criteria.find(({ id }) => id === criterion)?.title ?? criterion;
    lines.push(...wrap(`A plan cannot size: ${title}.`, widestLine - 2).map((line) => `  ${line}`));
  }
  return lines.map((line) => `${plain(line)}\n`).join("");
}

const shareOf = (rate: number) => rounded(rate * 100, 2, "nearest").replace(/\.?0+$/, "");

function sizeSentence({ expected, limit, impossible, fewest, forChance }: PlannedRuns): string {
  if (impossible)
    return `Expected are ${shareText(Math.round(expected * 1e6), 1e6)}, which is not better than the ${withUnit(shareOf(limit), percent)} that are asked: no number of runs will do.`;
  const of = (runs: number | null) => (runs === null ? "more than anybody makes" : countText(runs));
  const least = fewest.map(
    ({ faults, runs }) =>
      `${of(runs)} with ${faults === 0 ? "no fault" : counted(faults, "fault", "faults")}`,
  );
  const chances = forChance.map(
    ({ chance, runs }) => `${of(runs)} to be met in ${countText(Math.round(chance * 10))} of 10 cases`,
  );
  return `At least ${least.join(", ")} in all. As expected: ${chances.join(", ")}.`;
}
