import { expect, test } from "vitest";
import { powerLogsMet } from "../../../bench/simulation/power-limits.ts";
import simulated from "../../../src/intervals/simulated.json" with { type: "json" };

/** Two standard errors above the 2.5 % that the confidence promises. */
const most = (logs: number) => 0.025 + 2 * Math.sqrt((0.025 * 0.975) / logs);

test("a margin at its limit is seldom met, with the same tags at each power or others, named or only counted", () => {
  const logs = 300;
  const met = (isSameTags: boolean, isNamed: boolean) =>
    powerLogsMet({ tags: 40, isSameTags, isNamed, weakDb: 0, share: 0.5 }, logs, 91) / logs;
  const counted = met(true, false);
  expect(counted).toBeLessThan(most(logs));
  expect(counted).toBeGreaterThan(0);
  // The log that names the same tags at every power says what is assumed of one that names none.
  expect(met(true, true)).toBe(counted);
  expect(met(false, true)).toBeLessThan(most(logs));
  // Other tags at each power, of which nobody said so: the limits are wider than they need be.
  expect(met(false, false)).toBeLessThan(met(false, true));
});

test("what the bench found of power logs keeps the promise where the curve is the true one, and not with a few far weaker tags", () => {
  for (const { logs, weakDb, wronglyMet } of simulated.powerLogs)
    if (weakDb === 0) expect(wronglyMet).toBeLessThan(most(logs));
    else if (weakDb === 8) expect(wronglyMet).toBeGreaterThan(0.05);
    else expect(wronglyMet).toBeLessThan(0.05);
});
