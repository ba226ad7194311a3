import { canonicalCode } from "../../codes/canonical-code.ts";
import { Role } from "../../model/pass-log.ts";
import { labelsNeverHeard } from "../problems/log-rules.ts";
import type { ProblemList } from "../problems/problem-list.ts";
import { readerLogLastTimeUnread } from "../problems/reader-log.ts";
import type { YamlReport } from "../problems/reports.ts";
import { readerLogsUnused } from "../problems/yaml.ts";
import type { Travels } from "../reader-log/database/travels.ts";
import {
  type HeardTags,
  noHundredths,
  type PassWindow,
  type ReaderLogs,
  rssiDbmOf,
  type WalkSession,
} from "../reader-log/reader-log.ts";
import { checkForeignCodes } from "./foreign-codes.ts";
import { checkCovered, checkOverlaps, passWindows, walkSessions } from "./pass-windows.ts";
import type { FacilityLogs } from "./read.ts";
import { remarkOnClocks } from "./reader-clock.ts";
import { isTimed } from "./rows/passes.ts";
import { unreadTag } from "./rows/table.ts";
import { checkUnknownReads } from "./unknown-reads.ts";

/** What the readers' own logs gave, with the windows they were cut by. */
export interface ReaderEvidence {
  logs: ReaderLogs;
  windows: PassWindow[];
  sessions: WalkSession[];
  /** By code read: number of the tag. */
  tagOfCode: Int32Array;
  /** The tags of all manifests by their canonical codes. */
  tagsOfLoads: ReadonlyMap<string, number>;
}

/**
 * Reads the readers' own logs and marks in the rows of timed passes which tags were read; null where the facility names
 * none, or an error stands in the way.
 */
export async function readTimedPasses(
  { folder, travels }: { folder: string; travels: Travels | null },
  logs: FacilityLogs,
  { report, problems }: { report: YamlReport; problems: ProblemList },
): Promise<ReaderEvidence | null> {
  const { readerLogs, timeZone } = logs.facility;
  if (readerLogs.length === 0) return null;
  const windows = passWindows(logs);
  checkOverlaps(windows, logs);
  const isUsed = travels !== null || logs.passes.some(isTimed);
  if (logs.passes.length > 0 && !isUsed) report.value(["reader_logs"], readerLogsUnused);
  if (problems.hasErrors) return null;
  const { readReaderLogs } = await import("../reader-log/read.ts");
  const sessions = walkSessions(windows, logs);
  const tags = tagsOfLoads(logs);
  const read = await readReaderLogs({
    folder,
    loadCodes: new Set(tags.keys()),
    specs: readerLogs,
    windows,
    sessions,
    facilityZone: timeZone,
    travels,
    problems,
  });
  remarkOnClocks(readerLogs, { windows, doubtfulSeconds: read.doubtfulSeconds }, report);
  const { table } = logs;
  const loadCodes = [...tags.values()].map((tag) => table.tags.texts[tag]!);
  checkForeignCodes(
    read.foreign,
    { specs: readerLogs, presenting: presentingPoints(logs), loadCodes },
    report,
  );
  // A log that could not be read has no reads at all, and that it could not be read has been reported.
  const readAt = new Set(read.spans.map(({ readPoint }) => readPoint));
  const covered = problems.hasErrors ? windows.filter(({ readPoint }) => readAt.has(readPoint)) : windows;
  checkCovered(covered, read.spans, logs);
  if (!problems.hasErrors) remarkOnLabels(read.heard, logs);
  checkUnknownReads({ unknown: read.unknown, tags }, logs, report);
  for (const { entry, ...facts } of read.unreadLastTimes)
    report.value(["reader_logs", entry, "columns"], readerLogLastTimeUnread.with(facts));
  const tagOfCode = markReads(read.heard, tags, logs);
  return { logs: read, windows, sessions, tagOfCode, tagsOfLoads: tags };
}

/**
 * Remarks on loads of timed passes whose tags are named by something that is not a code and that no reader wrote: such a
 * tag counts as missed in every pass, however well it was read.
 */
