import { describe, expect, it } from "vitest";
import { stateOf, toSettle } from "../../src/analysis/findings/verdict.ts";
import { type EventCounts, eventEstimate, eventEvidence } from "../../src/measures/evidence/events.ts";

describe("tags heard a minute with nothing presented", () => {
  const minutes = (...heard: number[]) => [...heard, ...new Array<number>(60 - heard.length).fill(0)];
  /** Each of another tag, which stays for a minute. */
  const brief = (events: number) => ({ squares: events, longest: Math.min(events, 1) });

  it("three tags in an hour, each in a minute of its own, are 0.05, from 0.0103 to 0.1461", () => {
    const estimate = eventEstimate(
      { events: 3, minutes: 60, byMinute: minutes(1, 1, 1), stays: brief(3) },
      0.95,
    );
    expect(estimate).toMatchObject({ value: 0.05, k: 3, n: 60, designEffect: 1, method: "poisson" });
    expect(estimate.lower).toBeCloseTo(0.010311, 5);
    expect(estimate.upper).toBeCloseTo(0.146121, 5);
  });

  it("three tags in one minute are worth fewer than three", () => {
    const together = eventEstimate({ events: 3, minutes: 60, byMinute: minutes(3), stays: brief(3) }, 0.95);
    expect(together.designEffect).toBeCloseTo(3, 9);
    expect(together.upper).toBeGreaterThan(0.146121);
  });

  it("with no idle time give no figure", () => {
    const nothing = eventEstimate({ events: 0, minutes: 0, byMinute: [], stays: brief(0) }, 0.95);
    expect(nothing).toMatchObject({ value: null, lower: null, upper: null, effectiveN: null });
  });

  it("none in ten minutes would be shown to be at most 0.1 a minute by 27 further silent ones", () => {
    // 3.688879 / 0.1 = 36.89 minutes in all (computed).
    const further = (counts: EventCounts) =>
      eventEvidence({ counts, passes: 1, remarks: [] }).further({ sense: "at-most", limit: 0.1 }, basis);
    expect(
      further({ events: 0, minutes: 10, byMinute: new Array<number>(10).fill(0), stays: brief(0) }),
    ).toBe(27);
    // 5.572 / 0.1 = 55.72 minutes in all (computed).
    expect(
      further({ events: 1, minutes: 10, byMinute: [1, ...new Array<number>(9).fill(0)], stays: brief(1) }),
    ).toBe(46);
  });

  it("of tags that stay are worth as many fewer as minutes of a stay, squared over summed", () => {
    // Two tags: one for five minutes, one for one: (25 + 1) / 6.
    const stays = { squares: 26, longest: 5 };
    const estimate = eventEstimate({ events: 6, minutes: 240, byMinute: many(6, 240), stays }, 0.95);
    expect(estimate.designEffect).toBeCloseTo(26 / 6, 9);
    expect(estimate.effectiveN).toBeCloseTo(240 / (26 / 6), 9);
    const brief = eventEstimate(
      { events: 6, minutes: 240, byMinute: many(6, 240), stays: { squares: 6, longest: 1 } },
      0.95,
    );
    expect(estimate.upper! / brief.upper!).toBeGreaterThan(1.5);
  });

  it("cannot be met in a session shorter than twenty times the longest stay, which says how much is lacking", () => {
    const limit = { sense: "at-most", limit: 0.5, minimumPasses: 0 } as const;
    const of = (minutes: number, events: number) =>
      eventEvidence({
        counts: {
          events,
          minutes,
          byMinute: many(events, minutes),
          stays: { squares: events * 3, longest: 3 },
        },
        passes: 1,
        remarks: [],
      });
    const settled = (minutes: number, events: number) => {
      const evidence = of(minutes, events);
      const state = stateOf(evidence, limit, basis);
      return { state, toSettle: toSettle(evidence, limit, { state, unit: "idle minutes", basis }) };
    };
    expect(settled(59, 3)).toEqual({ state: "untested", toSettle: { furtherMinutes: 1 } });
    expect(settled(60, 3)).toEqual({ state: "met", toSettle: null });
    expect(settled(40, 40)).toEqual({ state: "not-met", toSettle: null });
    const open = settled(20, 6);
    expect(open.state).toBe("undecided");
    expect(open.toSettle).toMatchObject({ furtherWithoutMiss: expect.any(Number) });
    expect((open.toSettle as { furtherWithoutMiss: number }).furtherWithoutMiss).toBeGreaterThanOrEqual(40);
  });
});

const basis = { confidence: 0.95, interval: "wilson", missCorrelation: 0.02 };

/** Events spread over as many minutes as they can be. */
function many(events: number, minutes: number): number[] {
  return Array.from(
    { length: minutes },
    (_, i) => Math.floor(((i + 1) * events) / minutes) - Math.floor((i * events) / minutes),
  );
}
