import type { EventEstimate } from "../../model/estimate.ts";
import type { Remark } from "../../model/result.ts";
import { firstThatHolds } from "../../statistics/first.ts";
import { dispersionFactor, poissonBounds, poissonUpperTail } from "../../statistics/poisson.ts";
import type { Bounds } from "../../statistics/wilson.ts";
import { decideByBounds, type Evidence, noBounds } from "./evidence.ts";
import { isOnWrongSide, mostFurther } from "./settling.ts";

/** What was read while nothing was presented. */
export interface EventCounts {
  /** Tags read, each counted once in every clock minute that read it. */
  events: number;
  /** How long nothing was presented, in minutes; not whole. */
  minutes: number;
  /** Events by clock minute, the minutes without any included; the order carries no meaning. */
  byMinute: readonly number[];
}

/**
 * Events in a stretch of time. Those that come in clumps are worth fewer: the interval of Garwood is made on count and
 * time divided by the dispersion of the minutes.
 */
export function eventEvidence({
  counts,
  ...counted
}: {
  counts: EventCounts;
  passes: number;
  remarks: Remark[];
}): Evidence {
  const { events, minutes, byMinute } = counts;
  return {
    ...counted,
    isEmpty: minutes <= 0,
    assumesCorrelation: false,
    estimate: ({ confidence }) => eventEstimate(counts, confidence),
    decide: (limit, { confidence }) => decideByBounds(eventEstimate(counts, confidence), limit),
    further: ({ limit }, { confidence }) =>
      firstThatHolds(
        (more) => {
          const factor = dispersionFactor(byMinute, more);
          return boundsOf(events, minutes + more, { factor, confidence }).upper <= limit;
        },
        { from: 1, most: mostFurther },
      ),
    chanceAtLimit: (limit) => {
      if (!isOnWrongSide(events / minutes, limit)) return null;
      const factor = dispersionFactor(byMinute);
      return poissonUpperTail(events / factor, (limit.limit * minutes) / factor);
    },
  };
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
 * Example: 3 events in 60 minutes, each in a minute of its own, at 95 %: 0.05, 0.0103 to 0.1461.
 */
export function eventEstimate(counts: EventCounts, confidence: number): EventEstimate {
  const { events, minutes, byMinute } = counts;
  const common = { k: events, n: minutes, confidence, method: "poisson" } as const;
  if (minutes <= 0) return { kind: "events", value: null, ...common, ...noBounds };
  const factor = dispersionFactor(byMinute);
  return {
    kind: "events",
    value: events / minutes,
    ...common,
    ...boundsOf(events, minutes, { factor, confidence }),
    effectiveN: minutes / factor,
    designEffect: factor,
  };
}
