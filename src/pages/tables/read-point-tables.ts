import type {
  ConditionBreakdown,
  ConditionGrid,
  MissedTag,
  ReadPointResult,
  Result,
  RoundResult,
} from "../../model/result.ts";
import { isStated } from "../stated-conditions.ts";
import { rateColumns } from "./estimate-columns.ts";
import { findingColumns } from "./finding-columns.ts";
import { heardTables } from "./heard-tables.ts";
import { type PlacedPass, passColumns, placeColumns } from "./pass-columns.ts";
import { type Table, table } from "./table.ts";

/** The figures of a read point page that have a table of their own, by the last part of the file's name. */
export type Figure =
  | "findings"
  | "conditions"
  | "grids"
  | "rssi"
  | "antennas"
  | "missed-tags"
  | "passes"
  | "strays"
  | "voids"
  | "heard-reads"
  | "heard-signal"
  | "heard-antennas"
  | "heard-first-read"
  | "heard-strays"
  | "heard-idle";

/**
 * The tables behind one read point page, of the round it is judged on. A figure that has nothing to show has no
 * table: its page says so in a sentence.
 */
export function readPointTables(
  result: Result,
  readPoint: ReadPointResult,
  slug: string,
): Map<Figure, Table> {
  const round = readPoint.rounds.find(({ id }) => id === readPoint.signOffRound);
  const tables = new Map<Figure, Table>();
  const file = (figure: Figure): string => `${slug}-${figure}.csv`;
  const add = (figure: Figure, made: Table): void => {
    if (made.rows > 0) tables.set(figure, made);
  };
  const of = `${readPoint.name}: `;
  add(
    "findings",
    table(
      file("findings"),
      `${of}its findings.`,
      findingColumns(result),
      result.findings.filter((finding) => finding.readPoint === readPoint.id),
    ),
  );
  if (round === undefined) return tables;
  add("conditions", conditionsTable(file("conditions"), `${of}read rate by each condition.`, round));
  add("grids", gridsTable(file("grids"), `${of}conditions walked, pair by pair.`, round));
  add("rssi", rssiTable(file("rssi"), `${of}strongest RSSI of the tags read, counted in steps.`, round));
  add("antennas", antennasTable(file("antennas"), `${of}tags read by antenna.`, round));
  if (round.heard !== null)
    for (const [figure, made] of heardTables(round.heard, file, of)) add(figure, made);
  add("missed-tags", missedTagsTable(file("missed-tags"), `${of}tags missed at least once.`, round));
  const passes = round.passList.map((pass): PlacedPass => ({ readPoint, round, pass }));
  add(
    "passes",
    table(
      file("passes"),
      `${of}passes of the round judged, in the order walked.`,
      passColumns(result, passes),
      passes,
    ),
  );
  add("strays", straysTable(file("strays"), `${of}passes in which strays were read.`, passes));
  add("voids", voidsTable(file("voids"), `${of}void passes and why they do not count.`, passes));
  return tables;
}

function conditionsTable(file: string, holds: string, round: RoundResult): Table {
  type Row = { column: string; group: ConditionBreakdown["groups"][number] };
  const rows = round.byCondition
    .filter(({ column }) => isStated(round, column))
    .flatMap(({ column, groups }) => groups.map((group): Row => ({ column, group })));
  return table<Row>(
    file,
    holds,
    [
      { header: "condition", cell: ({ column }) => column },
      { header: "value", cell: ({ group }) => group.value },
      { header: "passes", cell: ({ group }) => group.passes },
      ...rateColumns<Row>(({ group }) => group.tagReadRate),
    ],
    rows,
  );
}

function gridsTable(file: string, holds: string, round: RoundResult): Table {
  type Row = { grid: ConditionGrid; cell: ConditionGrid["cells"][number] };
  const rows = round.grids
    .filter(({ rowColumn, columnColumn }) => isStated(round, rowColumn) && isStated(round, columnColumn))
    .flatMap((grid) => grid.cells.map((cell): Row => ({ grid, cell })));
  return table<Row>(
    file,
    holds,
    [
      { header: "first_condition", cell: ({ grid }) => grid.rowColumn },
      { header: "first_value", cell: ({ cell }) => cell.row },
      { header: "second_condition", cell: ({ grid }) => grid.columnColumn },
      { header: "second_value", cell: ({ cell }) => cell.column },
      { header: "passes", cell: ({ cell }) => cell.passes },
      ...rateColumns<Row>(({ cell }) => cell.tagReadRate),
    ],
    rows,
  );
}

function rssiTable(file: string, holds: string, round: RoundResult): Table {
  const widthDb = round.rssi?.binWidthDb ?? 0;
  return table(
    file,
    holds,
    [
      { header: "from_dbm", cell: (bin) => bin.fromDbm },
      { header: "below_dbm", cell: (bin) => bin.fromDbm + widthDb },
      { header: "tags_read", cell: (bin) => bin.count },
    ],
    round.rssi?.bins ?? [],
  );
}

function antennasTable(file: string, holds: string, round: RoundResult): Table {
  return table(
    file,
    holds,
    [
      { header: "antenna", cell: (row) => row.antenna },
      { header: "tags_read", cell: (row) => row.tagsRead },
      { header: "median_rssi_dbm", cell: (row) => row.medianRssiDbm },
    ],
    round.antennas,
  );
}

function missedTagsTable(file: string, holds: string, round: RoundResult): Table {
  return table<MissedTag>(
    file,
    holds,
    [
      { header: "tag", cell: (row) => row.tag },
      { header: "uri", cell: (row) => row.uri },
      { header: "presented", cell: (row) => row.presented },
      { header: "missed", cell: (row) => row.missed },
      { header: "passes", cell: (row) => row.passes.join("; ") },
    ],
    round.missedTags,
  );
}

function straysTable(file: string, holds: string, passes: PlacedPass[]): Table {
  return table(
    file,
    holds,
    [
      ...placeColumns,
      { header: "void_reason", cell: ({ pass }) => pass.voidReason },
      { header: "strays", cell: ({ pass }) => pass.strays },
      { header: "stray_tags", cell: ({ pass }) => pass.strayTags?.join(" ") ?? null },
    ],
    passes.filter(({ pass }) => (pass.strays ?? 0) > 0),
  );
}

function voidsTable(file: string, holds: string, passes: PlacedPass[]): Table {
  return table(
    file,
    holds,
    [
      ...placeColumns,
      { header: "void_reason", cell: ({ pass }) => pass.voidReason },
      { header: "tags_presented", cell: ({ pass }) => pass.tagsPresented },
      { header: "tags_read", cell: ({ pass }) => pass.tagsRead },
    ],
    passes.filter(({ pass }) => pass.voidReason !== null),
  );
}
