import type { Criterion } from "../../model/facility.ts";
import {
  countedInWords,
  countText,
  sentenceStart,
  statedNumber,
  thinSpace,
} from "../../model/number-words.ts";
import type { PlannedFinding, PlanResult } from "../../model/plan.ts";
import type { Result } from "../../model/result.ts";
import { numberCell, type TableView, textCell } from "../figure-view.ts";
import { limitOf } from "../words/findings.ts";
import { criterionPlaces } from "../words/plans.ts";

/** What one criterion takes: the same at every read point and in every group, so it is told once. */
export interface CriterionSize {
  criterion: Criterion;
  /** Those of its findings that passes of the plan count for. */
  findings: PlannedFinding[];
  /** Any of them stands for the sizes of all. */
  size: PlannedFinding;
  /** Findings that nothing that is planned counts for. */
  uncounted: PlannedFinding[];
}

/** By criterion, in the order of facility.yaml; criteria of read points that are not planned are left out. */
export function criterionSizes(plan: PlanResult, criteria: Criterion[]): CriterionSize[] {
  return criteria.flatMap((criterion) => {
    const own = plan.findings.filter((finding) => finding.criterion === criterion.id);
    const [size] = own;
    if (size === undefined) return [];
    return [
      {
        criterion,
        size,
        findings: own.filter(({ cells }) => cells > 0),
        uncounted: own.filter(({ cells }) => cells === 0),
      },
    ];
  });
}

/** How many passes each criterion takes, without a fault, with a few, and to be likely to end in met. */
export function sizesTable(sizes: CriterionSize[], result: Result): TableView {
  const [first] = sizes;
  const chances = first === undefined ? [] : first.size.forChance.map(({ chance }) => chance);
  const faults = first === undefined ? [] : first.size.fewest.map((one) => one.faults);
  return {
    caption: "Fewest passes with so many faults, and passes that are likely to end in met",
    columns: [
      { label: "Criterion", numeric: false },
      { label: "Limit", numeric: true },
      ...faults.map((count) => ({ label: faultHeading(count), numeric: true })),
      ...chances.map((chance) => ({
        label: `Met in ${statedNumber(chance * 100)}${thinSpace}% of walks`,
        numeric: true,
      })),
    ],
    rows: sizes.map(({ criterion, size, findings }) => [
      textCell(criterion.title, criterionPlaces(findings, result, result.plan?.walks.length)),
      numberCell(limitOf(size)),
      ...size.fewest.map(({ passes }) => numberCell(passes === null ? "none" : countText(passes))),
      ...size.forChance.map(({ passes }) => numberCell(passes === null ? "none" : countText(passes), true)),
    ]),
  };
}

function faultHeading(faults: number): string {
  return sentenceStart(countedInWords(faults, "fault", faults === 0 ? "fault" : "faults"));
}
