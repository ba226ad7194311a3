import type { FacilityPlan, PlannedFinding } from "../analysis/plan/make-plan.ts";
import type { Facility } from "../intake/facility.ts";
import { groupText, valueText } from "../pages/words/groups.ts";
import {
  planBasisSentence,
  readPointPlanSentence,
  sameTagsSentence,
  sizeSentence,
  unplannedSentence,
  wrongSignOffSentence,
} from "../pages/words/plan-sentence.ts";
import { plain, wrap } from "./lines.ts";

const widestLine = 110;

/** A facility's plan as the terminal shows it: what each finding takes, then what each read point comes to. */
export function planLines(plan: FacilityPlan, facility: Facility): string {
  const lines = [`${facility.name}: how much to walk`, ...wrap(planBasisSentence(plan), widestLine)];
  for (const readPoint of plan.readPoints) {
    const name =
      facility.readPoints.find(({ id }) => id === readPoint.readPoint)?.name ?? readPoint.readPoint;
    lines.push(...wrap(`${name}: ${readPointPlanSentence(readPoint)}`, widestLine));
    const uneven = new Set(readPoint.cells.map((cell) => cell.passes)).size > 1;
    for (const cell of uneven ? readPoint.cells : []) {
      if (cell.passes === null || cell.passes === 0) continue;
      const values = Object.entries(cell.conditions).map(([column, value]) =>
        valueText(
          value,
          facility.conditions.find((one) => one.column === column),
        ),
      );
      lines.push(`  ${String(cell.passes).padStart(5)}  ${values.join(", ")}`);
    }
    for (const finding of plan.findings.filter((one) => one.readPoint === readPoint.readPoint))
      lines.push(...findingLines(finding, plan, facility));
  }
  const unplanned = unplannedSentence(plan);
  if (unplanned !== "") lines.push(...wrap(unplanned, widestLine));
  return lines.map((line) => `${plain(line)}\n`).join("");
}

function findingLines(finding: PlannedFinding, plan: FacilityPlan, facility: Facility): string[] {
  const title = facility.criteria.find(({ id }) => id === finding.criterion)?.title ?? finding.criterion;
  const group = groupText(finding.group, facility.conditions);
  const head = [title, group].filter((part) => part !== "").join(". ");
  const text =
    finding.cells === 0
      ? "Nothing that is planned counts for it: it would stay untested."
      : [sizeSentence(finding), sameTagsSentence(finding, plan), wrongSignOffSentence(finding)]
          .filter((part) => part !== "")
          .join(" ");
  return [
    ...wrap(head, widestLine - 2).map((line) => `  ${line}`),
    ...wrap(text, widestLine - 4).map((line) => `    ${line}`),
  ];
}
