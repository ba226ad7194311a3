import type { EventEstimate } from "../../model/estimate.ts";
import type { Remark } from "../../model/result/remark.ts";
import { firstThatHolds } from "../../statistics/numerics/first.ts";
import { dispersionFactor, poissonBounds, poissonUpperTail } from "../../statistics/poisson.ts";
import type { Bounds } from "../../statistics/wilson.ts";
import { type Bar, decideByBounds, type Evidence, noBounds } from "./evidence.ts";
import { isOnWrongSide, mostFurther } from "./settling.ts";

/** What was read while nothing was presented. */
export interface EventCounts {
  /** Tags read, each counted once in every clock minute that read it. */
  events: number;
  /** How long nothing was presented, in minutes; not whole. */
  minutes: number;
  /** Events by clock minute, the minutes without any included; the order carries no meaning. */
  byMinute: readonly number[];
  stays: Stays;
}

/** How long tags stayed. A stay is one tag in one session. */
interface Stays {
  /** The sum over stays of the squared number of minutes that read the tag. */
  squares: number;
  /** Minutes from the first to the last that read the tag, of the longest stay; those wholly taken by passes left out. */
  longest: number;
}

/**
 * Events in a stretch of time. Those that come in clumps are worth fewer: the interval of Garwood is made on count and
 * time divided by `varianceFactor`.
 */
export function eventEvidence({
  counts,
  ...counted
}: {
  counts: EventCounts;
  passes: number;
  remarks: Remark[];
}): Evidence {
  const { events, minutes } = counts;
  return {
    ...counted,
    isOfPasses: false,
    isRate: false,
    tags: () => null,
    byPass: null,
    bar: () => shortSession(counts),
    isEmpty: minutes <= 0,
    assumesCorrelation: false,
    estimate: ({ confidence }) => eventEstimate(counts, confidence),
    decide: (limit, { confidence }) => decideByBounds(eventEstimate(counts, confidence), limit),
    further: ({ limit }, { confidence }) =>
      firstThatHolds(
        (more) => {
          const factor = varianceFactor(counts, more);
          return boundsOf(events, minutes + more, { factor, confidence }).upper <= limit;
        },
        { from: 1, most: mostFurther },
      ),
    chanceAtLimit: (limit) => {
      if (!isOnWrongSide(events / minutes, limit)) return null;
      const factor = varianceFactor(counts);
      return poissonUpperTail(events / factor, (limit.limit * minutes) / factor);
    },
  };
}

/** A session bears no verdict "met" where it is shorter than so many of its longest stays: hardly any would have come up. */
const staysOfSession = 20;

function shortSession({ minutes, stays }: EventCounts): Bar | null {
  const neededMinutes = staysOfSession * stays.longest;
  if (minutes >= neededMinutes) return null;
  const furtherMinutes = Math.ceil(neededMinutes - minutes);
  return {
    remark: { code: "session-too-short", longestStayMinutes: stays.longest, neededMinutes },
    takes: { furtherMinutes },
    further: furtherMinutes,
  };
}

/**
 * How many times fewer independent events the events are worth: the dispersion of the minutes, times the mean number of
 * minutes that the stay of an event has, since a tag that stays is read minute after minute.
 */
function varianceFactor({ events, byMinute, stays }: EventCounts, further = 0): number {
  const meanStay = events === 0 ? 1 : Math.max(1, stays.squares / events);
  return dispersionFactor(byMinute, further) * meanStay;
}

function boundsOf(
  events: number,
  minutes: number,
  { factor, confidence }: { factor: number; confidence: number },
): Bounds {
  return poissonBounds(events / factor, minutes / factor, confidence);
}

/**
 * Events a minute; no time gives neither value nor bounds.
 * Example: 3 events in 60 minutes, each of another tag in a minute of its own, at 95 %: 0.05, 0.0103 to 0.1461.
 */
export function eventEstimate(counts: EventCounts, confidence: number): EventEstimate {
  const { events, minutes } = counts;
  const common = { k: events, n: minutes, confidence, method: "poisson" } as const;
  if (minutes <= 0) return { kind: "events", value: null, ...common, ...noBounds };
  const factor = varianceFactor(counts);
  return {
    kind: "events",
    value: events / minutes,
    ...common,
    ...boundsOf(events, minutes, { factor, confidence }),
    effectiveN: minutes / factor,
    designEffect: factor,
  };
}
