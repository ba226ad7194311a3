import { Registry } from "../model/registry.ts";
import { anyTime } from "./any-time.ts";
import { betaBinomial } from "./beta-binomial.ts";
import { exact } from "./exact.ts";
import type { Interval } from "./interval.ts";
import { wilson } from "./wilson.ts";

/** Every interval, in the order in which they are listed; the first is made where a facility names none. */
export const intervals = new Registry<Interval>([wilson, exact, betaBinomial, anyTime]);

/** The one for a facility that names none. */
export function defaultInterval(): Interval {
  return intervals.all()[0]!;
}

/** The one to sign off by, which a new facility is given. */
export function signOffInterval(): Interval {
  return intervals.all().find(({ isForSignOff }) => isForSignOff) ?? defaultInterval();
}

/** The id of the interval whose verdicts are shown beside those of another; null where that one is as strict. */
export function stricterThan(id: string): string | null {
  return intervals.get(id).isStrict ? null : signOffInterval().id;
}
