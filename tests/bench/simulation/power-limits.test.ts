import { expect, test } from "vitest";
import { powerLogsMet } from "../../../bench/simulation/power-limits.ts";
import simulated from "../../../src/intervals/simulated.json" with { type: "json" };

test("a margin at its limit is seldom met with other tags at each power, and more often with the same ones", () => {
  const share = (isSameTags: boolean) => powerLogsMet({ tags: 40, isSameTags, share: 0.5 }, 500, 91) / 500;
  const others = share(false);
  // Two standard errors above the 2.5 % that the confidence promises.
  expect(others).toBeLessThan(0.025 + 2 * Math.sqrt((0.025 * 0.975) / 500));
  expect(share(true)).toBeGreaterThan(2 * others);
});

test("what the bench found of power logs keeps the promise only with other tags at each power", () => {
  for (const { isSameTags, wronglyMet, standardError } of simulated.powerLogs)
    if (isSameTags) expect(wronglyMet).toBeLessThan(0.1);
    else expect(wronglyMet).toBeLessThan(0.025 + 2 * standardError);
});
