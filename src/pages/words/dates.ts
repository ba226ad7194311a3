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
