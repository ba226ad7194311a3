import type { ColumnName } from "../../../model/facility.ts";
import { joined } from "../../../model/number-words.ts";
import { quoted } from "../../problems/card/wording.ts";
import { type ColumnRole, type NamedRole, roleOfName } from "../source/column-words.ts";
import { type EventChoice, eventsOf } from "./events.ts";
import { isClock, isDate, type TimeGuess } from "./times.ts";

/** The roles that an entry of `reader_logs` names columns for. */
export const entryRoles = ["time", "code", "antenna", "RSSI", "count", "reader"] as const;
export type EntryRole = (typeof entryRoles)[number];

export interface DescribedColumn {
  /** The header's name, or the number from 1 where there is none. */
  name: ColumnName;
  /** The first few different values. */
  samples: string[];
  role: ColumnRole;
  /** How that was told: `name` is as good as certain, the others are guesses. */
  by: "name" | "part of its name" | "values" | "nothing";
  /** Whether the entry names this column. */
  used: boolean;
}

export interface ColumnChoice {
  columns: DescribedColumn[];
  /** Index of the column of each role. */
  chosen: Record<EntryRole, number | null>;
  /** The column of the day, where the chosen time is a time of day. */
  date: number | null;
  /** The chosen code, and columns that hold the code in rows where those before them are blank. */
  codes: number[];
  /** Which rows are reads, where others are no reads by the look of it. */
  only: EventChoice[];
  /** Columns that are not recognised and could name readers: a few texts that come again and again. */
  readerCandidates: number[];
  /** Doubts about the choice, in sentences. */
  doubts: string[];
}

/** A column of a sample, as the choice looks at it. */
interface Sampled {
  name: ColumnName;
  values: readonly string[];
  time: TimeGuess;
  named: NamedRole | null;
}

/** A column in running text: its name in quotes, or its number. */
export function shownColumn(name: ColumnName): string {
  return typeof name === "number" ? `column ${name}` : quoted(name);
}

/**
 * Decides what each column is taken for: by its name where that tells, else by what it holds.
 *
 * @param values of each column
 * @param times how the times of each column are written
 */
export function chooseColumns(
  names: readonly ColumnName[],
  values: readonly (readonly string[])[],
  times: readonly TimeGuess[],
): ColumnChoice {
  const sampled = names.map(
    (name, i): Sampled => ({ name, values: values[i]!, time: times[i]!, named: namedRole(name, times[i]!) }),
  );
  const columns = sampled.map(
    ({ name, values, named }): DescribedColumn => ({
      name,
      samples: [...new Set(values.filter((value) => value !== ""))].slice(0, 3),
      role: named?.role ?? "unknown",
      by: named?.by ?? "nothing",
      used: false,
    }),
  );
  const chosen = {} as ColumnChoice["chosen"];
  const doubts: string[] = [];
  const rivals = new Set<number>();
  for (const role of entryRoles) {
    const { best, others, doubt } = columnFor(role, sampled, columns);
    chosen[role] = best;
    if (doubt !== null) doubts.push(doubt);
    for (const i of others) rivals.add(i);
    if (best === null) continue;
    const by = columns[best]!.by === "nothing" ? "values" : columns[best]!.by;
    Object.assign(columns[best]!, { role, by, used: true });
  }
  const date = separateParts(columns, chosen, sampled);
  const codes = codesBeside(chosen.code, columns, sampled);
  const only = eventsOf(
    sampled.map(({ name, values }, i) => ({ name, values, isFree: !columns[i]!.used })),
    codes,
  );
  for (const { index } of only) Object.assign(columns[index]!, { role: "kind of event", used: true });
  const last = lastTimeBeside(chosen.time, columns, sampled);
  if (last !== null) last.used = true;
  for (const [i, { name, values, time }] of sampled.entries()) {
    if (columns[i]!.role !== "unknown") continue;
    if (chosen.time === null && time.kind === "unusable") doubts.push(`${shownColumn(name)}: ${time.why}.`);
    if (typeof name === "number" && isSmallCount(values) && !rivals.has(i)) {
      doubts.push(
        `${shownColumn(name)} holds small whole numbers: it could be an antenna, a reader, a count of reads or a channel, and was left out.`,
      );
    }
  }
  const readerCandidates = sampled.flatMap(({ values }, i) =>
    chosen.reader === null && columns[i]!.role === "unknown" && couldNameReaders(values) ? [i] : [],
  );
  return { columns, chosen, date, codes, only, readerCandidates, doubts };
}

