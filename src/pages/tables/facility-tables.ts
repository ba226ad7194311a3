import type { Finding, ReadPointResult, Result, RoundResult } from "../../model/result.ts";
import { changeTables } from "./change-tables.ts";
import { rateColumns } from "./estimate-columns.ts";
import { findingColumns, groupCell } from "./finding-columns.ts";
import { type PlacedPass, passColumns } from "./pass-columns.ts";
import { planTables } from "./plan-tables.ts";
import { type Table, table } from "./table.ts";

/** The tables that belong to the facility as a whole. */
export function facilityTables(result: Result): Table[] {
  return [
    findingsTable(result),
    correlationTable(result),
    roundsTable(result),
    ...changeTables(result),
    passesTable(result),
    inputsTable(result),
    remarksTable(result),
    ...planTables(result),
  ];
}

function findingsTable(result: Result): Table {
  return table(
    "findings.csv",
    "Every finding: state, limit, k, n, estimate and bounds, what would settle it, concession, remarks.",
    findingColumns(result),
    result.findings,
  );
}

function correlationTable(result: Result): Table {
  type Row = { finding: Finding; assumed: Finding["sensitivity"][number] };
  const { missCorrelation } = result.basis;
  const rows = result.findings.flatMap((finding) => {
    const { estimate, state, sensitivity } = finding;
    if (sensitivity.length === 0) return [];
    const others = sensitivity.filter((assumed) => assumed.missCorrelation !== missCorrelation);
    return [{ ...estimate, missCorrelation, state }, ...others]
      .sort((a, b) => a.missCorrelation - b.missCorrelation)
      .map((assumed): Row => ({ finding, assumed }));
  });
  return table<Row>(
    "assumed-correlation.csv",
    "Every finding under the assumed correlation in use, and under others.",
    [
      { header: "criterion", cell: ({ finding }) => finding.criterion },
      { header: "read_point", cell: ({ finding }) => finding.readPoint },
      { header: "group", cell: ({ finding }) => groupCell(finding.group) },
      { header: "miss_correlation", cell: ({ assumed }) => assumed.missCorrelation },
      { header: "lower_fraction", cell: ({ assumed }) => assumed.lower },
      { header: "upper_fraction", cell: ({ assumed }) => assumed.upper },
      { header: "effective_n", cell: ({ assumed }) => assumed.effectiveN },
      { header: "state", cell: ({ assumed }) => assumed.state },
    ],
    rows,
  );
}

function roundsTable(result: Result): Table {
  type Row = { readPoint: ReadPointResult; round: RoundResult };
  const rows = result.readPoints.flatMap((readPoint) =>
    readPoint.rounds.map((round): Row => ({ readPoint, round })),
  );
  return table<Row>(
    "rounds.csv",
    "Every round at every read point: passes, tags, and the rates with their bounds.",
    [
      { header: "read_point", cell: ({ readPoint }) => readPoint.id },
      { header: "read_point_name", cell: ({ readPoint }) => readPoint.name },
      { header: "round", cell: ({ round }) => round.id },
      {
        header: "judged",
        cell: ({ readPoint, round }) => (readPoint.signOffRound === round.id ? "yes" : "no"),
      },
      { header: "passes", cell: ({ round }) => round.passes },
      { header: "void_passes", cell: ({ round }) => round.voidPasses },
      { header: "tags_presented", cell: ({ round }) => round.tagsPresented },
      { header: "tags_read", cell: ({ round }) => round.tagsRead },
      ...rateColumns<Row>(({ round }) => round.tagReadRate, "tag_read_rate_"),
      ...rateColumns<Row>(({ round }) => round.completePassRate, "complete_pass_rate_"),
      ...rateColumns<Row>(({ round }) => round.strayPassRate, "stray_pass_rate_"),
      ...rateColumns<Row>(({ round }) => round.bystanderReadRate, "bystander_read_rate_"),
      ...rateColumns<Row>(({ round }) => round.withVoids.tagReadRate, "tag_read_rate_with_voids_"),
      { header: "idle_tags", cell: ({ round }) => round.heard?.idle?.rate.k ?? null },
      { header: "idle_minutes", cell: ({ round }) => round.heard?.idle?.rate.n ?? null },
      { header: "idle_value_tags_a_minute", cell: ({ round }) => round.heard?.idle?.rate.value ?? null },
      { header: "idle_lower_tags_a_minute", cell: ({ round }) => round.heard?.idle?.rate.lower ?? null },
      { header: "idle_upper_tags_a_minute", cell: ({ round }) => round.heard?.idle?.rate.upper ?? null },
    ],
    rows,
  );
}

function passesTable(result: Result): Table {
  const rows = result.readPoints.flatMap((readPoint) =>
    readPoint.rounds.flatMap((round) =>
      round.passList.map((pass): PlacedPass => ({ readPoint, round, pass })),
    ),
  );
  return table(
    "passes.csv",
    "Every pass of every round, void ones too: conditions, counts, tags missed, strays, notes.",
    passColumns(result, rows),
    rows,
  );
}

function inputsTable(result: Result): Table {
  return table(
    "inputs.csv",
    "Every input file with its rows and its SHA-256.",
    [
      { header: "path", cell: (input) => input.path },
      { header: "rows", cell: (input) => input.rows },
      { header: "used", cell: (input) => input.used },
      { header: "void", cell: (input) => input.void },
      { header: "repeated", cell: (input) => input.reader?.repeated ?? null },
      { header: "elsewhere", cell: (input) => input.reader?.elsewhere ?? null },
      { header: "refused", cell: (input) => input.reader?.refused ?? null },
      { header: "size_bytes", cell: (input) => input.bytes },
      { header: "sha256", cell: (input) => input.sha256 },
    ],
    result.inputs,
  );
}

function remarksTable(result: Result): Table {
  return table(
    "remarks.csv",
    "The remarks on the logs, with file, line and column.",
    [
      { header: "file", cell: (problem) => problem.file },
      { header: "line", cell: (problem) => problem.line },
      { header: "column", cell: (problem) => problem.column },
      { header: "code", cell: (problem) => problem.code },
      { header: "found", cell: (problem) => problem.found },
      { header: "expected", cell: (problem) => problem.expected },
      { header: "advice", cell: (problem) => problem.advice },
    ],
    result.problems,
  );
}
