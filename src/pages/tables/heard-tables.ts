import type { HeardSummary, Spread } from "../../model/result.ts";
import type { Column } from "./csv.ts";
import type { Figure } from "./read-point-tables.ts";
import { type Table, table } from "./table.ts";

/** The tables behind what a reader's own log shows; those with nothing to show have no rows. */
export function heardTables(
  heard: HeardSummary,
  file: (figure: Figure) => string,
  of: string,
): [Figure, Table][] {
  const { readsPerTag, firstReadMs, antennas, strays, idle } = heard;
  const measured = antennas.filter(({ strongestDbm }) => strongestDbm !== null);
  return [
    [
      "heard-reads",
      table(
        file("heard-reads"),
        `${of}reads of each tag in a pass, from the reader's own log.`,
        spreadColumns<Spread>((row) => row, "reads"),
        readsPerTag === null ? [] : [readsPerTag],
      ),
    ],
    [
      "heard-signal",
      table(
        file("heard-signal"),
        `${of}strongest signal of each tag by antenna, from the reader's own log.`,
        [
          { header: "antenna", cell: ({ antenna }) => antenna },
          ...spreadColumns<(typeof measured)[number]>(({ strongestDbm }) => strongestDbm as Spread, "dbm"),
        ],
        measured,
      ),
    ],
    [
      "heard-antennas",
      table(
        file("heard-antennas"),
        `${of}tags presented that each antenna heard, and that it alone heard.`,
        [
          { header: "antenna", cell: (row) => row.antenna },
          { header: "tags_presented", cell: () => heard.tagsPresented },
          { header: "tags_heard_here", cell: (row) => row.tagsRead },
          { header: "tags_heard_only_here", cell: (row) => row.onlyHere },
          { header: "tags_read_without_it", cell: (row) => heard.tagsRead - row.onlyHere },
        ],
        antennas,
      ),
    ],
    [
      "heard-first-read",
      table(
        file("heard-first-read"),
        `${of}milliseconds from the opening of the pass window to the first read of each tag.`,
        [
          ...spreadColumns<Spread>((row) => row, "ms"),
          { header: "window_before_s", cell: () => heard.window.beforeS },
          { header: "window_after_s", cell: () => heard.window.afterS },
        ],
        firstReadMs === null ? [] : [firstReadMs],
      ),
    ],
    [
      "heard-strays",
      table(
        file("heard-strays"),
        `${of}codes heard in passes that did not present them.`,
        [
          { header: "code", cell: (row) => row.tag },
          { header: "uri", cell: (row) => row.uri },
          { header: "bystander", cell: (row) => (row.bystander ? "yes" : "no") },
          { header: "passes", cell: (row) => row.passes },
          { header: "reads", cell: (row) => row.reads },
          { header: "strongest_dbm", cell: (row) => row.strongestDbm },
        ],
        strays,
      ),
    ],
    [
      "heard-idle",
      table(
        file("heard-idle"),
        `${of}minutes in which something was heard with nothing presented.`,
        [
          { header: "minute_utc", cell: (row) => row.minute },
          { header: "tags", cell: (row) => row.tags },
          { header: "reads", cell: (row) => row.reads },
        ],
        idle?.heard ?? [],
      ),
    ],
  ];
}

function spreadColumns<Row>(spreadOf: (row: Row) => Spread, unit: string): Column<Row>[] {
  return [
    { header: "tags", cell: (row) => spreadOf(row).n },
    { header: `least_${unit}`, cell: (row) => spreadOf(row).min },
    { header: `q05_${unit}`, cell: (row) => spreadOf(row).q05 },
    { header: `median_${unit}`, cell: (row) => spreadOf(row).median },
    { header: `q95_${unit}`, cell: (row) => spreadOf(row).q95 },
    { header: `most_${unit}`, cell: (row) => spreadOf(row).max },
  ];
}
