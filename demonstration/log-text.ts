import { csvText } from "../src/pages/parts/csv-text.ts";
import type { PlacedTag, WalkedPass, WalkedTag } from "./walk.ts";

/** How a log writes its cells: with commas and decimal points, or with semicolons and decimal commas. */
export type Dialect = "comma" | "semicolon";

/** A further column of the pass, and how it is filled. */
export interface PassColumn {
  name: string;
  value(pass: WalkedPass): string;
}

const head = ["round", "pass", "read_point", "started_at", "ended_at"];
const headOf = (pass: WalkedPass): string[] => [
  pass.round,
  pass.id,
  pass.readPoint,
  pass.startedAt,
  pass.endedAt,
];

export function tableText(rows: string[][], dialect: Dialect): string {
  const isComma = dialect === "comma";
  const written = (text: string) => (/^-?\d+\.\d+$/.test(text) ? text.replace(".", ",") : text);
  return csvText(isComma ? rows : rows.map((row) => row.map(written)), {
    separator: isComma ? "," : ";",
    lineEnd: "\n",
    quoted: isComma ? /[",\r\n]/ : /[";\r\n]/,
    guarded: (text) => text,
  });
}

const codes = (tags: WalkedTag[]): string => tags.map(({ tag }) => tag).join(" ");

/** One row a tag. */
export function itemisedLog(passes: WalkedPass[], columns: PassColumn[], dialect: Dialect = "comma"): string {
  const rows = [
    [
      ...head,
      ...columns.map(({ name }) => name),
      ...["orientation", "level", "tag", "presented", "read", "rssi_dbm", "antenna", "reads"],
      ...["void_reason", "walked_by", "note"],
    ],
  ];
  for (const pass of passes) {
    const ofPass = [...headOf(pass), ...columns.map(({ value }) => value(pass))];
    const parts = [
      { tags: pass.presented, presented: "yes" },
      { tags: pass.bystanders, presented: "no" },
      { tags: pass.strays, presented: "no" },
    ];
    let first = true;
    for (const { tags, presented } of parts) {
      for (const tag of tags) {
        rows.push([
          ...ofPass,
          ...[tag.orientation, tag.level, tag.tag, presented, tag.read ? "yes" : "no"],
          ...[
            tag.rssiDbm?.toFixed(1) ?? "",
            tag.antenna === null ? "" : String(tag.antenna),
            String(tag.reads),
          ],
          ...[first ? pass.voidReason : "", pass.walkedBy, first ? pass.note : ""],
        ]);
        first = false;
      }
    }
  }
  return tableText(rows, dialect);
}

/**
 * One row a pass, with what was missed and what was heard uninvited; the load is in a manifest. `none` says that strays
 * were looked for, where a blank would say that nobody did.
 */
export function listedLog(passes: WalkedPass[], columns: PassColumn[], dialect: Dialect = "comma"): string {
  const names = [...columns.map(({ name }) => name), "manifest", "missed_tags", "stray_tags"];
  const rows = [[...head, ...names, "void_reason", "walked_by", "note"]];
  for (const pass of passes) {
    rows.push([
      ...headOf(pass),
      ...columns.map(({ value }) => value(pass)),
      ...[
        pass.manifest ?? "",
        codes(pass.presented.filter(({ read }) => !read)),
        pass.strays.length === 0 ? "none" : codes(pass.strays),
      ],
      ...[pass.voidReason, pass.walkedBy, pass.note],
    ]);
  }
  return tableText(rows, dialect);
}

/** One row a pass that says when it was walked and with which load; who was read is in the reader's own log. */
export function timedLog(passes: WalkedPass[], columns: PassColumn[]): string {
  const names = [...columns.map(({ name }) => name), "manifest"];
  const rows = [[...head, ...names, "void_reason", "walked_by", "note"]];
  for (const pass of passes) {
    rows.push([
      ...headOf(pass),
      ...columns.map(({ value }) => value(pass)),
      ...[pass.manifest ?? "", pass.voidReason, pass.walkedBy, pass.note],
    ]);
  }
  return tableText(rows, "comma");
}

/** One row a pass, counts only. */
export function tallyLog(passes: WalkedPass[], columns: PassColumn[], dialect: Dialect = "comma"): string {
  const names = [...columns.map(({ name }) => name), "tags_presented", "tags_read", "stray_tags"];
  const rows = [[...head, ...names, "void_reason", "walked_by", "note"]];
  for (const pass of passes) {
    const read = pass.presented.filter((tag) => tag.read).length;
    rows.push([
      ...headOf(pass),
      ...columns.map(({ value }) => value(pass)),
      ...[String(pass.presented.length), String(read), String(pass.strays.length)],
      ...[pass.voidReason, pass.walkedBy, pass.note],
    ]);
  }
  return tableText(rows, dialect);
}

/** A load, listed once; with bystanders, a column says who is presented, and with models, of which model each tag is. */
export function manifestText(
  load: PlacedTag[],
  {
    bystanders = [],
    modelOf = null,
  }: { bystanders?: PlacedTag[]; modelOf?: ((tag: string) => string) | null } = {},
): string {
  const hasBystanders = bystanders.length > 0;
  const row = ({ tag, orientation, level }: PlacedTag, presented: string) => [
    ...[tag, orientation, level],
    ...(modelOf === null ? [] : [modelOf(tag)]),
    ...(hasBystanders ? [presented] : []),
  ];
  return tableText(
    [
      [
        ...["tag", "orientation", "level"],
        ...(modelOf === null ? [] : ["model"]),
        ...(hasBystanders ? ["presented"] : []),
      ],
      ...load.map((tag) => row(tag, "yes")),
      ...bystanders.map((tag) => row(tag, "no")),
    ],
    "comma",
  );
}
