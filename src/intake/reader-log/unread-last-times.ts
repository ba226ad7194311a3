import type { ColumnName, ReaderLogSpec } from "../../model/facility.ts";
import type { LogDatabase } from "./database/database.ts";
import { givenItems, lineScan } from "./database/lines.ts";
import { isOneToOne, type ReadFile } from "./groups.ts";
import type { LogGroup } from "./layout.ts";
import { firstItems, nameOf, objectsOf } from "./other-code-columns.ts";
import { type PassWindow, readPointsOf, type UnreadLastTime } from "./reader-log.ts";
import { rowsOf, typedRows } from "./rows.ts";
import { roleOfName } from "./source/column-words.ts";
import * as sql from "./statements.ts";
import { measuredRows } from "./values.ts";

/** Objects of a log in which names are looked for. */
const mostObjects = 100;
/** Of the rows with both times, how many must end after they begin. */
const orderedShare = 0.9;

interface UnreadSearch {
  database: LogDatabase;
  specs: readonly ReaderLogSpec[];
  /** How each log was read. */
  read: Iterable<ReadFile>;
  windows: readonly PassWindow[];
  facilityZone: string | null;
}

/**
 * Columns of a last time that no entry names although rows last longer than a pass: read by the first time alone, a tag that
 * was there all the while is missed. Columns go by their names.
 */
export async function unreadLastTimes(search: UnreadSearch): Promise<UnreadLastTime[]> {
  const found = new Map<ReaderLogSpec, UnreadLastTime>();
  for (const { group, years } of new Set(search.read)) {
    const { spec } = group;
    if (spec.columns.lastTime !== null || spec.noLastTime || found.has(spec)) continue;
    const passUs = shortestPass(spec, search.windows);
    if (passUs === null) continue;
    for (const column of await lastTimesOf(group)) {
      const { rows, ordered, longer, longestUs } = await lastingOf(
        search,
        { group, years },
        { column, passUs },
      );
      if (longer === 0 || ordered < orderedShare * rows) continue;
      found.set(spec, {
        entry: search.specs.indexOf(spec),
        column: String(nameOf(group, column)),
        rows: longer,
        longestUs,
        passUs,
      });
      break;
    }
  }
  return [...found.values()].sort((a, b) => a.entry - b.entry);
}

function shortestPass(spec: ReaderLogSpec, windows: readonly PassWindow[]): number | null {
  const points = readPointsOf(spec);
  const own = windows.filter(({ readPoint }) => points.includes(readPoint));
  return own.length === 0
    ? null
    : own.reduce((least, { fromUs, toUs }) => Math.min(least, toUs - fromUs), Infinity);
}

/** The columns that are called a last time: by number in a table, else by name. */
async function lastTimesOf(group: LogGroup): Promise<ColumnName[]> {
  const { kind, layout } = group;
  const { time } = layout.columns;
  const isLast = (name: string) => {
    const named = roleOfName(name.slice(name.lastIndexOf(".") + 1));
    return named?.role === "last time" && named.by === "name";
  };
  if (layout.names !== null) {
    return layout.names.flatMap((name, i): ColumnName[] => {
      const column = kind === "delimited" ? i + 1 : name;
      return isLast(name) && column !== time ? [column] : [];
    });
  }
  return kind === "delimited" ? [] : (await pathsOf(group)).filter((path) => isLast(path) && path !== time);
}

/** The paths of values in the first objects of a log of JSON lines or items. */
async function pathsOf(group: LogGroup): Promise<string[]> {
  const paths = new Set<string>();
  for (const object of (await objectsOf(group)).slice(0, mostObjects)) {
    for (const [key, value] of Object.entries(object)) {
      paths.add(key);
      if (typeof value === "object" && value !== null && !Array.isArray(value))
        for (const inner of Object.keys(value)) paths.add(`${key}.${inner}`);
    }
  }
  return [...paths];
}

async function lastingOf(
  { database, facilityZone }: UnreadSearch,
  { group, years }: ReadFile,
  { column, passUs }: { column: ColumnName; passUs: number },
): Promise<sql.Lasting> {
  const { layout, kind, spec } = group;
  const rest = layout.rest.filter((each) => each !== column);
  const asked: LogGroup = {
    ...group,
    spec: { ...spec, columns: { ...spec.columns, lastTime: column } },
    layout: { ...layout, rest, columns: { ...layout.columns, lastTime: column } },
  };
  const isTyped =
    isOneToOne(group) &&
    group.files.every(({ mixesLineEnds, survey }) => !mixesLineEnds && !survey.hasLongLines);
  const rows =
    kind === "items"
      ? rowsOf(asked, givenItems)
      : isTyped
        ? typedRows(asked)
        : rowsOf(asked, lineScan(group));
  const from =
    kind === "items"
      ? { text: (await firstItems(group)).map((text) => `0\x1f${text}`).join("\n") }
      : undefined;
  try {
    const measured = measuredRows(rows, asked.spec, { facilityZone, years });
    return (await database.rows<sql.Lasting>(sql.lasting(measured, passUs), from))[0]!;
  } catch {
    // What cannot be read with such a column is no last time; that the log can be read without has been seen.
    return { rows: 0, ordered: 0, longer: 0, longestUs: 0 };
  } finally {
    await database.run(sql.dropRejects);
  }
}
