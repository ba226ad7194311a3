import type { Stamp } from "../aisle/pass.ts";

const two = (number: number) => String(Math.floor(number)).padStart(2, "0");

/** A moment as RFC 3339; `minutesAhead` is how far the device's clock is ahead of UTC. */
export function stampOf(ms: number, minutesAhead: number): Stamp {
  const wall = new Date(ms + minutesAhead * 60_000).toISOString().slice(0, 19);
  const ahead = Math.abs(minutesAhead);
  return { ms, text: `${wall}${minutesAhead < 0 ? "-" : "+"}${two(ahead / 60)}:${two(ahead % 60)}` };
}

export function stampNow(): Stamp {
  const now = new Date();
  return stampOf(now.getTime(), -now.getTimezoneOffset());
}

/** The time of day: `10:04:31`. */
export function clockOf(stamp: Stamp): string {
  return stamp.text.slice(11, 19);
}

/** `2:05`, in minutes and seconds. */
export function duration(ms: number): string {
  const seconds = Math.max(0, Math.floor(ms / 1000));
  return `${Math.floor(seconds / 60)}:${two(seconds % 60)}`;
}
