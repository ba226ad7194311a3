import { byCodePoint } from "../../model/order.ts";
import type { ProblemList } from "../problem-list.ts";
import type { BadCode } from "./code-book.ts";
import type { LogDatabase } from "./log-database.ts";
import { isRemark, logLines } from "./log-lines.ts";
import type { RowSource } from "./log-reader.ts";
import type { LogSource } from "./log-source.ts";
import { refusalWords, refusedLine, refusedLines, wrongUnit } from "./reader-log-problems.ts";
import type { RefusalReason } from "./row-sql.ts";
import { literal } from "./sql-text.ts";

/** Lines listed for each reason; the rest are counted. */
const mostListed = 20;
/** Texts that are looked for in the file. */
const mostTexts = 100_000;

interface Refused {
  text: string;
  reason: RefusalReason;
  rows: number;
  /** The code's text, where the code is at fault. */
  epc: string;
}

/** Lists the lines of one log that are refused, with their numbers, and says how many there are. */
export async function listRefused(
  database: LogDatabase,
  source: LogSource,
  rows: RowSource,
  counts: ReadonlyMap<RefusalReason, number>,
  total: number,
  badCodes: readonly BadCode[],
  problems: ProblemList,
): Promise<void> {
  if (counts.size === 0) return;
  const bad = new Map(
    badCodes.filter(({ form }) => form === source.spec.epcForm).map((each) => [each.text.trim(), each]),
  );
  const refused = await refusedTexts(database, rows, [...bad.keys()]);
  const found = await located(source, refused, counts.has("encoding"));
  const levels = counts.get("rssi-range") ?? 0;
  const isOtherUnit = levels > 0 && levels > (await soundLevels(database, source));
  for (const { text, reason, line, epc } of found) {
    const words = { ...refusalWords(reason, source) };
    const code = reason === "code" ? bad.get(epc) : undefined;
    if (code !== undefined) Object.assign(words, { expected: code.expected, advice: code.advice });
    if (reason !== "rssi-range" || !isOtherUnit)
      problems.add(source.path, line === null ? null : { line, column: 1 }, refusedLine(words, text));
  }
  if (isOtherUnit) {
    const first = found.find(({ reason }) => reason === "rssi-range");
    const [row] = await database.rows<{ weakest: number }>(
      `SELECT min(rssi)::DOUBLE AS weakest FROM (${rows.judged}) WHERE reason = 'rssi-range'`,
      rows.values,
    );
    const at = first?.line == null ? null : { line: first.line, column: 1 };
    problems.add(source.path, at, wrongUnit(levels, first?.text ?? "", source.spec, (row?.weakest ?? 0) < 0));
  }
  const reasons = [...counts].sort((a, b) => b[1] - a[1] || byCodePoint(a[0], b[0]));
  const worst = reasons[0]![0];
  problems.add(
    source.path,
    null,
    refusedLines(
      reasons.map(([reason, count]) => [refusalWords(reason, source).found, count]),
      total,
      // What is wrong with a code says better than its reason what to do.
      (worst === "code" ? [...bad.values()][0]?.advice : undefined) ?? refusalWords(worst, source).advice,
    ),
  );
}

/** Rows of a log that state a level which can be dBm. */
async function soundLevels(database: LogDatabase, source: LogSource): Promise<number> {
  const [sound] = await database.rows<{ rows: number }>(
    `SELECT count(rssi)::DOUBLE AS rows FROM reads WHERE voice IN (SELECT id FROM voices WHERE file = ${source.index})`,
  );
  return sound!.rows;
}

async function refusedTexts(
  database: LogDatabase,
  rows: RowSource,
  badCodes: readonly string[],
): Promise<Refused[]> {
  const isBad = badCodes.length === 0 ? "false" : `epc IN (${badCodes.map(literal).join(", ")})`;
  return database.rows<Refused & Record<string, unknown>>(
    `SELECT text, coalesce(reason, 'code') AS reason, any_value(epc) AS epc, count(*)::INTEGER AS rows
      FROM (${rows.judged}) WHERE reason IS NOT NULL OR ${isBad} GROUP BY text, reason ORDER BY text LIMIT ${mostTexts}`,
    rows.values,
  );
}

/** The first refused lines of each reason, with their numbers, in the order of the file. */
async function located(
  source: LogSource,
  refused: readonly Refused[],
  hasBadBytes: boolean,
): Promise<(Refused & { line: number | null })[]> {
  const listed = new Map<RefusalReason, number>();
  const isWanted = (reason: RefusalReason) => {
    const count = (listed.get(reason) ?? 0) + 1;
    listed.set(reason, count);
    return count <= mostListed;
  };
  if (source.kind === "parquet") {
    const byRow = [...refused].sort((a, b) => Number(a.text.slice(4)) - Number(b.text.slice(4)));
    return byRow.filter(({ reason }) => isWanted(reason)).map((each) => ({ ...each, line: null }));
  }
  const found: (Refused & { line: number | null })[] = [];
  const seen = new Set<string>();
  const reasonOf = new Map(refused.map((each) => [each.text, each]));
  for await (const { line, text } of logLines(source)) {
    const each =
      reasonOf.get(text) ??
      (hasBadBytes && text.includes("\ufffd") && !isRemark(text)
        ? { text, reason: "encoding" as const, rows: 1, epc: "" }
        : undefined);
    if (each === undefined) continue;
    seen.add(each.text);
    if (isWanted(each.reason)) found.push({ ...each, line });
  }
  // The database may show a line otherwise than it stands in the file: then it is listed without its number.
  for (const each of refused)
    if (!seen.has(each.text) && isWanted(each.reason)) found.push({ ...each, line: null });
  return found;
}
