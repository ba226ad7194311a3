import { measures } from "../../measures/index.ts";
import type { Criterion } from "../../model/facility.ts";
import type { Finding, Result } from "../../model/result.ts";
import { remarkSentence } from "../words/findings.ts";
import type { Column } from "./csv.ts";

/** The columns of a finding. Limit and figures are in the unit that the column `unit` names. */
export function findingColumns(result: Result): Column<Finding>[] {
  const criteria = new Map(
    result.criteria.map((criterion): [string, Criterion] => [criterion.id, criterion]),
  );
  const readPoints = new Map(result.readPoints.map((readPoint) => [readPoint.id, readPoint.name]));
  return [
    { header: "criterion", cell: (finding) => finding.criterion },
    { header: "criterion_title", cell: (finding) => criteria.get(finding.criterion)?.title ?? null },
    { header: "read_point", cell: (finding) => finding.readPoint },
    { header: "read_point_name", cell: (finding) => readPoints.get(finding.readPoint) ?? null },
    { header: "round", cell: (finding) => finding.round },
    { header: "group", cell: (finding) => groupCell(finding.group) },
    { header: "state", cell: (finding) => finding.state },
    { header: "measure", cell: (finding) => finding.measure },
    { header: "sense", cell: (finding) => finding.sense },
    { header: "unit", cell: ({ measure }) => measures.get(measure).scale.csvUnit },
    { header: "limit", cell: (finding) => finding.limit },
    { header: "passes", cell: (finding) => finding.passes },
    { header: "void_passes", cell: (finding) => finding.voidPasses },
    { header: "k", cell: (finding) => finding.estimate.k },
    { header: "n", cell: (finding) => finding.estimate.n },
    { header: "value", cell: (finding) => finding.estimate.value },
    { header: "lower", cell: (finding) => finding.estimate.lower },
    { header: "upper", cell: (finding) => finding.estimate.upper },
    { header: "effective_n", cell: (finding) => finding.estimate.effectiveN },
    { header: "design_effect", cell: (finding) => finding.estimate.designEffect },
    { header: "confidence_fraction", cell: (finding) => finding.estimate.confidence },
    { header: "method", cell: (finding) => finding.estimate.method },
    { header: "with_voids_k", cell: (finding) => finding.withVoids?.k ?? null },
    { header: "with_voids_n", cell: (finding) => finding.withVoids?.n ?? null },
    { header: "with_voids_value", cell: (finding) => finding.withVoids?.value ?? null },
    { header: "with_voids_lower", cell: (finding) => finding.withVoids?.lower ?? null },
    { header: "with_voids_upper", cell: (finding) => finding.withVoids?.upper ?? null },
    { header: "to_settle_unit", cell: settleUnit },
    { header: "to_settle_further", cell: settleFurther },
    { header: "to_settle_retune", cell: settleRetune },
    { header: "concession_granted_by", cell: (finding) => finding.concession?.grantedBy ?? null },
    { header: "concession_on", cell: (finding) => finding.concession?.on ?? null },
    { header: "concession_until", cell: (finding) => finding.concession?.until ?? null },
    {
      header: "concession_expired",
      cell: (finding) => (finding.concession === null ? null : yesOrNo(finding.concession.expired)),
    },
    { header: "concession_reason", cell: (finding) => finding.concession?.reason ?? null },
    {
      header: "remarks",
      cell: (finding) =>
        finding.remarks.map((remark) => remarkSentence(remark, result.rounds)).join(" ") || null,
    },
  ];
}

export function groupCell(group: Record<string, string> | null): string | null {
  if (group === null) return null;
  return Object.entries(group)
    .map(([column, value]) => `${column}: ${value}`)
    .join("; ");
}

function settleUnit({ toSettle }: Finding): string | null {
  if (toSettle === null) return null;
  return "unit" in toSettle ? `${toSettle.unit} without a fault` : "passes";
}

function settleFurther({ toSettle }: Finding): number | null {
  if (toSettle === null) return null;
  return "unit" in toSettle ? toSettle.furtherWithoutMiss : toSettle.furtherPasses;
}

function settleRetune({ toSettle }: Finding): string | null {
  return toSettle !== null && "retune" in toSettle ? yesOrNo(toSettle.retune) : null;
}

function yesOrNo(value: boolean): string {
  return value ? "yes" : "no";
}
