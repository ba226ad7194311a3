import { type NamedRole, roleOfName } from "./column-words.ts";
import type { ColumnRole, DescribedColumn } from "./log-description.ts";
import { isClock, isDate } from "./time-formats.ts";
import { plainNumber, timeStyleOf } from "./time-texts.ts";

/** The roles that a `reader_logs` entry names columns for. */
const entryRoles = ["time", "code", "antenna", "RSSI", "count", "reader"] as const;
type EntryRole = (typeof entryRoles)[number];

export interface ColumnChoice {
  columns: DescribedColumn[];
  /** Index of the column of each role. */
  chosen: Record<EntryRole, number | null>;
  /** Columns not recognised that could name readers: a few texts that come again and again. */
  readerCandidates: number[];
  /** Doubts about the choice, in sentences. */
  doubts: string[];
}

const sampleCount = 3;

/** Decides what each column is taken for: by its name where that tells, else by what it holds. */
export function chosenColumns(
  names: readonly (string | number)[],
  rows: readonly (readonly string[])[],
  decimal: "." | ",",
  shown: (name: string | number) => string,
): ColumnChoice {
  const doubts: string[] = [];
  const values = names.map((_, i) => rows.map((row) => row[i] ?? ""));
  const named = names.map((name, i) =>
    typeof name === "string" ? wholeTime(roleOfName(name), values[i]!, decimal) : null,
  );
  const columns = names.map(
    (name, i): DescribedColumn => ({
      name,
      samples: samplesOf(values[i]!),
      role: named[i]?.role ?? "unknown",
      by: named[i]?.by ?? "nothing",
      used: false,
    }),
  );
  const chosen = {} as ColumnChoice["chosen"];
  const taken = new Set<number>();
  const mentioned = new Set<number>();
  const take = (role: EntryRole, index: number | null) => {
    chosen[role] = index;
    if (index === null) return;
    taken.add(index);
    columns[index]!.used = true;
    columns[index]!.role = role;
    if (columns[index]!.by === "nothing") columns[index]!.by = "values";
  };
  for (const role of entryRoles) {
    const byName = bestNamed(role, named, values, decimal);
    if (byName.length > 0) {
      take(role, byName[0]!);
      const rivals = byName.slice(1).filter((i) => named[i]!.by === "name" && named[i]!.role === role);
      if (rivals.length > 0) {
        doubts.push(
          `${listed(rivals, names, shown)} could be the ${role} as well as ${shown(names[byName[0]!]!)}, which was taken.`,
        );
      }
      continue;
    }
    const free = names.map((_, i) => i).filter((i) => !taken.has(i) && named[i] === null);
    const fitting = free.filter((i) => byValues[role](values[i]!, decimal));
    take(role, fitting[0] ?? null);
    if (fitting.length > 1) {
      for (const i of fitting) mentioned.add(i);
      doubts.push(
        `Going by their values, ${listed(fitting, names, shown)} could each be the ${role}; ${shown(names[fitting[0]!]!)} was taken.`,
      );
    }
  }
  partedTime(columns, chosen, values);
  if (chosen.time === null) {
    for (const [i, column] of columns.entries()) {
      if (column.role !== "unknown") continue;
      const guess = timeStyleOf(values[i]!, decimal);
      if (guess.kind === "unusable") doubts.push(`${shown(column.name)}: ${guess.why}.`);
    }
  }
  for (const [i, column] of columns.entries()) {
    if (
      column.role === "unknown" &&
      typeof column.name === "number" &&
      isSmallCount(values[i]!) &&
      !mentioned.has(i)
    ) {
      doubts.push(
        `${shown(column.name)} holds small whole numbers: it could be an antenna, a reader, a count of reads or a channel, and was left out.`,
      );
    }
  }
  const readerCandidates = columns.flatMap(({ role }, i) =>
    chosen.reader === null && role === "unknown" && couldNameReaders(values[i]!) ? [i] : [],
  );
  return { columns, chosen, readerCandidates, doubts };
}

/** A column called a date, or a time of day, that holds both is a time. */
function wholeTime(found: NamedRole | null, values: readonly string[], decimal: "." | ","): NamedRole | null {
  const isPart = found?.role === "date alone" || found?.role === "time of day alone";
  return isPart && timeStyleOf(values, decimal).kind === "style" ? { ...found, role: "time" } : found;
}

/** Date and time of day in two columns: neither can be named as the time. */
function partedTime(
  columns: DescribedColumn[],
  chosen: ColumnChoice["chosen"],
  values: readonly (readonly string[])[],
): void {
  const holds = (i: number, test: (value: string) => boolean) =>
    ["unknown", "time", "date alone", "time of day alone"].includes(columns[i]!.role) &&
    mostly(values[i]!, test);
  const indexes = columns.map((_, i) => i);
  const dates = indexes.filter((i) => holds(i, isDate));
  const clocks = indexes.filter((i) => holds(i, isClock));
  if (dates.length === 0 || clocks.length === 0) return;
  if (chosen.time !== null && !dates.includes(chosen.time) && !clocks.includes(chosen.time)) return;
  chosen.time = null;
  for (const i of [...dates, ...clocks]) {
    const column = columns[i]!;
    column.used = false;
    column.role = dates.includes(i) ? "date alone" : "time of day alone";
    if (column.by === "nothing") column.by = "values";
  }
}

