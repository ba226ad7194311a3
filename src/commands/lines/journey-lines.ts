import { measureCard } from "../../measures/journey/cards.ts";
import type { JourneyFinding, JourneyResult } from "../../model/journey/journey-result.ts";
import { counted, nonEmpty } from "../../model/number-words.ts";
import { byState } from "../../model/state.ts";
import { comparedName, comparedRounds, differenceText } from "../../pages/journey/changes.ts";
import { placedFinding } from "../../pages/journey/findings.ts";
import { journeyNames } from "../../pages/journey/journey-context.ts";
import { planTexts } from "../../pages/journey/plan-words.ts";
import {
  itemSentence,
  journeyVerdict,
  lateSentence,
  lostSentence,
  promiseSentences,
  rateText,
  remarkText,
} from "../../pages/journey/words.ts";
import { changeWords } from "../../pages/words/comparisons.ts";
import { findingSentence, settleSentence } from "../../pages/words/findings.ts";
import { findingCells, findingLines } from "./finding-lines.ts";
import { aligned, plain, widestLine, wrap } from "./text.ts";

/** A journey as the terminal shows it: a line for each finding, worst first, what was lost or astray, what the walks promise, and the verdict. */
export function journeyLines(result: JourneyResult): string {
  const names = journeyNames(result);
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
  const said = nonEmpty([
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
  ]);
  const title = `${result.title}, ${names.round(result.signOffRound)}`;
  return [title, ...lines, ...said.flatMap((text) => wrap(text, widestLine))]
    .map((line) => `${plain(line)}\n`)
    .join("");
}

/** Items that are named in the terminal: the pages name them all. */
const itemsShown = 5;

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
  const names = journeyNames(result);
  const lines = [`${result.title}: before and after`];
  if (result.comparisons.length === 0)
    lines.push("  There is only one round, so there is nothing to compare.");
  for (const { title, rates } of comparedRounds(result, names)) {
    const cells = rates.map((rate) => [
      changeWords[rate.change],
      comparedName(rate, names),
      rateText(rate.estimates.before),
      rateText(rate.estimates.after),
      differenceText(rate),
    ]);
    lines.push(title, ...aligned(cells));
  }
  return lines.map((line) => `${plain(line)}\n`).join("");
}

/** A journey's plan: how many runs each criterion takes; null without a plan. */
export function planJourneyLines(result: JourneyResult): string | null {
  const { plan } = result;
  if (plan === null) return null;
  const names = journeyNames(result);
  const { basis, needed, criteria } = planTexts(plan, result, names);
  const lines = [`${result.title}: how many runs to make`, ...wrap(`${basis} ${needed}`, widestLine)];
  for (const { title, sentence } of criteria)
    lines.push(`  ${title}`, ...wrap(sentence, widestLine - 4).map((line) => `    ${line}`));
  return lines.map((line) => `${plain(line)}\n`).join("");
}
