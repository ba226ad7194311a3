import type { Criterion } from "../../model/facility.ts";
import { countedInWords, sentenceStart, statedPercent } from "../../model/number-words.ts";
import type { PlannedFinding, PlanResult } from "../../model/result/plan.ts";
import type { Result } from "../../model/result/result.ts";
import { countColumn } from "../parts/columns.ts";
import type { Column } from "../parts/figure.ts";
import { limitOf } from "../words/findings.ts";
import { criterionPlaces } from "../words/plans.ts";

/** The size of one criterion: the same at every read point and in every group. */
export interface CriterionSize {
  criterion: Criterion;
  /** Its findings that passes of the plan count for. */
  findings: PlannedFinding[];
  /** All of them have the same sizes. */
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

/** The passes that each criterion needs: without a fault, with a few, and for a given chance of met. */
export function sizeColumns(sizes: CriterionSize[], result: Result): Column<CriterionSize>[] {
  const [first] = sizes;
  const faults = first?.size.fewest.map((one) => one.faults) ?? [];
  const chances = first?.size.forChance.map(({ chance }) => chance) ?? [];
  // One finding alone is met as often as all of them.
  const together = (result.plan?.findingsTogether ?? 0) < 2 ? [] : chances;
  return [
    { header: "criterion", value: ({ criterion }) => criterion.id },
    {
      label: "Criterion",
      text: ({ criterion, findings }) => ({
        text: criterion.title,
        detail: criterionPlaces(findings, result, result.plan?.walks.length),
      }),
    },
    { header: "sense", value: ({ size }) => size.sense },
    {
      header: "limit_fraction",
      value: ({ size }) => size.limit,
      label: "Limit",
      text: ({ size }) => limitOf(size),
      as: "number",
    },
    { header: "expected_fraction", value: ({ size }) => size.expected },
    { header: "unit", value: ({ size }) => size.unit },
    ...faults.map((faults) => faultsColumn(faults)),
    ...chances.map((chance) => chanceColumn(chance)),
    ...together.map((chance) => allMetColumn(chance, result.plan!.findingsTogether)),
    { header: "passes_if_same_tags", value: ({ size }) => size.fewestSameTags },
    { header: "wrong_sign_off_fraction", value: ({ size }) => size.risk?.wrongSignOff.chance ?? null },
    { header: "wrong_refusal_fraction", value: ({ size }) => size.risk?.wrongRefusal.chance ?? null },
  ];
}

function faultsColumn(faults: number): Column<CriterionSize> {
  return countColumn(
    {
      header: `passes_with_${faults}_faults`,
      label: sentenceStart(countedInWords(faults, "fault", faults === 0 ? "fault" : "faults")),
      none: "none",
    },
    ({ size }) => size.fewest.find((one) => one.faults === faults)?.passes ?? null,
  );
}

function chanceColumn(chance: number): Column<CriterionSize> {
  return countColumn(
    {
      header: `passes_for_chance_${chance}`,
      label: `“Met” in ${statedPercent(chance)} of walks`,
      as: "strong number",
      none: "none",
    },
    ({ size }) => size.forChance.find((one) => one.chance === chance)?.passes ?? null,
  );
}

function allMetColumn(chance: number, findings: number): Column<CriterionSize> {
  return countColumn(
    {
      header: `passes_for_all_met_chance_${chance}`,
      label: `All ${findings} “met” in ${statedPercent(chance)}`,
      none: "none",
    },
    ({ size }) => size.forAll.find((one) => one.chance === chance)?.passes ?? null,
  );
}