/** A few texts or whole numbers that come again and again; numbers say less, so they must be fewer. */
function couldNameReaders(values: readonly string[]): boolean {
  const filled = [...new Set(values.filter((value) => value !== ""))];
  if (filled.length === 0 || filled.length > 20) return false;
  if (filled.every((value) => /^\d+$/.test(value))) return filled.length <= 8;
  return filled.some((value) => !/^[-+\d.,]+$/.test(value));
}

function listed(
  indexes: number[],
  names: readonly (string | number)[],
  shown: (name: string | number) => string,
): string {
  const words = indexes.map((i) => shown(names[i]!));
  return words.length < 2
    ? words.join("")
    : `${words.slice(0, -1).join(", ")} and ${words[words.length - 1]}`;
}

/** Columns whose name fits, best first; those whose values cannot be what the name says come last or not at all. */
function bestNamed(
  role: EntryRole,
  named: readonly (NamedRole | null)[],
  values: readonly (readonly string[])[],
  decimal: "." | ",",
): number[] {
  const fitting = named
    .map((found, i) => ({ found, i }))
    .filter(({ found }) => found?.role === role)
    .map(({ found, i }) => ({ i, rank: found!.rank + (plausible(role, values[i]!, decimal) ? 0 : 1e6) }));
  // A column of the last time, or a chip's own number, is better than none at all.
  const second = role === "time" ? "last time" : role === "code" ? "chip number" : null;
  if (second !== null) {
    for (const [i, found] of named.entries()) {
      if (found?.role === second) fitting.push({ i, rank: found.rank + 5e5 });
    }
    // So is one of no telling name that holds the thing itself, better than a name that holds something else.
    if (fitting.length > 0 && fitting.every(({ rank }) => rank >= 1e6)) {
      for (const [i, found] of named.entries()) {
        if (found === null && byValues[role](values[i]!, decimal)) fitting.push({ i, rank: 9e5 });
      }
    }
  }
  const inOrder = fitting.sort((a, b) => a.rank - b.rank || a.i - b.i);
  const sure = inOrder.filter(({ rank }) => rank < 5e5);
  return (sure.length > 0 ? sure : inOrder.slice(0, 1)).map(({ i }) => i);
}

function plausible(role: ColumnRole, values: readonly string[], decimal: "." | ","): boolean {
  if (role === "time") return timeStyleOf(values, decimal).kind === "style";
  if (role === "code") return mostly(values, (value) => /^[\s0-9A-Za-z+/=':._-]{4,}$/.test(value));
  if (role === "RSSI" || role === "count") {
    return mostly(values, (value) => !Number.isNaN(plainNumber(value, decimal)));
  }
  return values.some((value) => value !== "");
}

const byValues: Record<EntryRole, (values: readonly string[], decimal: "." | ",") => boolean> = {
  time: (values, decimal) => timeStyleOf(values, decimal).kind === "style",
  code: (values) => mostly(values, (value) => isLongHex(value)),
  antenna: (values) =>
    isSmallCount(values) && new Set(values).size > 1 && values.every((value) => Number(value) <= 16),
  RSSI: (values, decimal) =>
    mostly(values, (value) => {
      const number = plainNumber(value, decimal);
      return (number >= -100 && number <= -15) || (number >= -10_000 && number <= -1500);
    }),
  // A wrong count would change every sum: its column has to be named.
  count: () => false,
  // Any column of few texts could name readers.
  reader: () => false,
};

function isLongHex(value: string): boolean {
  const bare = value
    .replace(/^b'(.*)'$/, "$1")
    .replace(/^0x/i, "")
    .replace(/[\s:-]/g, "");
  return /^[0-9A-Fa-f]{16,}$/.test(bare) && !/^\d{16,19}$/.test(bare);
}

function isSmallCount(values: readonly string[]): boolean {
  const filled = values.filter((value) => value !== "");
  return filled.length > 0 && filled.every((value) => /^\d{1,3}$/.test(value));
}

function mostly(values: readonly string[], test: (value: string) => boolean): boolean {
  const filled = values.filter((value) => value !== "");
  return filled.length > 0 && filled.filter(test).length >= 0.9 * filled.length;
}

/** The first few different values. */
function samplesOf(values: readonly string[]): string[] {
  const samples = new Set<string>();
  for (const value of values) {
    if (value !== "") samples.add(value);
    if (samples.size === sampleCount) break;
  }
  return [...samples];
}