/** The first column called a last time that is written as the chosen time is; null where there is none. */
function lastTimeBeside(
  chosen: number | null,
  columns: readonly DescribedColumn[],
  sampled: readonly Sampled[],
): DescribedColumn | null {
  const styleOf = (i: number) => {
    const { time } = sampled[i]!;
    return time.kind === "style" ? JSON.stringify(time.style) : null;
  };
  const style = chosen === null ? null : styleOf(chosen);
  if (style === null) return null;
  return columns.find(({ role, used }, i) => role === "last time" && !used && styleOf(i) === style) ?? null;
}

/** A column called a date, a time of day, or the host or antenna that wrote the row, and that holds dates with times, is a time. */
function namedRole(name: ColumnName, time: TimeGuess): NamedRole | null {
  const named = typeof name === "string" ? roleOfName(name) : null;
  if (named === null || time.kind !== "style") return named;
  const isPart = named.role === "date alone" || named.role === "time of day alone";
  // A number may name a reader and count seconds.
  const isText = time.style.unit === "iso" || time.style.format !== null;
  const isPlace = (named.role === "reader" || named.role === "antenna") && isText;
  return isPart || isPlace ? { ...named, role: "time" } : named;
}

interface Choice {
  best: number | null;
  /** Columns that would do as well. */
  others: number[];
  doubt: string | null;
}

function columnFor(
  role: EntryRole,
  sampled: readonly Sampled[],
  columns: readonly DescribedColumn[],
): Choice {
  const shown = (indices: readonly number[]) => joined(indices.map((i) => shownColumn(sampled[i]!.name)));
  const [named, ...rivals] = byName(role, sampled);
  if (named !== undefined) {
    const equal = rivals.filter((i) => sampled[i]!.named?.by === "name" && sampled[i]!.named.role === role);
    const taken = shown([named]);
    const doubt = `${shown(equal)} could be the ${role} as well as ${taken}, which was taken.`;
    return { best: named, others: [], doubt: equal.length === 0 ? null : doubt };
  }
  const fitting = sampled.flatMap(({ named: name, ...column }, i) =>
    name === null && !columns[i]!.used && holds[role](column) ? [i] : [],
  );
  const [best = null] = fitting;
  if (fitting.length < 2) return { best, others: [], doubt: null };
  const doubt = `Going by their values, ${shown(fitting)} could each be the ${role}; ${shown(fitting.slice(0, 1))} was taken.`;
  return { best, others: fitting, doubt };
}

/** Columns whose name fits, best first. One whose values cannot be what the name says, or that holds the next best thing, is better than none. */
function byName(role: EntryRole, sampled: readonly Sampled[]): number[] {
  const nextBest = { time: "last time", code: "chip number" }[role as string];
  const fitting = sampled.flatMap((column, i) => {
    const { named } = column;
    if (named?.role === role) return [{ i, tier: isPlausible(role, column) ? 0 : 3, rank: named.rank }];
    if (named !== null && named.role === nextBest) return [{ i, tier: 1, rank: named.rank }];
    return named === null && nextBest !== undefined && holds[role](column) ? [{ i, tier: 2, rank: 0 }] : [];
  });
  fitting.sort((a, b) => a.tier - b.tier || a.rank - b.rank || a.i - b.i);
  // A column without a telling name is taken here only in place of one whose name is wrong.
  if (!fitting.some(({ tier }) => tier !== 2)) return [];
  const sure = fitting.filter(({ tier }) => tier === 0);
  return (sure.length > 0 ? sure : fitting.slice(0, 1)).map(({ i }) => i);
}

