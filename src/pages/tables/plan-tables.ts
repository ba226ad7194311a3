import type { CellOfPlan, PlannedFinding, PlannedRoute, PlanResult, RiskPoint } from "../../model/plan.ts";
import type { Result } from "../../model/result.ts";
import { type CriterionSize, criterionSizes } from "../plan/plan-sizes.ts";
import { type Table, table } from "./table.ts";

/** The tables behind the page on how much to walk; none where nothing is planned. */
export function planTables(result: Result): Table[] {
  const { plan } = result;
  if (plan === null) return [];
  const sizes = criterionSizes(plan, result.criteria);
  return [walkedTable(plan), sizesTable(sizes), riskTable(sizes)];
}

function walkedTable(plan: PlanResult): Table {
  type Row = { route: PlannedRoute; cell: CellOfPlan };
  const columns = [...new Set(plan.walks.flatMap(({ cells }) => Object.keys(cells[0]?.conditions ?? {})))];
  return table<Row>(
    "plan-walked.csv",
    "Every planned combination of conditions at every read point: passes planned and done, tags planned and presented.",
    [
      { header: "read_point", cell: ({ route }) => route.readPoint },
      { header: "round", cell: ({ route }) => route.round },
      ...columns.map((column) => ({
        header: column,
        cell: ({ cell }: Row) => cell.conditions[column] ?? null,
      })),
      { header: "state", cell: ({ cell }) => cell.state },
      { header: "passes_planned", cell: ({ cell }) => cell.planned },
      { header: "passes_done", cell: ({ cell }) => cell.done },
      {
        header: "tags_wanted",
        cell: ({ cell }) => (cell.planned === null ? null : cell.planned * plan.tagsPerPass),
      },
      { header: "tags_presented", cell: ({ cell }) => cell.tagsDone },
    ],
    plan.walks.flatMap((route) => route.cells.map((cell) => ({ route, cell }))),
  );
}

function sizesTable(sizes: CriterionSize[]): Table {
  const faults = sizes[0]?.size.fewest.map((one) => one.faults) ?? [];
  const chances = sizes[0]?.size.forChance.map(({ chance }) => chance) ?? [];
  const sizeOf = (size: PlannedFinding, count: number) =>
    size.fewest.find((one) => one.faults === count)?.passes ?? null;
  return table<CriterionSize>(
    "plan-sizes.csv",
    "How many passes a finding of each criterion needs: by faults, and by the probability of met.",
    [
      { header: "criterion", cell: ({ criterion }) => criterion.id },
      { header: "sense", cell: ({ size }) => size.sense },
      { header: "limit_fraction", cell: ({ size }) => size.limit },
      { header: "expected_fraction", cell: ({ size }) => size.expected },
      { header: "unit", cell: ({ size }) => size.unit },
      ...faults.map((count) => ({
        header: `passes_with_${count}_faults`,
        cell: ({ size }: CriterionSize) => sizeOf(size, count),
      })),
      ...chances.map((chance) => ({
        header: `passes_for_chance_${chance}`,
        cell: ({ size }: CriterionSize) =>
          size.forChance.find((one) => one.chance === chance)?.passes ?? null,
      })),
      { header: "passes_if_same_tags", cell: ({ size }) => size.fewestSameTags },
      { header: "wrong_sign_off_fraction", cell: ({ size }) => size.risk?.wrongSignOff.chance ?? null },
      { header: "wrong_refusal_fraction", cell: ({ size }) => size.risk?.wrongRefusal.chance ?? null },
    ],
    sizes,
  );
}

function riskTable(sizes: CriterionSize[]): Table {
  type Row = { criterion: string; passes: number; point: RiskPoint };
  return table<Row>(
    "plan-risk.csv",
    "The probability of each state by the true rate, for a walk of the planned length.",
    [
      { header: "criterion", cell: ({ criterion }) => criterion },
      { header: "passes", cell: ({ passes }) => passes },
      { header: "true_rate_fraction", cell: ({ point }) => point.rate },
      { header: "met_fraction", cell: ({ point }) => point.met },
      { header: "undecided_fraction", cell: ({ point }) => point.undecided },
      { header: "not_met_fraction", cell: ({ point }) => point.notMet },
      { header: "layouts", cell: ({ point }) => point.layouts },
    ],
    sizes.flatMap(({ criterion, size: { risk, impossible } }) =>
      risk === null || impossible
        ? []
        : risk.points.map((point) => ({ criterion: criterion.id, passes: risk.passes, point })),
    ),
  );
}
