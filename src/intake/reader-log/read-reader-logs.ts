import type { ReaderLogSpec } from "../../model/facility.ts";
import type { ProblemList } from "../problem-list.ts";
import { type BadCode, bookCodes } from "./code-book.ts";
import { fileHash } from "./file-hash.ts";
import { heardTags, idleMinutes, logSpans, sumUp } from "./heard-sums.ts";
import { idlePieces } from "./idle-pieces.ts";
import { takeLogs } from "./log-intake.ts";
import type { LogSource } from "./log-source.ts";
import { logSources } from "./log-sources.ts";
import type { PassWindow, ReaderLogFile, ReaderLogs, WalkSession } from "./reader-log.ts";
import { codeRemark, emptyLog, repeatedRows, sameFile } from "./reader-log-problems.ts";
import { listRefused } from "./refused-lines.ts";
import { findRepeats } from "./repeats.ts";
import type { RefusalReason } from "./row-sql.ts";
import { sameFiles } from "./same-files.ts";
import { doubtfulSeconds } from "./second-histogram.ts";
import { rowsElsewhere, rowsOfBadCodes } from "./unused-rows.ts";
import { fillWindows } from "./window-table.ts";

/**
 * Reads the reader logs of a facility: what was heard in each pass's window, what outside all of them, and what became of
 * every row.
 *
 * @param sessions the times in which reads outside the windows count as idle
 * @param facilityZone for times that state no offset and no zone of their own
 * @param threads null for as many as the machine has; no result depends on it
 */
export async function readReaderLogs(
  folder: string,
  specs: ReaderLogSpec[],
  windows: readonly PassWindow[],
  sessions: readonly WalkSession[],
  facilityZone: string | null,
  problems: ProblemList,
  threads: number | null = null,
): Promise<ReaderLogs> {
  const sources = await logSources(folder, specs, problems);
  const hashes = sources.map(({ place }) => fileHash(place));
  const twins = await sameFiles(sources, hashes);
  const points = pointsOf(specs, windows);
  // The database is large to load: only a facility with reader logs pays for it.
  const { LogDatabase } = await import("./log-database.ts");
  const database = await LogDatabase.open(
    sources.map(({ place }) => place),
    threads,
  );
  try {
    const reading = { database, points, facilityZone };
    const own = sources.filter(({ index }) => !twins.has(index));
    const { logs, keepsRest } = await takeLogs(reading, own, problems);
    const { codes, antennas, bad, remarks } = await bookCodes(database);
    for (const { code, text } of remarks) problems.add(null, null, codeRemark(code, text));
    const badRows = await rowsOfBadCodes(database);
    const elsewhere = await rowsElsewhere(database, sources, problems);
    const repeated = await findRepeats(database, keepsRest);
    const pieces = idlePieces(sessions, windows);
    const firstPiece = windows.reduce((most, { pass }) => Math.max(most, pass), -1) + 1;
    const numbered = pieces.map((piece, index) => ({ pass: firstPiece + index, ...piece }));
    const isInside = await fillWindows(database, [...windows, ...numbered], points);
    await sumUp(database, isInside, points, new Map(numbered.map((piece) => [piece.pass, piece])));

    const files: ReaderLogFile[] = [];
    for (const source of sources) {
      const base = { path: source.path, sha256: await hashes[source.index]!, bytes: source.bytes };
      const twin = twins.get(source.index);
      if (twin !== undefined) {
        const { rows, used, repeated: again, ...others } = files[twin]!;
        problems.add(source.path, null, sameFile(others.path));
        files.push({ ...others, ...base, rows, used: 0, repeated: used + again });
        continue;
      }
      const log = logs.get(source.index);
      if (log === undefined) {
        files.push({ ...base, rows: 0, used: 0, repeated: 0, elsewhere: 0, refused: 0 });
        continue;
      }
      const { taken } = log.counts;
      const seen = rowsOf(log.counts.refused);
      const [badly, away, again] = [badRows, elsewhere, repeated].map(
        (counts) => counts.get(source.index) ?? 0,
      ) as [number, number, number];
      const file = {
        ...base,
        rows: taken + seen,
        used: taken - badly - away - again,
        repeated: again,
        elsewhere: away,
        refused: seen + badly,
      };
      files.push(file);
      if (file.rows === 0) problems.add(source.path, null, emptyLog);
      if (again > 0) problems.add(source.path, null, repeatedRows(again));
      const refused = badly === 0 ? log.counts.refused : new Map(log.counts.refused).set("code", badly);
      // Codes show their faults late, among rows that were taken in one go: those are looked at again.
      const doubtful = badly === 0 ? log.counts.doubtful : log.allRows;
      await listRefused(database, source, doubtful, refused, file.rows, badOf(source, bad), problems);
    }
    const names = [...points.keys()];
    const pointOfPass = new Map(windows.map(({ pass, readPoint }) => [pass, points.get(readPoint)!]));
    return {
      heard: await heardTags(database, codes, antennas),
      idle: await idleMinutes(database, sessions, points),
      doubtfulSeconds: await doubtfulSeconds(database, names, pointOfPass),
      spans: await logSpans(database, names, pointOfPass),
      files,
    };
  } finally {
    database.close();
    await Promise.allSettled(hashes);
  }
}

/** The read points that logs or windows speak of, by number in the order of first mention. */
function pointsOf(specs: readonly ReaderLogSpec[], windows: readonly PassWindow[]): Map<string, number> {
  const named = specs.flatMap(({ readPoint }) =>
    readPoint.kind === "fixed" ? [readPoint.readPoint] : Object.values(readPoint.values),
  );
  const points = new Set([...named, ...windows.map(({ readPoint }) => readPoint)]);
  return new Map([...points].map((point, index) => [point, index]));
}

function badOf(source: LogSource, bad: readonly BadCode[]): BadCode[] {
  return bad.filter(({ form }) => form === source.spec.epcForm);
}

function rowsOf(counts: ReadonlyMap<RefusalReason, number>): number {
  let rows = 0;
  for (const count of counts.values()) rows += count;
  return rows;
}
