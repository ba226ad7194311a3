import { byCodePoint, byNaturalOrder, stableBy } from "../../model/order.ts";
import type { Pass, PassLog, Rows, TextColumn } from "../../model/pass-log.ts";
import type { PassWindow, ReaderLogs, WalkSession } from "../reader-log/reader-log.ts";
import { builtHeard } from "./built-heard.ts";
import type { LogContext } from "./log-context.ts";
import type { OpenPass } from "./pass-book.ts";
import type { StoredColumn } from "./row-store.ts";
import { rowsByPass } from "./rows-by-pass.ts";

/** What the readers' own logs gave, with the windows they were cut by. */
export interface ReaderEvidence {
  logs: ReaderLogs;
  windows: PassWindow[];
  sessions: WalkSession[];
  /** By code heard: index into the table of tags. */
  tagOfCode: Int32Array;
}

/**
 * The finished log. Passes, rows and texts are put into an order of their own, so that neither the names of the files nor
 * the order of their rows can show in anything that follows.
 */
export function builtLog(context: LogContext, readers: ReaderEvidence | null): PassLog {
  const { rows, passes } = context;
  const ordered = [...passes.passes].sort(byWalk);
  const rank = new Int32Array(ordered.length);
  ordered.forEach((pass, i) => {
    rank[pass.index] = i;
  });
  const tags = sortedTexts(rows.tags.texts, byCodePoint);
  const antennas = sortedTexts(rows.antennas.texts, byNaturalOrder);
  const { order, starts } = rowsByPass(rows.pass, rows.length, ordered.length, rank);
  sortWithinPasses(order, starts, rows.tag, tags.rank);
  const built: Rows = {
    length: rows.length,
    pass: new Int32Array(rows.length),
    tag: new Int32Array(rows.length),
    role: new Uint8Array(rows.length),
    presentations: new Int32Array(rows.length),
    reads: new Int32Array(rows.length),
    rssiDbm: new Float64Array(rows.length),
    antenna: new Int16Array(rows.length),
    antennas: antennas.texts,
    columns: new Map(),
  };
  for (let i = 0; i < order.length; i += 1) {
    const row = order[i]!;
    const tag = rows.tag[row]!;
    const antenna = rows.antenna[row]!;
    built.pass[i] = rank[rows.pass[row]!]!;
    built.tag[i] = tag < 0 ? -1 : tags.rank[tag]!;
    built.role[i] = rows.role[row]!;
    built.presentations[i] = rows.presentations[row]!;
    built.reads[i] = rows.reads[row]!;
    built.rssiDbm[i] = rows.rssiDbm[row]!;
    built.antenna[i] = antenna < 0 ? -1 : antennas.rank[antenna]!;
  }
  for (const column of rows.columns) {
    built.columns.set(column.name, builtColumn(column, order));
  }
  return {
    passes: ordered.map((pass) => builtPass(pass, context)),
    rows: built,
    tags: tags.texts,
    heard:
      readers === null
        ? null
        : builtHeard(
            readers.logs,
            readers.windows,
            readers.sessions,
            readers.tagOfCode,
            context,
            rank,
            tags.rank,
          ),
  };
}

const byWalk = stableBy<OpenPass>(
  (a, b) => a.round - b.round,
  (a, b) => a.readPoint - b.readPoint,
  // Passes without a time follow those that have one.
  (a, b) => timeOf(a) - timeOf(b),
  (a, b) => byNaturalOrder(a.id, b.id),
);

function timeOf(pass: OpenPass): number {
  return pass.startedAt?.epochMs ?? Number.MAX_SAFE_INTEGER;
}

/** Texts in order, and the new number of each. */
function sortedTexts(
  texts: readonly string[],
  compare: (a: string, b: string) => number,
): { texts: string[]; rank: Int32Array } {
  // Without characters beyond the basic plane, the order of code points is what the engine sorts by itself, and fast.
  const plain = compare === byCodePoint && !texts.some((text) => /[\ud800-\udfff]/.test(text));
  const sorted = plain ? [...texts].sort() : [...texts].sort(compare);
  const place = new Map(sorted.map((text, i) => [text, i]));
  return { texts: sorted, rank: Int32Array.from(texts, (text) => place.get(text)!) };
}

function sortWithinPasses(order: Int32Array, starts: Int32Array, tag: Int32Array, rank: Int32Array): void {
  const place = (row: number) => (tag[row]! < 0 ? -1 : rank[tag[row]!]!);
  for (let p = 0; p + 1 < starts.length; p += 1) {
    const rows = order.subarray(starts[p]!, starts[p + 1]!);
    let sorted = true;
    for (let i = 1; i < rows.length && sorted; i += 1) sorted = place(rows[i - 1]!) <= place(rows[i]!);
    if (!sorted) rows.sort((a, b) => place(a) - place(b));
  }
}

function builtColumn(column: StoredColumn, order: Int32Array): TextColumn {
  const { texts, rank } = sortedTexts(column.table.texts, byCodePoint);
  const index = new Int32Array(order.length);
  for (let i = 0; i < order.length; i += 1) {
    const id = column.index[order[i]!]!;
    index[i] = id < 0 ? -1 : rank[id]!;
  }
  return { values: texts, index };
}

function builtPass(pass: OpenPass, { facility, files, manifests }: LogContext): Pass {
  const file = files[pass.file]!;
  const manifestColumns = [...(manifests.get(pass.manifest ?? "")?.extras.keys() ?? [])];
  const extraNames = new Set([...file.header.extras.map((extra) => extra.name), ...manifestColumns]);
  return {
    round: facility.rounds[pass.round]!.id,
    readPoint: facility.readPoints[pass.readPoint]!.id,
    id: pass.id,
    form: pass.form,
    startedAt: pass.startedAt?.utc ?? null,
    endedAt: pass.endedAt?.utc ?? null,
    startedAtLocal: pass.startedAt?.local ?? null,
    endedAtLocal: pass.endedAt?.local ?? null,
    voidReason: pass.voidReasons === null ? null : sortedSet(pass.voidReasons).join("; "),
    walkedBy: sortedSet(pass.walkedBy),
    notes: sortedSet(pass.notes),
    extras: [...extraNames].flatMap((column) => {
      const values = pass.extras?.get(column);
      return values === undefined ? [] : [{ column, values: sortedSet(values) }];
    }),
    straysRecorded: pass.straysRecorded,
    tallyStrays: pass.tallyStrays,
    rssiRecorded: pass.rssiRecorded,
    manifest: pass.manifest,
    file: file.path,
  };
}

function sortedSet(texts: Set<string> | null): string[] {
  return texts === null ? [] : [...texts].sort(byCodePoint);
}
