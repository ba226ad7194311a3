const two = (value: number): string => String(value).padStart(2, "0");

/** Seconds since midnight of a time on the wall, `HH:MM`. */
export function secondsOfDay(time: string): number {
  const [hours, minutes] = time.split(":").map(Number);
  return hours! * 3600 + minutes! * 60;
}

/** `2026-05-18 09:12:05`, or with an offset `2026-05-18T09:12:05-03:00`. */
export function wallTime(date: string, secondOfDay: number, offset: string | null): string {
  const clock = [secondOfDay / 3600, (secondOfDay / 60) % 60, secondOfDay % 60]
    .map(Math.floor)
    .map(two)
    .join(":");
  return offset === null ? `${date} ${clock}` : `${date}T${clock}${offset}`;
}