function isPlausible(role: EntryRole, { values, time }: Pick<Sampled, "values" | "time">): boolean {
  if (role === "time") return time.kind === "style";
  if (role === "code") return mostly(values, (value) => /^[\s0-9A-Za-z+/=':._-]{4,}$/.test(value));
  if (role === "RSSI") return mostly(values, (value) => levelIn(value) !== null);
  if (role === "count") return mostly(values, isNumber);
  return values.some((value) => value !== "");
}

/** Whether values alone tell a role. A wrong count would change every sum, and any column of few texts could name readers: those have to be named. */
const holds: Record<EntryRole, (column: Pick<Sampled, "values" | "time">) => boolean> = {
  time: ({ time }) => time.kind === "style",
  code: ({ values }) => mostly(values, isLongHex),
  antenna: ({ values }) =>
    isSmallCount(values) && new Set(values).size > 1 && values.every((value) => Number(value) <= 16),
  RSSI: ({ values }) =>
    mostly(values, (value) => {
      const level = levelIn(value) ?? 0;
      return (level >= -100 && level <= -15) || (level >= -10_000 && level <= -1500);
    }),
  count: () => false,
  reader: () => false,
};

/** Date and time of day in two columns: the time is the one with the other. Returns the column of the day, null where there are no such two. */
function separateParts(
  columns: DescribedColumn[],
  chosen: ColumnChoice["chosen"],
  sampled: readonly Sampled[],
): number | null {
  const holding = (test: (value: string) => boolean) =>
    columns.flatMap(({ role }, i) =>
      ["unknown", "time", "date alone", "time of day alone"].includes(role) &&
      mostly(sampled[i]!.values, test)
        ? [i]
        : [],
    );
  const [dates, clocks] = [holding(isDate), holding(isClock)];
  const [date, clock] = [dates[0], clocks[0]];
  if (date === undefined || clock === undefined) return null;
  if (chosen.time !== null && ![...dates, ...clocks].includes(chosen.time)) return null;
  for (const i of [...dates, ...clocks]) {
    const column = columns[i]!;
    const role = dates.includes(i) ? "date alone" : i === clock ? "time" : "time of day alone";
    const used = i === date || i === clock;
    Object.assign(column, { role, used, by: column.by === "nothing" ? "values" : column.by });
  }
  chosen.time = clock;
  return date;
}

/** The chosen code, and other columns of codes that are filled where those before them are blank. */
function codesBeside(
  chosen: number | null,
  columns: readonly DescribedColumn[],
  sampled: readonly Sampled[],
): number[] {
  if (chosen === null) return [];
  const codes = [chosen];
  const isCode = ({ role, used }: DescribedColumn, i: number) =>
    !used && (role === "code" || role === "unknown") && mostly(sampled[i]!.values, isLongHex);
  for (const [i, column] of columns.entries()) {
    const isBlank = (row: number) => codes.every((code) => sampled[code]!.values[row] === "");
    if (!isCode(column, i) || !sampled[i]!.values.some((value, row) => value !== "" && isBlank(row)))
      continue;
    // Where both are filled in a row they are two things.
    if (sampled[i]!.values.some((value, row) => value !== "" && !isBlank(row))) continue;
    codes.push(i);
    Object.assign(column, { role: "code", used: true, by: column.by === "nothing" ? "values" : column.by });
  }
  return codes;
}

/** A few texts or whole numbers that come again and again; numbers say less, so they must be fewer. */
function couldNameReaders(values: readonly string[]): boolean {
  const filled = [...new Set(values.filter((value) => value !== ""))];
  if (filled.length === 0 || filled.length > 20) return false;
  if (filled.every((value) => /^\d+$/.test(value))) return filled.length <= 8;
  return filled.some((value) => !/^[-+\d.,]+$/.test(value));
}

/** A number without an exponent. */
export function isNumber(value: string): boolean {
  return /^[-+]?(?:\d+(?:[.,]\d*)?|[.,]\d+)$/.test(value);
}

/** The level that a text holds, the strongest of a list of levels; null where it holds anything else. */
export function levelIn(value: string): number | null {
  if (isNumber(value)) return Number(value.replace(",", "."));
  if (!/[[;|\s]|\d,\s*-/.test(value)) return null;
  const parts = value.split(/[[\]",;|\s]+/).filter((part) => part !== "" && part !== "null");
  return parts.length > 0 && parts.every(isNumber) ? Math.max(...parts.map(Number)) : null;
}

function isLongHex(value: string): boolean {
  const digits = value
    .replace(/^b'(.*)'$/, "$1")
    .replace(/^0x/i, "")
    .replace(/[\s:-]/g, "");
  return /^[0-9A-Fa-f]{16,}$/.test(digits) && !/^\d{16,19}$/.test(digits);
}

function isSmallCount(values: readonly string[]): boolean {
  const filled = values.filter((value) => value !== "");
  return filled.length > 0 && filled.every((value) => /^\d{1,3}$/.test(value));
}

function mostly(values: readonly string[], test: (value: string) => boolean): boolean {
  const filled = values.filter((value) => value !== "");
  return filled.length > 0 && filled.filter(test).length >= 0.9 * filled.length;
}
