import { quoted } from "../../problems/card/wording.ts";
import type { LogDatabase } from "../database/database.ts";
import { roleOfName } from "../source/column-words.ts";
import { instants } from "../statements.ts";
import { type ColumnChoice, isNumber, shownColumn } from "./columns.ts";
import { asTimes, type TimeGuess } from "./times.ts";

/** Fewer rises than this come about by chance. */
const fewestRises = 5;

/**
 * A column called a count that rises from row to row, or from row to row of each tag, counts on and on: its values say nothing of
 * how many reads a row stands for. Such a column is taken out of the choice, with a doubt.
 */
export function withoutRunningCounter(
  choice: ColumnChoice,
  values: readonly (readonly string[])[],
): ColumnChoice {
  const { count, code } = choice.chosen;
  if (count === null) return choice;
  const counts = values[count]!;
  const everywhere = counts.map(() => "");
  const isRunning = risesAlways(counts, everywhere) || (code !== null && risesAlways(counts, values[code]!));
  if (!isRunning) return choice;
  const columns = choice.columns.map((column, i) =>
    i === count ? { ...column, role: "row number" as const, used: false } : column,
  );
  const doubt = `${shownColumn(columns[count]!.name)} counts on from row to row: it is no count of the reads that a row stands for, and was left out.`;
  return {
    ...choice,
    columns,
    chosen: { ...choice.chosen, count: null },
    doubts: [...choice.doubts, doubt],
  };
}

function risesAlways(counts: readonly string[], tags: readonly string[]): boolean {
  const before = new Map<string, number>();
  let rises = 0;
  for (const [row, text] of counts.entries()) {
    if (text === "") continue;
    const count = Number(text);
    const last = before.get(tags[row]!);
    if (last !== undefined) {
      if (!(count > last)) return false;
      rises += 1;
    }
    before.set(tags[row]!, count);
  }
  return rises >= fewestRises;
}

interface SampledTimes {
  values: readonly (readonly string[])[];
  times: readonly TimeGuess[];
  decimal: "." | ",";
}

/** What there is to say of columns that hold times and are not the chosen one: other clocks, with their difference, and times from an unknown start. */
export async function clockDoubts(
  database: LogDatabase,
  { columns, chosen }: ColumnChoice,
  { values, times, decimal }: SampledTimes,
): Promise<string[]> {
  const chosenTime = chosen.time === null ? undefined : times[chosen.time];
  if (chosen.time === null || chosenTime?.kind !== "style") {
    return columns.flatMap(({ name }, i) => {
      const isCalledTime = ["time", "last time", "uptime"].includes(roleOfName(String(name))?.role ?? "");
      return isCalledTime ? relativeDoubts(shownColumn(name), values[i]!) : [];
    });
  }
  const own = await instantsOf(database, asTimes(values[chosen.time]!, chosenTime.style, decimal));
  const doubts: string[] = [];
  for (const [i, { name, role, used }] of columns.entries()) {
    const time = times[i]!;
    if (used || time.kind !== "style" || role === "last time") continue;
    const other = await instantsOf(database, asTimes(values[i]!, time.style, decimal));
    const ahead = other
      .flatMap((us, row) => (us === null || own[row] == null ? [] : [(us - own[row]) / 1e6]))
      .sort((a, b) => a - b);
    if (ahead.length === 0) continue;
    const [least, middle, most] = [ahead[0]!, ahead[(ahead.length - 1) >>> 1]!, ahead.at(-1)!];
    const how = middle < 0 ? "behind" : "ahead of";
    // Of a clock that is behind all the while, how far behind.
    const [from, to] = most < 0 ? [-most, -least] : [least, most];
    const span = least === most ? "" : ` (from ${secondsText(from)} to ${secondsText(to)})`;
    doubts.push(
      `${shownColumn(name)} is a second clock, ${secondsText(Math.abs(middle))} ${how} ${shownColumn(columns[chosen.time]!.name)} in the middle${span}. The entry goes by the latter: compare both with the clock of the passes.`,
    );
  }
  return doubts;
}

const secondsText = (seconds: number): string => `${Number(seconds.toFixed(3))} s`;

/** Counts that rise from an unknown start cannot be placed on any day. */
function relativeDoubts(name: string, values: readonly string[]): string[] {
  const filled = values.filter((value) => value !== "");
  const numbers = filled.filter(isNumber).map((value) => Number(value.replace(",", ".")));
  if (numbers.length < 2 || numbers.length < 0.9 * filled.length) return [];
  const [first, last] = [filled[0]!, filled.at(-1)!];
  const falls = numbers.filter((value, i) => i > 0 && value < numbers[i - 1]!).length;
  if (falls > 0.1 * numbers.length) return [];
  return [
    `${name} holds relative times, from ${quoted(first)} to ${quoted(last)}: they count from a start that the log does not state, so no pass can be found by them. Have the log write date and time.`,
  ];
}

/** Microseconds since 1970, null where a text is no time. */
async function instantsOf(
  database: LogDatabase,
  { measured, text }: { measured: string; text: string },
): Promise<(number | null)[]> {
  const found = await database.rows<{ us: number | null }>(instants(measured), { text });
  return found.map(({ us }) => us);
}
