import { Temporal } from "temporal-polyfill";

const months = [
  "January",
  "February",
  "March",
  "April",
  "May",
  "June",
  "July",
  "August",
  "September",
  "October",
  "November",
  "December",
];

/** `21 May 2026` from YYYY-MM-DD; any other text is shown as it stands. */
export function dateText(date: string): string {
  const [, year, month, day] = /^(\d{4})-(\d{2})-(\d{2})$/.exec(date) ?? [];
  const name = months[Number(month) - 1];
  return year && name ? `${Number(day)} ${name} ${year}` : date;
}

/** `21 May 2026`, or words that say there is none. */
export function dateOrWords(date: string | null, words: string): string {
  return date === null ? words : dateText(date);
}

/** `21 May 2026, 09:14:05` from the wall-clock text of a pass; `not recorded` where there is none. */
export function momentText(local: string | null): string {
  if (local === null) return "not recorded";
  const [date = "", clock = ""] = local.split(" ");
  return clock === "" ? dateText(date) : `${dateText(date)}, ${clock}`;
}

/** `09:14:05` from the wall-clock text of a pass. */
export function clockText(local: string | null): string {
  return local === null ? "not recorded" : (local.split(" ")[1] ?? local);
}

const epoch = Temporal.PlainDateTime.from("1970-01-01T00:00");

/** By date: its midnight, in minutes since 1970. A walk has thousands of moments and a few days. */
const midnights = new Map<string, number>();

function midnightOf(date: string): number {
  const minutes = midnights.get(date) ?? epoch.until(Temporal.PlainDate.from(date)).total("minutes");
  midnights.set(date, minutes);
  return minutes;
}

/**
 * Minutes since 1970 of a moment as the result writes it, `2026-05-21T08:00:00Z` or `2026-05-21 09:00:00`, as it stands; null
 * for any other text. Pages have no clock and no time zones: a pass has both forms, and the difference is its offset.
 */
export function minutesOf(moment: string | null): number | null {
  const parts = /^(\d{4}-\d{2}-\d{2})[T ](\d{2}):(\d{2})(?::(\d{2})(?:\.(\d+))?)?Z?$/.exec(moment ?? "");
  if (parts === null) return null;
  const [, date = "", hours, minutes, seconds = "0", decimals = ""] = parts;
  const micros = Number(seconds) * 1e6 + Number(decimals.slice(0, 6).padEnd(6, "0"));
  return midnightOf(date) + Number(hours) * 60 + Number(minutes) + micros / 6e7;
}

/** `2026-05-21` and `09:31` of minutes since 1970. */
export function clockOf(minutes: number): { date: string; clock: string } {
  const moment = epoch.add({ minutes: Math.floor(minutes) });
  return {
    date: moment.toPlainDate().toString(),
    clock: moment.toPlainTime().toString({ smallestUnit: "minute" }),
  };
}
