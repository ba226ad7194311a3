import { byCodePoint, byNaturalOrder, stableBy } from "../../model/order.ts";
import type { Pass, PassLog, PlannedLoad, Rows, TextColumn } from "../../model/pass-log.ts";
import type { InputFile } from "../../model/record/input-file.ts";
import type { TextTable } from "../tables/text-table.ts";
import { normaliseHeard } from "./heard.ts";
import type { FacilityLogs } from "./read.ts";
import type { LogPass } from "./rows/passes.ts";
import type { ColumnTable, Numbers, TextColumn as StoredColumn } from "./rows/table.ts";
import type { ReaderEvidence } from "./timed-passes.ts";

/**
 * The finished log. Passes, rows and texts are put into an order of their own, so that neither the names of the files nor
 * the order of their rows can show in anything that follows.
 */
export function normaliseLog(logs: FacilityLogs, evidence: ReaderEvidence | null): Omit<PassLog, "power"> {
  const { table } = logs;
  const passes = [...logs.passes].sort(byWalk);
  const rank = new Int32Array(passes.length);
  for (const [i, { number }] of passes.entries()) rank[number] = i;
  const tags = sorted(table.tags, byCodePoint);
  return {
    passes: passes.map((pass) => normalisePass(pass, logs)),
    rows: normaliseRows(table, { pass: rank, tag: tags.rank }, passes.length),
    tags: tags.texts,
    heard: evidence === null ? null : normaliseHeard(evidence, { pass: rank, tag: tags.rank }, logs),
  };
}

const byWalk = stableBy<LogPass>(
  (a, b) => a.round - b.round,
  (a, b) => a.readPoint - b.readPoint,
  // Passes without a time follow those that have one.
  (a, b) => timeOf(a) - timeOf(b),
  (a, b) => byNaturalOrder(a.id, b.id),
);

function timeOf(pass: LogPass): number {
  return pass.startedAt?.time.epochUs ?? Number.MAX_SAFE_INTEGER;
}

/** The texts of a table in order, and the new number of each. */
function sorted(
  { texts }: TextTable,
  compare: (a: string, b: string) => number,
): { texts: string[]; rank: Int32Array } {
  // Without characters beyond the basic plane, the order of code points is what the engine sorts by itself, and fast.
  const isPlain = compare === byCodePoint && !texts.some((text) => /[\ud800-\udfff]/.test(text));
  const inOrder = isPlain ? [...texts].sort() : [...texts].sort(compare);
  const place = new Map(inOrder.map((text, i) => [text, i]));
  return { texts: inOrder, rank: Int32Array.from(texts, (text) => place.get(text)!) };
}

function normaliseRows(table: ColumnTable, rank: { pass: Numbers; tag: Numbers }, passes: number): Rows {
  const { order, starts } = table.byPass(rank.pass, passes);
  const antennas = sorted(table.antennas, byNaturalOrder);
  const { pass, tag, role, presentations, tagsRead, readCounts, rssiDbm, antenna } = table;
  sortWithinPasses(order, starts, (row) => (tag[row]! < 0 ? -1 : rank.tag[tag[row]!]!));
  return {
    length: table.length,
    pass: renumbered(inOrder(Int32Array, pass, order), rank.pass),
    tag: renumbered(inOrder(Int32Array, tag, order), rank.tag),
    role: inOrder(Uint8Array, role, order),
    presentations: inOrder(Int32Array, presentations, order),
    tagsRead: inOrder(Int32Array, tagsRead, order),
    readCounts: inOrder(Int32Array, readCounts, order),
    rssiDbm: inOrder(Float64Array, rssiDbm, order),
    antenna: renumbered(inOrder(Int16Array, antenna, order), antennas.rank),
    antennas: antennas.texts,
    columns: new Map(table.columns.map((column) => [column.name, normaliseColumn(column, order)])),
  };
}

function sortWithinPasses(order: Int32Array, starts: Int32Array, place: (row: number) => number): void {
  for (let p = 0; p + 1 < starts.length; p += 1) {
    const rows = order.subarray(starts[p]!, starts[p + 1]!);
    let isSorted = true;
    for (let i = 1; i < rows.length && isSorted; i += 1) isSorted = place(rows[i - 1]!) <= place(rows[i]!);
    if (!isSorted) rows.sort((a, b) => place(a) - place(b));
  }
}

function normaliseColumn({ texts, ids }: StoredColumn, order: Int32Array): TextColumn {
  const { texts: values, rank } = sorted(texts, byCodePoint);
  return { values, index: renumbered(inOrder(Int32Array, ids, order), rank) };
}

