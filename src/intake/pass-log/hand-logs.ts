import { canonicalCode } from "../../codes/canonical-code.ts";
import { Role } from "../../model/pass-log.ts";
import type { ProblemText } from "../problems/card/problem.ts";
import { compareUnused, handLogCompared, handLogDisagrees } from "../problems/log-rules.ts";
import type { YamlReport } from "../problems/reports.ts";
import { type LogPass, type PassBook, withText } from "./rows/passes.ts";
import type { ColumnTable, Row } from "./rows/table.ts";

/* A pass that was logged by hand and by its reader: the reader's log judges, and the hand's is compared with it. */

/** A row of a log kept by hand, until it is known whether a reader's log judges its pass. */
export interface HandRow {
  at: number;
  row: Row;
}

/** A pass that stands in both. */
export interface ComparedPass {
  hand: LogPass;
  timed: LogPass;
  rows: readonly HandRow[];
}

/** What is compared, and with what. */
interface ComparedLogs {
  facility: { compareWithReader: boolean };
  passes: readonly LogPass[];
  compared: readonly ComparedPass[];
  table: ColumnTable;
}

/** Rows of logs kept by hand, by pass. */
export type HandRows = Map<LogPass, HandRow[]>;

/** Takes the passes that were logged by hand alone into the book and the table; hands back the others with their twins. */
export function settleHandPasses(
  hand: { book: PassBook; rows: HandRows },
  { book, table }: { book: PassBook; table: ColumnTable },
): ComparedPass[] {
  const compared: ComparedPass[] = [];
  for (const pass of hand.book.passes) {
    const own = hand.rows.get(pass) ?? [];
    const timed = book.find(pass.round, pass.readPoint, pass.id);
    if (timed === undefined) {
      book.adopt(pass);
      for (const { at, row } of own) table.addRow(pass.number, at, row);
    } else {
      // What either log says of the pass as a whole holds for it, a reason to void it above all.
      for (const text of pass.voidReasons ?? []) timed.voidReasons = withText(timed.voidReasons, text);
      for (const text of pass.walkedBy ?? []) timed.walkedBy = withText(timed.walkedBy, text);
      for (const text of pass.notes ?? []) timed.notes = withText(timed.notes, text);
      compared.push({ hand: pass, timed, rows: own });
    }
  }
  return compared;
}

/** Remarks on each tag of which a log kept by hand says something else than the reader's log. */
export function compareHandLogs(logs: ComparedLogs, yaml: YamlReport): void {
  const { compared, facility, table } = logs;
  if (facility.compareWithReader && compared.length === 0 && logs.passes.length > 0)
    yaml.value(["compare_with_reader"], compareUnused);
  const read = timedRows(logs);
  const byFile = new Map<LogPass["file"], { passes: number; tags: number; differ: number }>();
  for (const each of compared) {
    const sum = byFile.get(each.hand.file) ?? { passes: 0, tags: 0, differ: 0 };
    const { tags, differ } = comparePass(each, read.get(each.timed.number) ?? new Map(), table);
    byFile.set(each.hand.file, {
      passes: sum.passes + 1,
      tags: sum.tags + tags,
      differ: sum.differ + differ,
    });
  }
  for (const [{ report }, facts] of byFile) report.whole(handLogCompared.with(facts));
}

/** What the reader's log made of a tag. */
interface TimedTag {
  isPresented: boolean;
  isRead: boolean;
  reads: number;
}

/** By pass: what the reader's log made of each code. */
function timedRows({ compared, table }: ComparedLogs): Map<number, Map<string, TimedTag>> {
  const byPass = new Map(compared.map(({ timed }) => [timed.number, new Map<string, TimedTag>()]));
  for (let row = 0; row < table.length; row += 1) {
    const tags = byPass.get(table.pass[row]!);
    if (tags === undefined || table.tag[row]! < 0) continue;
    tags.set(codeOf(table.tags.texts[table.tag[row]!]!), {
      isPresented: table.role[row] === Role.presented,
      isRead: table.tagsRead[row]! > 0,
      reads: table.readCounts[row]!,
    });
  }
  return byPass;
}

/** Logs write one code in several ways. */
function codeOf(text: string): string {
  const code = canonicalCode(text, "hex");
  return code.kind === "refused" ? text : code.code;
}

function comparePass(
  { hand, rows }: ComparedPass,
  timed: ReadonlyMap<string, TimedTag>,
  table: ColumnTable,
): { tags: number; differ: number } {
  const { report, header } = hand.file;
  const fieldOf = (...names: string[]) =>
    names.map((name) => header.fields.get(name)).find((field) => field !== undefined) ?? 0;
  const presentedField = fieldOf("read", "missed_tags", "tags_read");
  const strayField = fieldOf("read", "stray_tags");
  let differ = 0;
  const remark = (at: number, field: number, problem: ProblemText & { found: string }) => {
    differ += 1;
    report.at({ record: at, field }, problem);
  };
  const pass = hand.id;
  const met = new Set<string>();
  for (const { at, row } of rows) {
    if (row.tag < 0) continue;
    const tag = table.tags.texts[row.tag]!;
    met.add(codeOf(tag));
    const there = timed.get(codeOf(tag)) ?? { isPresented: false, isRead: false, reads: 0 };
    const isPresented = row.role === Role.presented;
    const facts = { tag, pass, isRead: row.tagsRead > 0, reads: there.reads };
    if (isPresented && !there.isPresented) remark(at, presentedField, handLogDisagrees.notInLoad(facts));
    else if (facts.isRead !== there.isRead)
      remark(at, isPresented ? presentedField : strayField, handLogDisagrees.with(facts));
  }
  if (!hand.file.form.namesTags) {
    const counted = rows.reduce((sum, { row }) => sum + row.tagsRead, 0);
    const found = [...timed.values()].filter(({ isPresented, isRead }) => isPresented && isRead).length;
    if (counted !== found)
      remark(hand.at, presentedField, handLogDisagrees.inCount({ pass, counted, found }));
    return { tags: 0, differ };
  }
  for (const [tag, { isPresented, isRead, reads }] of timed) {
    if (met.has(tag) || !(isPresented || (isRead && hand.straysRecorded))) continue;
    const field = isPresented ? presentedField : strayField;
    const facts = { tag, pass, isRead: false, reads };
    remark(hand.at, field, isPresented ? handLogDisagrees.notInHandLog(facts) : handLogDisagrees.with(facts));
  }
  return { tags: rows.filter(({ row }) => row.tag >= 0).length, differ };
}
