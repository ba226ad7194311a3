import { measureCard } from "../../measures/journey/cards.ts";
import { passUnit, type WalkedUnit } from "../../measures/measure.ts";
import { counted, countText, sentenceStart } from "../../model/number-words.ts";
import type { Finding } from "../../model/result/finding.ts";
import type { Result } from "../../model/result/result.ts";
import { limitOf, printedFigures, remarkSentence, shortCount, tagCount } from "../words/findings.ts";
import { yesOrNo } from "./columns.ts";
import type { Column } from "./figure.ts";
import { criterionOf, type Names } from "./names.ts";
import { shownConcession, stateMark } from "./state-mark.ts";

/** How a finding is named in a table on a page. */
export interface FindingName {
  label(finding: Finding): string;
  detail(finding: Finding): string;
}

/** What names the criteria, rounds and places of findings. */
interface Named {
  result: Pick<Result, "criteria" | "rounds">;
  names: Pick<Names, "readPoint">;
  /** What was made so that there is something to count; passes where left out. */
  walked?: WalkedUnit;
}

/** The columns of a finding. Limit and figures are in the unit that the column `unit` names. */
export function findingColumns(facility: Named, name: FindingName): Column<Finding>[] {
  return [...nameColumns(facility, name), ...figureColumns(facility), ...laterColumns(facility)];
}

function nameColumns({ result, names }: Named, { label, detail }: FindingName): Column<Finding>[] {
  return [
    {
      label: "Finding",
      text: (finding) => ({
        text: label(finding),
        detail: detail(finding) === label(finding) ? "" : detail(finding),
      }),
    },
    { header: "criterion", value: ({ criterion }) => criterion },
    { header: "criterion_title", value: ({ criterion }) => criterionOf(result, criterion)?.title ?? null },
    { header: "read_point", value: ({ readPoint }) => readPoint },
    { header: "read_point_name", value: ({ readPoint }) => names.readPoint(readPoint) },
    { header: "round", value: ({ round }) => round },
    { header: "group", value: ({ group }) => groupCell(group) },
    {
      header: "state",
      value: ({ state }) => state,
      label: "State",
      text: (finding) => {
        const mark = stateMark(finding.state, shownConcession(finding));
        return { text: mark.word, mark };
      },
    },
  ];
}

const figureColumns = ({ walked = passUnit }: Named): Column<Finding>[] => [
  { header: "measure", value: ({ measure }) => measure },
  { header: "sense", value: ({ sense }) => sense },
  { header: "unit", value: ({ measure }) => measureCard(measure).scale.csvUnit },
  { header: "limit", value: ({ limit }) => limit },
  {
    header: "passes",
    value: ({ passes }) => passes,
    label: sentenceStart(walked.many),
    text: passesText,
    as: "number",
  },
  { header: "void_passes", value: ({ voidPasses }) => voidPasses },
  {
    header: "different_tags",
    value: ({ tags }) => tags,
    label: "Count",
    text: (finding) => ({ text: shortCount(finding), detail: tagCount(finding) }),
    as: "number",
  },
  { header: "k", value: ({ estimate }) => estimate.k },
  { header: "n", value: ({ estimate }) => estimate.n },
  { header: "value", value: ({ estimate }) => estimate.value },
  {
    header: "lower",
    value: ({ estimate }) => estimate.lower,
    label: "Lower",
    text: (finding) => printedFigures(finding, finding.estimate).lower,
    as: "number",
  },
  {
    label: "Value",
    text: (finding) => printedFigures(finding, finding.estimate).value,
    as: "strong number",
  },
  {
    header: "upper",
    value: ({ estimate }) => estimate.upper,
    label: "Upper",
    text: (finding) => printedFigures(finding, finding.estimate).upper,
    as: "number",
  },
  { header: "effective_n", value: ({ estimate }) => estimate.effectiveN },
  { header: "design_effect", value: ({ estimate }) => estimate.designEffect },
  { header: "confidence_fraction", value: ({ estimate }) => estimate.confidence },
  { header: "method", value: ({ estimate }) => estimate.method },
  ...(["k", "n", "value", "lower", "upper"] as const).map(
    (figure): Column<Finding> => ({
      header: `with_voids_${figure}`,
      value: ({ withVoids }) => withVoids?.[figure] ?? null,
    }),
  ),
];

/** What would settle a finding, its concession and remarks, and on the page its limit at the end of the row. */
function laterColumns({ result }: Named): Column<Finding>[] {
  return [
    { header: "to_settle_unit", value: settleUnit },
    { header: "to_settle_further", value: settleFurther },
    { header: "to_settle_chance", value: settleChance },
    { header: "to_settle_retune", value: settleRetune },
    { header: "stricter_state", value: ({ stricter }) => stricter?.state ?? null },
    { header: "unseen_pass_share", value: ({ unseen }) => unseen?.passes.share ?? null },
    { header: "unseen_tag_share", value: ({ unseen }) => unseen?.tags?.share ?? null },
    { header: "concession_granted_by", value: ({ concession }) => concession?.grantedBy ?? null },
    { header: "concession_on", value: ({ concession }) => concession?.on ?? null },
    { header: "concession_until", value: ({ concession }) => concession?.until ?? null },
    {
      header: "concession_expired",
      value: ({ concession }) => (concession === null ? null : yesOrNo(concession.expired)),
    },
    { header: "concession_reason", value: ({ concession }) => concession?.reason ?? null },
    {
      header: "remarks",
      value: ({ measure, remarks }) =>
        remarks
          .map((remark) => remarkSentence(remark, result.rounds, measureCard(measure).walked))
          .join(" ") || null,
    },
    {
      label: "Limit",
      text: limitOf,
      as: "number",
    },
  ];
}

/** A number alone is one of passes. */
function passesText({ passes, measure }: Finding): string {
  const { one, many } = measureCard(measure).besidePasses?.passes ?? passUnit;
  return one === "pass" ? countText(passes) : counted(passes, one, many);
}

export function groupCell(group: Record<string, string> | null): string | null {
  if (group === null) return null;
  return Object.entries(group)
    .map(([column, value]) => `${column}: ${value}`)
    .join("; ");
}

function settleUnit({ toSettle, measure }: Finding): string | null {
  if (toSettle === null) return null;
  if ("furtherMinutes" in toSettle) return "idle minutes";
  if ("furtherPowers" in toSettle) return "powers";
  if (!("unit" in toSettle)) return "passes";
  return measureCard(measure).besidePasses?.settlingUnit ?? `${toSettle.unit} without a fault`;
}

function settleFurther({ toSettle }: Finding): number | null {
  if (toSettle === null) return null;
  if ("furtherMinutes" in toSettle) return toSettle.furtherMinutes;
  if ("furtherPowers" in toSettle) return toSettle.furtherPowers;
  return "unit" in toSettle ? toSettle.furtherWithoutMiss : toSettle.furtherPasses;
}

function settleChance({ toSettle }: Finding): number | null {
  return toSettle !== null && "chance" in toSettle ? toSettle.chance : null;
}

function settleRetune({ toSettle }: Finding): string | null {
  return toSettle !== null && "retune" in toSettle ? yesOrNo(toSettle.retune) : null;
}
