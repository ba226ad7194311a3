import { nonEmpty } from "../../model/number-words.ts";
import type { PlannedRoute, PlanResult } from "../../model/result/plan.ts";
import type { Result } from "../../model/result/result.ts";
import { namesOf } from "../../pages/parts/names.ts";
import { type CriterionSize, criterionSizes } from "../../pages/plan/sizes.ts";
import {
  criterionPlaces,
  planBasisSentence,
  readPointPlanSentence,
  sizeSentences,
  twoRoundsCaution,
  twoRoundsSentence,
  uncountedSentence,
  unplannedSentence,
  wrongSignOffSentence,
} from "../../pages/words/plans.ts";
import { anyPlanned, cellStates, cellText, cellWord, walkedSentence } from "../../pages/words/walks.ts";
import { plain, widestLine, wrap } from "./text.ts";

/** A facility's plan as the terminal shows it: planned against done at each read point, then what each criterion takes; null without a plan. */
export function planLines(result: Result): string | null {
  const { plan } = result;
  if (plan === null) return null;
  const lines = [`${result.facility.name}: how much to walk`, ...wrap(planBasisSentence(plan), widestLine)];
  for (const route of plan.walks) lines.push(...routeLines(route, plan, result));
  const sizes = criterionSizes(plan, result.criteria);
  if (sizes.length > 0) lines.push("What a finding takes");
  for (const size of sizes) lines.push(...sizeLines(size, plan, result));
  const rounds = twoRoundsSentence(plan);
  if (rounds !== "") {
    lines.push("What telling two rounds apart takes");
    lines.push(...wrap(`${rounds} ${twoRoundsCaution}`, widestLine - 2).map((line) => `  ${line}`));
  }
  const unplanned = unplannedSentence(plan);
  if (unplanned !== "") lines.push(...wrap(unplanned, widestLine));
  return lines.map((line) => `${plain(line)}\n`).join("");
}

function routeLines({ readPoint, cells }: PlannedRoute, plan: PlanResult, result: Result): string[] {
  const name = namesOf(result).readPoint(readPoint);
  const planned = plan.readPoints.find((entry) => entry.readPoint === readPoint)!;
  const walked = anyPlanned(cells) ? ` ${walkedSentence(cells)}` : "";
  const lines = wrap(`${name}: ${readPointPlanSentence(planned)}${walked}`, widestLine);
  const asked = cells
    .filter(({ state }) => state !== "not-asked")
    .toSorted((a, b) => cellStates.indexOf(a.state) - cellStates.indexOf(b.state));
  // One line for all says enough where they are planned alike and nothing of them was walked, or everything.
  const alike = new Set(asked.map(({ planned: passes, state }) => `${passes} ${state}`)).size < 2;
  if (alike && asked.every(({ state }) => state !== "short")) return lines;
  const counts = asked.map((cell) => `${cell.done} of ${cell.planned ?? "none"}`);
  const widest = Math.max(...counts.map((count) => count.length));
  return [
    ...lines,
    ...asked.map((cell, i) => {
      const state = cellWord(cell.state).padEnd(12);
      return `  ${state}  ${counts[i]!.padStart(widest)}  ${cellText(cell.conditions, result.conditions)}`;
    }),
  ];
}

/** Told once for all read points and groups of a criterion, since it takes the same at each. */
function sizeLines(entry: CriterionSize, plan: PlanResult, result: Result): string[] {
  const { criterion, size, findings, uncounted } = entry;
  const head = [criterion.title, criterionPlaces(findings, result, plan.walks.length)].filter(
    (part) => part !== "",
  );
  const text = findings.length === 0 ? [] : [...sizeSentences(size, plan), wrongSignOffSentence(size)];
  const sentences = nonEmpty([...text, uncountedSentence(uncounted, result)]);
  return [
    ...wrap(head.join(". "), widestLine - 2).map((line) => `  ${line}`),
    ...wrap(sentences.join(" "), widestLine - 4).map((line) => `    ${line}`),
  ];
}
