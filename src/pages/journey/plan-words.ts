import { journeyMeasures } from "../../measures/journey/index.ts";
import { rounded } from "../../measures/rounding.ts";
import { percent, shareText, withUnit } from "../../measures/scales.ts";
import type { JourneyResult } from "../../model/journey/journey-result.ts";
import type { JourneyPlanResult, PlannedRuns, UnplannedRuns } from "../../model/journey/plan.ts";
import { counted, countText, joined } from "../../model/number-words.ts";
import type { JourneyNames } from "./journey-context.ts";

/** How many runs to make, in words. */
interface PlanTexts {
  /** What the plan takes as given. */
  basis: string;
  /** How many runs it takes, and how many were made. */
  needed: string;
  /** Each criterion, with the legs that it holds for. */
  criteria: { title: string; sentence: string }[];
}

export function planTexts(
  plan: JourneyPlanResult,
  { criteria }: Pick<JourneyResult, "criteria">,
  names: JourneyNames,
): PlanTexts {
  const { tagsPerRun, sameTags, expectedRate, expectedOrderRate, findings, unplanned, runsDone } = plan;
  const order =
    expectedOrderRate === null ? "" : `, and ${shareWithUnit(expectedOrderRate)} to be seen in order`;
  return {
    basis: `${counted(tagsPerRun, "item", "items")} a run, ${sameTags ? "the same every time" : "others each time"}; each leg is believed to see ${shareWithUnit(expectedRate)} of them${order}.`,
    needed: `${neededSentence(plan)} ${counted(runsDone, "run was", "runs were")} made so far.`,
    criteria: criteria.flatMap(({ id, title }) => {
      const own = findings.filter(({ criterion }) => criterion === id);
      const legs = own.flatMap(({ leg }) => (leg === null ? [] : [names.leg(leg)]));
      const [first] = own;
      const open = unplanned.find(({ criterion }) => criterion === id);
      return [
        ...(first === undefined
          ? []
          : [
              {
                title: legs.length === 0 ? title : `${title} (${legs.join(", ")})`,
                sentence: sizeSentence(first),
              },
            ]),
        ...(open === undefined ? [] : [{ title, sentence: unplannedSentences(open, plan) }]),
      ];
    }),
  };
}

const shareWithUnit = (rate: number) => withUnit(shareOf(rate), percent);

const shareOf = (rate: number) => rounded(rate * 100, 2, "nearest").replace(/\.?0+$/, "");

function sizeSentence({ expected, limit, impossible, fewest, forChance }: PlannedRuns): string {
  if (impossible)
    return `Expected are ${shareText(Math.round(expected * 1e6), 1e6)}, which is not better than the ${shareWithUnit(limit)} that are asked: no number of runs will do.`;
  const chances = forChance.map(({ chance, runs }) => `${runsText(runs)} to be met in ${casesText(chance)}`);
  return `${fewestText(fewest)}. As expected: ${chances.join(", ")}.`;
}

/** How many runs they are all met with. */
function neededSentence({ runs, forAll, unplanned }: JourneyPlanResult): string {
  if (runs === null) return "No number of runs will do for every finding.";
  const needed = counted(runs, "run", "runs");
  const [last] = forAll.slice(-1);
  if (last === undefined) return `${needed} for every finding to be met if nothing is at fault.`;
  const together = `to be met together in ${casesText(last.chance)}`;
  return unplanned.length === 0
    ? `${needed} for all findings ${together}.`
    : `${needed} for the findings whose chance is told ${together}, and for the others to be met if nothing is at fault.`;
}

/** What it takes where the plan does not tell how often that will do, and why it does not. */
function unplannedSentences(
  { measure, unit, trialsPerRun, fewest }: UnplannedRuns,
  { tagsPerRun }: JourneyPlanResult,
): string {
  const { withoutExpected = "" } = journeyMeasures.get(measure).plan;
  if (unit === "items") return `${fewestText(fewest)}. ${withoutExpected}`;
  const legs = trialsPerRun / tagsPerRun;
  const seenOn = legs === 1 ? "once" : `once on each of ${countText(legs)} legs`;
  const sightings = joined(fewest.map(({ trials }) => runsText(trials)));
  return `${fewestText(fewest)}: ${sightings} sightings, if each item of a run is seen ${seenOn} and each sighting tells when the site knew. ${withoutExpected}`;
}

function fewestText(fewest: PlannedRuns["fewest"]): string {
  const least = fewest.map(
    ({ faults, runs }) =>
      `${runsText(runs)} with ${faults === 0 ? "no fault" : counted(faults, "fault", "faults")}`,
  );
  return `At least ${least.join(", ")} in all`;
}

const runsText = (runs: number | null) => (runs === null ? "more than anybody makes" : countText(runs));

const casesText = (chance: number) => `${countText(Math.round(chance * 10))} of 10 cases`;
