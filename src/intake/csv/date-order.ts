import type { DateOrder } from "../../model/facility.ts";

/** A time whose date begins with the day or the month: which of the two, only the whole column can tell. */
export interface UnorderedTime {
  first: number;
  second: number;
  year: string;
  /** `HH:MM:SS`, with decimals and offset as far as they were written. */
  clock: string;
}

const shape =
  /^(\d{1,2})([-./])(\d{1,2})\2(\d{4})(?:, ?|[ T])(\d{1,2}):(\d{2})(?::(\d{2}(?:[.,]\d{1,9})?))?(?: ?([ap])\.?m\.?)?(?: ?(z|[-+]\d{2}:?\d{2}))?$/i;

/** Null where a text is no such time, or no month could be in it. */
export function unorderedTime(text: string): UnorderedTime | null {
  const parts = shape.exec(text);
  if (parts === null || (Number(parts[1]) > 12 && Number(parts[3]) > 12)) return null;
  const [, first, , second, year, hour, minute, seconds = "00", half, offset = ""] = parts;
  const written = Number(hour);
  if (half !== undefined && (written < 1 || written > 12)) return null;
  const ofDay = half === undefined ? written : (written % 12) + (half.toLowerCase() === "p" ? 12 : 0);
  const clock = `${twoDigits(ofDay)}:${minute}:${seconds}${offset}`;
  return { first: Number(first), second: Number(second), year: year!, clock };
}

/** The time with the year first, as everything else reads it. */
export function inOrder({ first, second, year, clock }: UnorderedTime, order: DateOrder): string {
  const [day, month] = order === "day-first" ? [first, second] : [second, first];
  return `${year}-${twoDigits(month)}-${twoDigits(day)} ${clock}`;
}

/**
 * The one order in which every date exists; `either` where both would do and give other days, `neither` where no order does.
 *
 * Worked example: 05/11/2026 alone could be both; with 13/11/2026 beside it, the day is first.
 */
export function orderOf(times: readonly UnorderedTime[]): DateOrder | "either" | "neither" {
  const isDayFirst = times.every(({ second }) => second <= 12);
  const isMonthFirst = times.every(({ first }) => first <= 12);
  if (isDayFirst && isMonthFirst)
    return times.every(({ first, second }) => first === second) ? "day-first" : "either";
  if (isDayFirst) return "day-first";
  return isMonthFirst ? "month-first" : "neither";
}

/** A time with the year first, in each order in which it exists: the day first, then the month first. None for any other text. */
export function yearFirst(text: string): string[] {
  const time = unorderedTime(text);
  if (time === null) return [];
  const order = orderOf([time]);
  if (order === "neither") return [];
  return (order === "either" ? (["day-first", "month-first"] as const) : [order]).map((each) =>
    inOrder(time, each),
  );
}

function twoDigits(number: number): string {
  return String(number).padStart(2, "0");
}
