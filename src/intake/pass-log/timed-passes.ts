import { canonicalCode } from "../../codes/canonical-code.ts";
import { byCodePoint, byNaturalOrder } from "../../model/order.ts";
import {
  type Heard,
  type IdleStays,
  type IdleTag,
  type IdleTime,
  noRssi,
  Role,
} from "../../model/pass-log.ts";
import type { FullText } from "../problems/card/problem.ts";
import { labelsNeverHeard, passesOverlap, passOutsideLog, readerLogSilent } from "../problems/log-rules.ts";
import type { ProblemList } from "../problems/problem-list.ts";
import { readerLogLastTimeUnread } from "../problems/reader-log.ts";
import type { YamlReport } from "../problems/reports.ts";
import { readerLogsUnused } from "../problems/yaml.ts";
import { remarkOnClocks } from "../reader-log/clock.ts";
import type { Travels } from "../reader-log/database/travels.ts";
import {
  type HeardTags,
  type IdleCode,
  type IdleStay,
  type LogSpan,
  noHundredths,
  type PassWindow,
  type ReaderLogs,
  type WalkSession,
} from "../reader-log/reader-log.ts";
import { checkForeignCodes } from "./foreign-codes.ts";
import type { FacilityLogs } from "./read.ts";
import type { LogPass } from "./rows/passes.ts";
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
  const windows = windowsOf(logs);
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
  remarkOnClocks(readerLogs, windows, read, report);
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
  checkUnknownReads(read.unknown, tags, logs, report);
  for (const { entry, ...facts } of read.unreadLastTimes)
    report.value(["reader_logs", entry, "columns"], readerLogLastTimeUnread.with(facts));
  const tagOfCode = markReads(read.heard, tags, logs);
  return { logs: read, windows, sessions, tagOfCode, tagsOfLoads: tags };
}

function isTimed({ file }: LogPass): boolean {
  return file.form.readsFrom === "reader-log";
}

/** The stretch of time in which reads belong to a timed pass. */
function windowsOf({ passes, facility }: FacilityLogs): PassWindow[] {
  const { beforeS, afterS } = facility.passWindow;
  return passes.flatMap((pass) => {
    const readPoint = facility.readPoints[pass.readPoint]?.id;
    if (!isTimed(pass) || pass.startedAt === null || pass.endedAt === null || readPoint === undefined)
      return [];
    return [
      {
        pass: pass.number,
        readPoint,
        fromUs: pass.startedAt.time.epochUs - Math.round(beforeS * 1e6),
        toUs: pass.endedAt.time.epochUs + Math.round(afterS * 1e6),
      },
    ];
  });
}

/** When each round was walked at each read point, in their order: from its first window's start to its last one's end. */
function walkSessions(windows: readonly PassWindow[], { passes, facility }: FacilityLogs): WalkSession[] {
  return facility.readPoints.flatMap((point, readPoint) =>
    facility.rounds.flatMap((_, round) => {
      const own = windows.filter(({ pass }) => {
        const walked = passes[pass]!;
        return walked.readPoint === readPoint && walked.round === round;
      });
      if (own.length === 0) return [];
      return [
        {
          readPoint: point.id,
          round,
          fromUs: Math.min(...own.map((window) => window.fromUs)),
          toUs: Math.max(...own.map((window) => window.toUs)),
          walkedUs: own.reduce((sum, window) => sum + window.toUs - window.fromUs, 0),
        },
      ];
    }),
  );
}

/** Objects to windows of one read point that overlap: a read in both would belong to two passes. */
function checkOverlaps(windows: PassWindow[], { passes }: FacilityLogs): void {
  const sorted = [...windows].sort((a, b) => a.fromUs - b.fromUs || a.toUs - b.toUs || a.pass - b.pass);
  const lastAt = new Map<string, PassWindow>();
  for (const window of sorted) {
    const before = lastAt.get(window.readPoint);
    if (before !== undefined && window.fromUs <= before.toUs) {
      const [pass, other] = [passes[window.pass]!, passes[before.pass]!];
      const facts = {
        pass: pass.id,
        startedAt: pass.startedAt!.time.local,
        endedAt: pass.endedAt!.time.local,
        other: other.id,
        otherEndedAt: other.endedAt!.time.local,
      };
      reportAtStart(pass, passesOverlap.with(facts));
    }
    if (before === undefined || window.toUs > before.toUs) lastAt.set(window.readPoint, window);
  }
}

