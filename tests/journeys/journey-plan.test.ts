import { expect, test } from "vitest";
import { planJourney } from "../../src/analysis/journey/plan.ts";
import { planJourneyLines } from "../../src/commands/lines/journey-lines.ts";
import { readJourneyYaml } from "../../src/intake/journey/journey-yaml.ts";
import { ProblemList } from "../../src/intake/problems/problem-list.ts";
import { carrierRule, chainFiles, everyCriterion, heading, judged, legs } from "./chain-folder.ts";

/** The plan of a chain with every criterion. @param plan what stands under plan besides the expected rate of 0.999 */
function planOf(plan = "", criteria = everyCriterion.replace("quantile: 0.5", "quantile: 0.95")) {
  const source = `${heading}${legs}${carrierRule}${criteria}plan: { tags_per_run: 20, expected_rate: 0.999${plan} }\n`;
  const beside = { timeZone: "UTC" };
  const { journey } = readJourneyYaml(
    { id: "crate", file: "crate.yaml", source },
    beside,
    new ProblemList(null),
  );
  return planJourney(journey, 0)!;
}

test("order is sized as any share of items is, and its chance is told where the plan says what it expects", () => {
  const without = planOf();
  const order = without.unplanned.find(({ criterion }) => criterion === "order")!;
  const whole = without.findings.find(({ criterion }) => criterion === "whole")!;
  expect(order).toMatchObject({ unit: "items", trialsPerRun: 20 });
  // The same limit on the same items takes the same runs.
  expect(order.fewest.map(({ faults, runs }) => ({ faults, runs }))).toEqual(whole.fewest);
  expect(order.fewest.every(({ trials, runs }) => trials === runs! * 20)).toBe(true);

  const stated = planOf(", expected_order_rate: 0.999");
  expect(stated.unplanned.map(({ criterion }) => criterion)).toEqual(["lag"]);
  const { expected, fewest, forChance } = stated.findings.find(({ criterion }) => criterion === "order")!;
  expect([expected, fewest]).toEqual([0.999, whole.fewest]);
  expect(forChance.map(({ runs }) => runs)).toEqual([expect.any(Number), expect.any(Number)]);
});

test("a quantile of delays is sized by how many sightings may be known too late", () => {
  const lag = (plan: ReturnType<typeof planOf>) => plan.unplanned.find(({ unit }) => unit === "sightings")!;
  const whole = lag(planOf());
  // The smallest n with at most f of n later than the limit in at most 2.5 % of cases, where 5 % are later: summed by hand.
  expect(whole.fewest.map(({ trials }) => trials)).toEqual([72, 110, 142, 173]);
  // Three legs are not optional, so that a run of 20 items tells 60 times.
  expect([whole.trialsPerRun, whole.fewest.map(({ runs }) => runs)]).toEqual([60, [2, 2, 3, 3]]);
  const byLeg = everyCriterion.replace("quantile: 0.5", "quantile: 0.95, for_each: [leg], minimum_runs: 5");
  expect(lag(planOf("", byLeg)).fewest.map(({ runs }) => runs)).toEqual([5, 6, 8, 9]);
});

test("all findings are met together in so many cases as are asked for, each of them in more", () => {
  const { findings, forAll, runs, unplanned } = planOf();
  expect(findings.length).toBe(6);
  for (const { chance, each, runs: together } of forAll) {
    expect(each ** findings.length).toBeCloseTo(chance, 12);
    const alone = findings.map(({ forChance }) => forChance.find((one) => one.chance === chance)!.runs!);
    expect(together).toBeGreaterThanOrEqual(Math.max(...alone));
  }
  const least = unplanned.map(({ fewest }) => fewest[0]!.runs!);
  expect(runs).toBe(Math.max(forAll[1]!.runs!, ...least));
  const alone = planOf("", "criteria: [{ id: order, measure: journey-order-rate, at_least: 0.9 }]\n");
  expect([alone.forAll, alone.runs]).toEqual([[], alone.unplanned[0]!.fewest[0]!.runs]);
});

test("the terminal says why a chance is not told, and what to state for it", async () => {
  const yaml = `${heading}${legs}${carrierRule}${everyCriterion}plan: { tags_per_run: 20, expected_rate: 0.999 }\n`;
  const runs = "run,tag,carrier,started_at,ended_at\nR1,A1,B1,2026-06-15T09:00:00Z,2026-06-15T18:00:00Z\n";
  const { journeys } = await judged(chainFiles({ yaml, runs }));
  const text = planJourneyLines(journeys[0]!)!.replace(/\s+/g, " ");
  expect(text).toMatch(/\d+ runs? for the findings whose chance is told to be met together in 9 of 10 cases/);
  expect(text).toContain("state expected_order_rate under plan");
  expect(text).toContain("sightings, if each item of a run is seen once on each of 3 legs");
  expect(text).toContain("The chance depends on how the delays are spread, which no plan tells.");
});
