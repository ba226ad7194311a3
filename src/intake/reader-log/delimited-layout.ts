import type { ProblemList } from "../problem-list.ts";
import { listing, quoted } from "../quotation.ts";
import { didYouMean } from "../suggestion.ts";
import { lineFields } from "./line-fields.ts";
import { isRemark, logLines } from "./log-lines.ts";
import { type Asked, askedColumns, type LogLayout, type LogSource } from "./log-source.ts";
import { emptyLog } from "./reader-log-problems.ts";

/** Lines at the top among which a header is looked for below remarks. */
const mostRemarks = 1000;

interface Head {
  /** The header's line as it stands, and its names. */
  header: { names: string[] } | null;
  /** The header's line, and the lines above it that are no comments. */
  noRows: string[];
  /** Names of the comment line that comes nearest to a header, for the message. */
  nearest: string[];
  skip: number;
  firstRow: string[];
}

/** Finds the header of a delimited log and the columns that are asked for; null where they are not there. */
export async function delimitedLayout(source: LogSource, problems: ProblemList): Promise<LogLayout | null> {
  const asked = askedColumns(source.spec);
  const head = await headOf(source, Object.values(asked));
  if (head === null) {
    problems.add(source.path, null, emptyLog);
    return null;
  }
  const names = head.header?.names ?? null;
  if (source.spec.header !== "no" && names === null) {
    problems.add(source.path, null, {
      severity: "error",
      code: "reader-log-header-missing",
      found:
        head.nearest.length === 0
          ? "no comment line above the data"
          : `comment lines, the nearest to a header with ${listing(head.nearest)}`,
      expected: "a comment line with the names of the columns above the data",
      advice: "Correct the names in columns, or say header: no and give the columns' numbers.",
    });
    return null;
  }
  const width = names?.length ?? head.firstRow.length;
  const columns = {} as Record<Asked, number | null>;
  let isSound = true;
  for (const [role, name] of Object.entries(asked) as [Asked, string | number | null][]) {
    const index = name === null ? null : columnIndex(name, names, width);
    columns[role] = index === null ? null : index + 1;
    if (index === null || index >= 0) continue;
    isSound = false;
    problems.add(source.path, null, missingColumn(role, name!, names, width));
  }
  if (!isSound) return null;
  const used = new Set<number | null>(Object.values(columns));
  const rest = Array.from({ length: width }, (_, index) => index + 1).filter((index) => !used.has(index));
  return {
    width,
    noRows: head.noRows,
    skip: head.skip,
    columns,
    rest,
    types: new Map(),
  };
}

async function headOf(source: LogSource, asked: (string | number | null)[]): Promise<Head | null> {
  const { header: kind } = source.spec;
  const wanted = asked.filter((name) => typeof name === "string");
  const found = (names: string[]) => wanted.filter((name) => names.includes(name)).length;
  const isHeader = (names: string[]) => found(names) === wanted.length && wanted.length > 0;
  let header: Head["header"] = null;
  let first: { line: number; text: string; names: string[] } | null = null;
  const above: string[] = [];
  let nearest: string[] = [];
  let skip = 0;
  for await (const { line, text } of logLines(source)) {
    if (isRemark(text)) {
      if (kind === "commented" && line <= mostRemarks) {
        const names = namesIn(text.replace(/^\s*(?:#+|\/\/+)\s*/, ""), source.delimiter);
        if (isHeader(names)) header = { names };
        else if (found(names) > found(nearest)) nearest = names;
      }
      if (kind !== "yes") skip = line;
      continue;
    }
    const names = namesIn(text, source.delimiter);
    if (kind !== "yes") return { header, noRows: [], nearest, skip, firstRow: names };
    // What stands above the names that are asked for is said about the log, and no row of it.
    above.push(text);
    if (isHeader(names)) return { header: { names }, noRows: above, nearest, skip: line, firstRow: [] };
    first ??= { line, text, names };
    if (line >= mostRemarks) break;
  }
  if (kind !== "yes") return { header, noRows: [], nearest, skip, firstRow: [] };
  return first === null
    ? null
    : { header: first, noRows: [first.text], nearest, skip: first.line, firstRow: [] };
}

function namesIn(text: string, delimiter: string): string[] {
  const names = (lineFields(text, delimiter) ?? text.split(delimiter)).map((name) => name.trim());
  // A delimiter at the end of every line makes no column.
  if (names.length > 1 && names.at(-1) === "") names.pop();
  return names;
}

function columnIndex(name: string | number, names: string[] | null, width: number): number {
  if (typeof name === "number") return name <= width || width === 0 ? name - 1 : -1;
  return names?.indexOf(name) ?? -1;
}

/** What to say where a column is not in the file. */
export function missingColumn(role: string, name: string | number, names: string[] | null, width: number) {
  const found =
    names === null
      ? `${width} columns without names`
      : `the columns ${listing(
          names.filter((each) => each !== ""),
          20,
        )}`;
  return {
    severity: "error" as const,
    code: "reader-log-column-missing",
    found,
    expected: `the column ${typeof name === "number" ? name : quoted(name)}, which columns.${role} names`,
    advice: `${typeof name === "string" && names !== null ? didYouMean(name, names) : ""}Correct columns in reader_logs, or its delimiter and header where the file is split differently.`,
  };
}