/** Objects to timed passes that the reader's log does not cover: silence there does not mean that tags were missed. */
function checkCovered(windows: PassWindow[], spans: LogSpan[], { passes }: FacilityLogs): void {
  const spanOf = new Map(spans.map((span) => [span.readPoint, span]));
  for (const { pass: number, readPoint, fromUs, toUs } of windows) {
    const pass = passes[number]!;
    const span = spanOf.get(readPoint);
    if (span === undefined) reportAtStart(pass, readerLogSilent.with({ pass: pass.id, readPoint }));
    else if (toUs < span.fromUs || fromUs > span.toUs) {
      const [from, to] = [instant(span.fromUs), instant(span.toUs)];
      const facts = { pass: pass.id, startedAtUtc: pass.startedAt!.time.utc, from, to, readPoint };
      reportAtStart(pass, passOutsideLog.with(facts));
    }
  }
}

function instant(us: number): string {
  return new Date(Math.round(us / 1000)).toISOString();
}

function reportAtStart({ startedAt, file }: LogPass, problem: FullText): void {
  file.report.at({ record: startedAt!.at, field: file.header.fields.get("started_at")! }, problem);
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
    const rssiDbm = rssiOf(heard, i);
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

function rssiOf(heard: HeardTags, i: number): number {
  return heard.rssi[i] === noHundredths ? noRssi : heard.rssi[i]! / 100;
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

const minuteUs = 60_000_000;

/** The new numbers of passes and tags in the finished log. */
interface Ranks {
  pass: Int32Array;
  tag: Int32Array;
}

/** What the readers read, in the order and the numbers of the finished log. */
export function builtHeard(evidence: ReaderEvidence, rank: Ranks, logs: FacilityLogs): Heard {
  const { logs: read, windows, tagOfCode } = evidence;
  const { heard } = read;
  const opensUs = new Map(windows.map((window) => [window.pass, window.fromUs]));
  const passOf = (i: number) => rank.pass[heard.pass[i]!]!;
  const tagOf = (i: number) => rank.tag[tagOfCode[heard.code[i]!]!]!;
  const order = Array.from({ length: heard.length }, (_, i) => i).sort(
    (a, b) => passOf(a) - passOf(b) || tagOf(a) - tagOf(b) || heard.antenna[a]! - heard.antenna[b]!,
  );
  const sinceOpen = (us: Float64Array, i: number) => (us[i]! - opensUs.get(heard.pass[i]!)!) / 1000;
  return {
    length: heard.length,
    pass: Int32Array.from(order, passOf),
    tag: Int32Array.from(order, tagOf),
    antenna: Int16Array.from(order, (i) => heard.antenna[i]!),
    antennas: heard.antennas,
    reads: Float64Array.from(order, (i) => heard.reads[i]!),
    rssiDbm: Float64Array.from(order, (i) => rssiOf(heard, i)),
    firstMs: Float64Array.from(order, (i) => sinceOpen(heard.firstUs, i)),
    lastMs: Float64Array.from(order, (i) => sinceOpen(heard.lastUs, i)),
    ...minutesOf(order.map((i) => Math.floor(heard.firstUs[i]! / minuteUs))),
    idle: idleTimes(evidence, logs),
    weakest: read.weakest.map(({ readPoint, rssi }) => ({ readPoint, dbm: rssi / 100 })),
    settings: loggedSettings(evidence, logs),
  };
}

/** A log's settings hold for every round that was walked at its read points in the time that it covers. */
function loggedSettings({ logs, sessions }: ReaderEvidence, { facility }: FacilityLogs): Heard["settings"] {
  return logs.settings.flatMap(({ path, readPoints, fromUs, toUs, values }) =>
    sessions
      .filter((one) => readPoints.includes(one.readPoint) && one.fromUs <= toUs && one.toUs >= fromUs)
      .map(({ readPoint, round }) => ({ file: path, readPoint, round: facility.rounds[round]!.id, values })),
  );
}

/** Each different minute as a text once, in the order met. */
function minutesOf(all: readonly number[]): Pick<Heard, "minute" | "minutes"> {
  const places = new Map<number, number>();
  const minute = Int32Array.from(all, (one) => {
    const place = places.get(one) ?? places.size;
    places.set(one, place);
    return place;
  });
  return { minute, minutes: [...places.keys()].map(minuteText) };
}

/** By read point and round: the time of the walk, less the windows. */
function idleTimes(evidence: ReaderEvidence, { facility, table }: FacilityLogs): IdleTime[] {
  const { logs, sessions, windows, tagsOfLoads } = evidence;
  const tagsOf = (index: number) => {
    const codes = logs.idleCodes.filter(({ session }) => session === index);
    return idleTags(codes, (code) => table.tags.texts[tagsOfLoads.get(code) ?? -1] ?? code);
  };
  return sessions.map(({ readPoint, round, fromUs, toUs, walkedUs }, index) => ({
    readPoint,
    round: facility.rounds[round]!.id,
    minutes: (toUs - fromUs - walkedUs) / minuteUs,
    heard: logs.idle
      .filter(({ session }) => session === index)
      .map(({ minute, reads, tags }) => ({ minute: minuteText(minute), reads, tags })),
    clockMinutes: Math.floor(toUs / minuteUs) - Math.floor(fromUs / minuteUs) + 1,
    stays: staysOf(
      logs.stays.filter(({ session }) => session === index),
      windows.filter(
        (window) => window.readPoint === readPoint && window.toUs >= fromUs && window.fromUs <= toUs,
      ),
    ),
    tags: tagsOf(index),
  }));
}

/** By tag; codes of one tag stand one after another. */
function idleTags(codes: readonly IdleCode[], tagOf: (code: string) => string): IdleTag[] {
  const tags: IdleTag[] = [];
  let before: string | null = null;
  for (const { code, antenna, reads, rssi } of codes) {
    if (code !== before) tags.push({ tag: tagOf(code), reads: 0, rssiDbm: noRssi, antennas: [] });
    before = code;
    const own = tags.at(-1)!;
    own.reads += reads;
    if (rssi !== noHundredths) own.rssiDbm = Math.max(own.rssiDbm, rssi / 100);
    if (antenna !== null) own.antennas.push(antenna);
  }
  for (const { antennas } of tags) antennas.sort(byNaturalOrder);
  return tags.sort((a, b) => byCodePoint(a.tag, b.tag));
}

/** How long tags stayed; clock minutes that windows take whole are no part of a stay. */
function staysOf(stays: readonly IdleStay[], windows: readonly PassWindow[]): IdleStays {
  const taken = minutesTaken(windows);
  const minutesOf = ({ first, last }: IdleStay) =>
    last - first + 1 - taken.filter((minute) => minute > first && minute < last).length;
  return {
    tags: stays.reduce((sum, { tags }) => sum + tags, 0),
    squares: stays.reduce((sum, { squares }) => sum + squares, 0),
    longestMinutes: stays.reduce((longest, stay) => Math.max(longest, minutesOf(stay)), 0),
  };
}

/** Clock minutes that lie wholly in windows, which do not overlap; minutes since 1970. */
function minutesTaken(windows: readonly PassWindow[]): number[] {
  const takenUs = new Map<number, number>();
  for (const { fromUs, toUs } of windows) {
    for (let minute = Math.floor(fromUs / minuteUs); minute * minuteUs <= toUs; minute += 1) {
      const us = Math.min(toUs + 1, (minute + 1) * minuteUs) - Math.max(fromUs, minute * minuteUs);
      takenUs.set(minute, (takenUs.get(minute) ?? 0) + us);
    }
  }
  return [...takenUs].filter(([, us]) => us >= minuteUs).map(([minute]) => minute);
}

function minuteText(minute: number): string {
  return new Date(minute * 60_000).toISOString().replace(/:\d{2}\.\d{3}Z$/, "Z");
}
