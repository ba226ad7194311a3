import { expect, test } from "vitest";
import { signalWalksMet } from "../../../bench/simulation/signal-walks.ts";
import simulated from "../../../src/intervals/simulated.json" with { type: "json" };

const most = (walks: number) => 0.025 + 2 * Math.sqrt((0.025 * 0.975) / walks);

test("a signal at its limit is met as seldom as promised only where tags and passes are alike", () => {
  const walks = 150;
  const met = (isSameTags: boolean, tagScatterDb: number) =>
    signalWalksMet(
      { quantile: 0.5, passes: 10, tags: 20, isSameTags, tagScatterDb, passScatterDb: 0 },
      walks,
      91,
    ).met / walks;
  expect(met(true, 0)).toBeLessThan(most(walks));
  expect(met(false, 2)).toBeLessThan(most(walks));
  expect(met(true, 2)).toBeGreaterThan(0.1);
});

test("the bench found the same: only without scatter is the promise kept, it is worst with the same tags, and remarked on then", () => {
  const highest = (isSameTags: boolean, tagScatterDb: number) =>
    Math.max(
      ...simulated.signals
        .filter((one) => one.isSameTags === isSameTags && one.tagScatterDb === tagScatterDb)
        .map(({ wronglyMet }) => wronglyMet),
    );
  for (const { tagScatterDb, walks, wronglyMet, withoutRemark } of simulated.signals) {
    expect(withoutRemark).toBeLessThan(0.05);
    if (tagScatterDb === 0) expect(wronglyMet).toBeLessThan(most(walks));
    else expect(wronglyMet).toBeGreaterThan(most(walks));
  }
  expect(highest(true, 2)).toBeGreaterThan(highest(false, 2));
});
