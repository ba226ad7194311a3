import { Registry } from "../model/registry.ts";
import { anyTime } from "./any-time.ts";
import { betaBinomial } from "./beta-binomial.ts";
import { exact } from "./exact.ts";
import type { Interval } from "./interval.ts";
import { wilson } from "./wilson.ts";

/** Every interval, in the order in which they are listed; the first is made where a facility names none. */
export const intervals = new Registry<Interval>([wilson, exact, betaBinomial, anyTime]);

export function defaultInterval(): Interval {
  return intervals.all()[0]!;
}

/** The one that a new facility is given. */
export function intervalAtStart(): Interval {
  return intervals.all().find(({ words }) => words.atStart !== undefined) ?? defaultInterval();
}