function remarkOnLabels(heard: HeardTags, { manifests, passes, table }: FacilityLogs): void {
  const walked = new Set(passes.filter(isTimed).map(({ manifest }) => manifest));
  const written = new Set(heard.codes);
  const isLabel = (text: string) => {
    const read = canonicalCode(text, "hex");
    return read.kind === "refused" || (read.kind === "text" && !written.has(read.code));
  };
  for (const manifest of manifests.values()) {
    if (!walked.has(manifest) || manifest.broken) continue;
    const { header, presented, sheet } = manifest;
    const labels = presented.filter(({ tag }) => isLabel(table.tags.texts[tag]!));
    const [first] = labels;
    if (first === undefined || header === null) continue;
    sheet.report.at(
      { record: first.at, field: header.fields.get("tag")! },
      labelsNeverHeard.with({
        labels: labels.length,
        presented: presented.length,
        first: table.tags.texts[first.tag]!,
      }),
    );
  }
}

/**
 * Marks as read what the readers read of a pass's load, and adds every other code read in a pass as a stray. Returns, for
 * each code read, the number of its tag.
 */
function markReads(heard: HeardTags, tags: ReadonlyMap<string, number>, logs: FacilityLogs): Int32Array {
  const { table, passes } = logs;
  const tagOfCode = Int32Array.from(heard.codes, (code) => tags.get(code) ?? table.tags.idOf(code));
  const rowOf = rowsOfTimedPasses(logs);
  const hasRssi = heard.rssi.subarray(0, heard.length).some((rssi) => rssi !== noHundredths);
  for (const pass of passes) if (isTimed(pass)) pass.rssiRecorded = hasRssi;
  const blank = table.columns.map(() => -1);
  for (let i = 0; i < heard.length; i += 1) {
    const pass = passes[heard.pass[i]!]!;
    const tag = tagOfCode[heard.code[i]!]!;
    const key = keyOf(pass.number, tag);
    let row = rowOf.get(key);
    if (row === undefined) {
      row = table.length;
      table.addRow(pass.number, pass.at, unreadTag(tag, Role.stray, blank));
      rowOf.set(key, row);
    }
    const antenna = heard.antenna[i]!;
    const rssiDbm = rssiDbmOf(heard.rssi[i]!);
    const isStronger = rssiDbm > table.rssiDbm[row]!;
    table.markRead(row, {
      readCount: table.readCounts[row]! + heard.reads[i]!,
      rssiDbm: isStronger ? rssiDbm : table.rssiDbm[row]!,
      // The antenna is that of the strongest read.
      antenna: !isStronger
        ? table.antenna[row]!
        : antenna === -1
          ? -1
          : table.antennas.idOf(heard.antennas[antenna]!),
    });
  }
  return tagOfCode;
}

/** By pass and tag. */
function rowsOfTimedPasses({ table, passes }: FacilityLogs): Map<number, number> {
  const rows = new Map<number, number>();
  const { pass, tag, length } = table;
  for (let row = 0; row < length; row += 1) {
    if (tag[row] !== -1 && isTimed(passes[pass[row]!]!)) rows.set(keyOf(pass[row]!, tag[row]!), row);
  }
  return rows;
}

function keyOf(pass: number, tag: number): number {
  return pass * 2 ** 26 + tag;
}

/** The tags of all manifests by their canonical codes, in which codes compare; a tag keeps the spelling that its manifest gives it. */
function tagsOfLoads({ manifests, table }: FacilityLogs): Map<string, number> {
  const tagOfCanonical = new Map<string, number>();
  for (const manifest of manifests.values()) {
    for (const { tag } of manifest.items.values()) {
      const read = canonicalCode(table.tags.texts[tag]!, "hex");
      if (read.kind !== "refused" && !tagOfCanonical.has(read.code)) tagOfCanonical.set(read.code, tag);
    }
  }
  return tagOfCanonical;
}

/** The read points of timed passes that presented a tag. */
function presentingPoints({ passes, facility }: FacilityLogs): Set<string> {
  const presenting = passes.filter((pass) => isTimed(pass) && (pass.manifest?.presented.length ?? 0) > 0);
  return new Set(presenting.map(({ readPoint }) => facility.readPoints[readPoint]!.id));
}
