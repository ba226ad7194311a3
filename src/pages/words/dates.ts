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

/**
 * Minutes since 1970 of a moment as the result writes it, `2026-05-21T08:00:00Z` or `2026-05-21 09:00:00`, taken as it
 * stands; null for any other text. Pages have no clock and no time zones: both forms of a pass tell how they differ.
 */
export function minutesOf(moment: string | null): number | null {
  const found = /^(\d{4})-(\d{2})-(\d{2})[T ](\d{2}):(\d{2})(?::(\d{2}(?:\.\d+)?))?Z?$/.exec(moment ?? "");
  if (found === null) return null;
  const [year, month, day, hour, minute, second] = found.slice(1).map((part) => Number(part ?? 0));
  return daysSince1970(year!, month!, day!) * 1440 + hour! * 60 + minute! + (second || 0) / 60;
}

/** Days of the Gregorian calendar, years beginning in March so that a leap day comes last. */
function daysSince1970(year: number, month: number, day: number): number {
  const shifted = month > 2 ? year : year - 1;
  const sinceMarch = (month + 9) % 12;
  const leapDays = Math.floor(shifted / 4) - Math.floor(shifted / 100) + Math.floor(shifted / 400);
  return shifted * 365 + leapDays + Math.floor((153 * sinceMarch + 2) / 5) + day - 1 - 719468;
}

/** `2026-05-21` and `09:31` of minutes since 1970. */
export function clockOf(minutes: number): { date: string; clock: string } {
  const days = Math.floor(minutes / 1440);
  const rest = Math.floor(minutes - days * 1440);
  const two = (part: number) => String(part).padStart(2, "0");
  // Backwards from days to a date: a year is never off by more than one, so that a short search finds it.
  let year = 1970 + Math.floor(days / 365.2425);
  if (daysSince1970(year + 1, 1, 1) <= days) year += 1;
  if (daysSince1970(year, 1, 1) > days) year -= 1;
  let month = 12;
  while (daysSince1970(year, month, 1) > days) month -= 1;
  const day = days - daysSince1970(year, month, 1) + 1;
  return {
    date: `${year}-${two(month)}-${two(day)}`,
    clock: `${two(Math.floor(rest / 60))}:${two(rest % 60)}`,
  };
}