/** A column of numbers with the rows in their new order. */
function inOrder<T extends Writable>(
  kind: new (length: number) => T,
  numbers: Numbers,
  order: Int32Array,
): T {
  const values = new kind(order.length);
  for (let i = 0; i < order.length; i += 1) values[i] = numbers[order[i]!]!;
  return values;
}

/** Gives a column of numbers its new ones, in place; -1 stays. */
function renumbered<T extends Writable & { length: number }>(numbers: T, rank: Numbers): T {
  for (let i = 0; i < numbers.length; i += 1) if (numbers[i]! >= 0) numbers[i] = rank[numbers[i]!]!;
  return numbers;
}

type Writable = { [row: number]: number };

function normalisePass(pass: LogPass, { facility }: FacilityLogs): Pass {
  const { file, manifest, startedAt, endedAt } = pass;
  const extraNames = new Set([
    ...file.header.extras.map(({ name }) => name),
    ...(manifest?.extras.keys() ?? []),
  ]);
  return {
    round: facility.rounds[pass.round]!.id,
    readPoint: facility.readPoints[pass.readPoint]!.id,
    id: pass.id,
    form: file.form.id,
    namesTags: file.form.namesTags,
    readsFrom: file.form.readsFrom,
    startedAt: startedAt?.time.utc ?? null,
    endedAt: endedAt?.time.utc ?? null,
    startedAtLocal: startedAt?.time.local ?? null,
    endedAtLocal: endedAt?.time.local ?? null,
    voidReason: pass.voidReasons === null ? null : sortedTexts(pass.voidReasons).join("; "),
    walkedBy: sortedTexts(pass.walkedBy),
    notes: sortedTexts(pass.notes),
    extras: [...extraNames].flatMap((column) => {
      const values = pass.extras?.get(column);
      return values === undefined ? [] : [{ column, values: sortedTexts(values) }];
    }),
    straysRecorded: pass.straysRecorded,
    tallyStrays: pass.tallyStrays,
    rssiRecorded: pass.rssiRecorded,
    manifest: manifest?.name ?? null,
    file: file.sheet.path,
  };
}

function sortedTexts(texts: Set<string> | null): string[] {
  return texts === null ? [] : [...texts].sort(byCodePoint);
}

/** Each manifest and log with its rows, how many of them entered the figures, and how many belong to void passes. */
export function inputsOf({ manifests, files, passes, table }: FacilityLogs): InputFile[] {
  const byPass = new Int32Array(passes.length);
  for (let row = 0; row < table.length; row += 1) byPass[table.pass[row]!]! += 1;
  const countRows = (own: LogPass[]) =>
    own.reduce((sum, { number, file }) => sum + (file.form.isRowAPass ? 1 : byPass[number]!), 0);
  const isVoid = (pass: LogPass) => pass.voidReasons !== null;
  const ofManifests = [...manifests.values()].map((manifest): InputFile => {
    const { source } = manifest.sheet;
    const own = passes.filter((pass) => pass.manifest === manifest);
    const isUsed = own.some((pass) => !isVoid(pass));
    return { ...source, used: isUsed ? source.rows : 0, void: own.length > 0 && !isUsed ? source.rows : 0 };
  });
  const ofLogs = files.map((file): InputFile => {
    const own = passes.filter((pass) => pass.file === file);
    const voids = own.filter(isVoid);
    return {
      ...file.sheet.source,
      used: countRows(own.filter((pass) => !isVoid(pass))),
      void: countRows(voids),
    };
  });
  return [...ofManifests, ...byFile(ofLogs)];
}

/** The sheets of one workbook as one input. */
function byFile(inputs: InputFile[]): InputFile[] {
  const files = new Map<string, InputFile>();
  for (const input of inputs) {
    const other = files.get(input.path);
    const sum = (key: "rows" | "used" | "void") => (other?.[key] ?? 0) + (input[key] ?? 0);
    files.set(input.path, { ...input, rows: sum("rows"), used: sum("used"), void: sum("void") });
  }
  return [...files.values()];
}

/** The plan's load, by code point; null where the plan names none. */
export function plannedLoad({ facility, manifests, table }: FacilityLogs): PlannedLoad | null {
  const manifest = manifests.get(facility.plan?.manifest ?? "");
  if (manifest === undefined) return null;
  const codes = table.tags.texts;
  const load = [...manifest.presented].sort((a, b) => byCodePoint(codes[a.tag]!, codes[b.tag]!));
  const columns = table.columns.flatMap(({ name, texts }, c) =>
    manifest.header?.fields.has(name) === true
      ? [[name, load.map((item) => texts.texts[item.texts[c]!] ?? null)] as const]
      : [],
  );
  return { tags: load.map(({ tag }) => codes[tag]!), columns: Object.fromEntries(columns) };
}
