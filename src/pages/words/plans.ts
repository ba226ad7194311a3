import { mostPasses } from "../../analysis/plan/sample-size.ts";
import { mostPassesEach } from "../../analysis/plan/two-rounds.ts";
import { intervals } from "../../intervals/index.ts";
import { measures } from "../../measures/index.ts";
import { expectedText } from "../../measures/scales.ts";
import type { Condition } from "../../model/facility.ts";
import {
  counted,
  countedInWords,
  countText,
  countWord,
  joined,
  nonEmpty,
  sentenceStart,
  statedNumber,
  statedPercent,
} from "../../model/number-words.ts";
import type { FacilityPlan, PlannedFinding, PlannedReadPoint, PlanResult } from "../../model/result/plan.ts";
import { chanceText, riskText } from "./figures.ts";
import { columnLabel, groupText, valueText } from "./labels.ts";

/** The assumptions of a plan. */
export function planBasisSentence(plan: FacilityPlan): string {
  const { tagsPerPass, sameTags, expectedRate, basis } = plan;
  const tags = `${counted(tagsPerPass, "tag", "tags")} per pass, ${loadWords(sameTags)}`;
  const correlation = `Assumed correlation of misses within a pass: ${statedNumber(basis.missCorrelation)}`;
  return `${tags}; expected rate ${statedPercent(expectedRate)}. ${correlation}; ${intervals.get(basis.interval).words.short} interval, two-sided at ${statedPercent(basis.confidence)}.`;
}

/** `the same tags in every pass`. */
export function loadWords(sameTags: boolean): string {
  return sameTags ? "the same tags in every pass" : "different tags in every pass";
}

/** The same as a list of what is stated and what is assumed. */
export function planBasis(plan: PlanResult): { label: string; text: string }[] {
  const { tagsPerPass, sameTags, expectedRate, basis, load, seed } = plan;
  const carried = load === null ? "" : `, those of manifest ${load.manifest}`;
  return [
    { label: "Tags per pass", text: `${countText(tagsPerPass)}, ${loadWords(sameTags)}${carried}` },
    { label: "Expected rate", text: `${statedPercent(expectedRate)} at a well-tuned read point` },
    {
      label: "Assumed correlation",
      text: `${statedNumber(basis.missCorrelation)} between misses of one pass, as in the verdicts`,
    },
    {
      label: "Interval",
      text: `${intervals.get(basis.interval).words.short}, two-sided at ${statedPercent(basis.confidence)}, as in the verdicts`,
    },
    {
      label: "Sessions",
      text: "at least two, on different days: passes of one session are alike in ways that no count shows",
    },
    { label: "Order", text: `random, from seed ${countText(seed)}: the same seed gives the same order` },
  ];
}

/** How many passes one finding takes. */
export function sizeSentence(finding: PlannedFinding): string {
  const { impossible, expected, limit, sense, fewest, forChance, measure } = finding;
  if (impossible) {
    const limitSaid =
      sense === "at-least"
        ? `at least ${statedPercent(limit)} is required`
        : `at most ${statedPercent(limit)} is allowed`;
    return `No number of passes is enough: ${limitSaid}, and ${expectedText(expected, sense, limit)} is expected.`;
  }
  const without = fewest[0]!.passes;
  if (without === null)
    return `Not even ${countText(mostPasses)} passes without ${measures.get(measure).words.fault} are enough.`;
  const least = `At least ${counted(without, "pass", "passes")} without ${measures.get(measure).words.fault} ${without === 1 ? "is" : "are"} needed`;
  const known = withoutRepeats(forChance).map(({ chance, passes }, i) => {
    if (i > 0) return `${counted(passes!, "pass", "passes")} with ${statedPercent(chance)}`;
    const walk = counted(passes!, "pass ends", "passes end");
    return `${walk} in “met” with a probability of ${statedPercent(chance)}`;
  });
  const beyond = forChance.find(({ passes }) => passes === null);
  const far =
    beyond === undefined
      ? ""
      : ` A probability of ${statedPercent(beyond.chance)} takes more than ${countText(mostPasses)} passes, because the expected rate is too close to the limit.`;
  const met = known.length === 0 ? "" : ` If ${expectedPhrase(finding)}, ${joined(known)}.`;
  return `${least}.${met}${far}`;
}

function expectedPhrase({ measure, expected, sense, limit }: PlannedFinding): string {
  const rate = expectedText(expected, sense, limit);
  return measures.get(measure).plan?.phrase(rate) ?? rate;
}

/** How many passes one finding takes and what that depends on, sentence by sentence. */
export function sizeSentences(finding: PlannedFinding, plan: FacilityPlan): string[] {
  return nonEmpty([
    sizeSentence(finding),
    allMetSentence(finding, plan),
    tagsCountedSentence(finding, plan),
    sameTagsSentence(finding, plan),
  ]);
}

/** How many passes it takes for all planned findings to be met; empty if there is only one, or if no number will do. */
export function allMetSentence({ forAll }: PlannedFinding, { findingsTogether }: FacilityPlan): string {
  const known = withoutRepeats(forAll);
  if (findingsTogether < 2 || known.length === 0) return "";
  return `For all ${countText(findingsTogether)} planned findings to be met together: ${passesByChance(known)}.`;
}

/** How long two rounds have to be to be told apart; empty where no rate is so much lower. */
export function twoRoundsSentence({ twoRounds }: FacilityPlan): string {
  if (twoRounds === null) return "";
  const { before, after, forChance } = twoRounds;
  const rise = `from ${statedPercent(before)} to ${statedPercent(after)}, by the smallest change that matters`;
  const known = withoutRepeats(forChance);
  if (known.length === 0)
    return `Not even two rounds of ${countText(mostPassesEach)} passes would show that the read rate rose ${rise}.`;
  return `If the read rate rises ${rise}, two rounds show it that have ${passesByChance(known)} each.`;
}

/** If both probabilities need the same number, the higher one is enough. */
function withoutRepeats<Size extends { passes: number | null }>(sizes: Size[]): Size[] {
  return sizes.filter(({ passes }, i) => passes !== null && passes !== sizes[i + 1]?.passes);
}

/** `63 passes (with a probability of 80 %) or 87 (90 %)`. */
function passesByChance(sizes: { passes: number | null; chance: number }[]): string {
  const parts = sizes.map(({ passes, chance }, i) =>
    i === 0
      ? `${counted(passes!, "pass", "passes")} (with a probability of ${statedPercent(chance)})`
      : `${countText(passes!)} (${statedPercent(chance)})`,
  );
  return joined(parts, "or");
}

/** What the size of two rounds takes for granted. */
export const twoRoundsCaution =
  "Passes that differ more than the assumed correlation stands for need more. Walk each round in at least two sessions: two days differ even if nothing was retuned.";

/** How many tags of a pass a criterion counts; empty if it counts all. */
export function tagsCountedSentence(
  { tagsCounted, group }: PlannedFinding,
  { tagsPerPass }: FacilityPlan,
): string {
  if (tagsCounted === tagsPerPass) return "";
  if (tagsCounted === 0) return "The load has no tag that the criterion counts.";
  return `Of the ${countText(tagsPerPass)} tags of a pass, ${counted(tagsCounted, "counts", "count")}${group === null ? "" : " in each group"}.`;
}

/** What the same tags in every pass would change; empty if nothing. */
export function sameTagsSentence(finding: PlannedFinding, plan: FacilityPlan): string {
  const { fewest, fewestSameTags, impossible } = finding;
  if (plan.sameTags || impossible || fewest[0]!.passes === fewestSameTags) return "";
  const tags = counted(plan.tagsPerPass, "tag", "tags");
  return fewestSameTags === null
    ? `With the same ${tags} in every pass, no number of passes is enough: use other tags.`
    : `With the same ${tags} in every pass, at least ${counted(fewestSameTags, "pass is", "passes are")} needed.`;
}

/** How often a read point that only just misses its limit would be signed off; empty if no walk is planned. */
export function wrongSignOffSentence({ risk, impossible }: PlannedFinding): string {
  if (risk === null || impossible) return "";
  const { passes, wrongSignOff } = risk;
  const walks = `walks of ${counted(passes, "pass", "passes")}`;
  return `A read point that just misses the limit would wrongly end in “met” in ${riskText(wrongSignOff.chance)} of ${walks}.`;
}

/** How many passes of each combination a read point takes. */
export function readPointPlanSentence({ cells, passes, untested }: PlannedReadPoint): string {
  const open =
    untested === 0
      ? ""
      : ` ${sentenceStart(countedInWords(untested, "finding", "findings"))} would stay untested.`;
  return passesSentence(cells, passes) + open;
}

function passesSentence(cells: PlannedReadPoint["cells"], passes: number | null): string {
  if (passes === null)
    return "none, because no number of passes is likely to turn all of its findings into “met”.";
  if (passes === 0) return "no planned pass counts for a criterion.";
  if (cells.length === 1) return `${counted(passes, "pass", "passes")}.`;
  const each = new Set(cells.map((cell) => cell.passes));
  const combinations = `${countText(cells.length)} combinations of conditions`;
  return each.size === 1
    ? `${counted(cells[0]!.passes!, "pass", "passes")} in each of ${combinations}, ${countText(passes)} in all.`
    : `${counted(passes, "pass", "passes")} over ${combinations}.`;
}

/** Why a criterion is not sized. */
export function unplannedSentence(plan: FacilityPlan): string {
  if (plan.unplanned.length === 0) return "";
  const names = plan.unplanned.map(
    ({ criterion, measure }) => `${criterion} (${measures.get(measure).title})`,
  );
  return `Not sized, because what they count does not simply succeed or fail: ${joined(names)}.`;
}

/** More names than this are not listed if they are all the planned read points. */
const mostNames = 3;

/**
 * Where findings of one criterion are: `Dock door 1 and Dock door 2; Tag orientation: flat, edge-on`. With `planned`,
 * how many read points the plan has, a list of all of them is cut short to `All ten planned read points`.
 */
export function criterionPlaces(
  findings: PlannedFinding[],
  { readPoints, conditions }: { readPoints: { id: string; name: string }[]; conditions: Condition[] },
  planned = 0,
): string {
  const points = [...new Set(findings.map(({ readPoint }) => readPoint))].map(
    (id) => readPoints.find((entry) => entry.id === id)?.name ?? id,
  );
  const all = points.length === planned && planned > mostNames;
  const named = all ? `All ${countWord(planned)} planned read points` : joined(points);
  return [named, ...groupNames(findings, conditions)].join("; ");
}

/** `Tag orientation: flat, edge-on`; groups of several columns one by one. */
function groupNames(findings: PlannedFinding[], conditions: Condition[]): string[] {
  const groups = findings.map(({ group }) => group).filter((group) => group !== null);
  const columns = new Set(groups.flatMap((group) => Object.keys(group)));
  const [column] = columns;
  if (column === undefined) return [];
  if (columns.size > 1) return [...new Set(groups.map((group) => groupText(group, conditions)))];
  const condition = conditions.find((entry) => entry.column === column);
  const values = [...new Set(groups.map((group) => valueText(group[column]!, condition)))];
  return [`${columnLabel(column, conditions)}: ${values.join(", ")}`];
}

/** What the plan leaves untested of a criterion; empty if nothing. */
export function uncountedSentence(
  findings: PlannedFinding[],
  facility: { readPoints: { id: string; name: string }[]; conditions: Condition[] },
): string {
  if (findings.length === 0) return "";
  return `No planned pass counts for ${criterionPlaces(findings, facility)}, so it would stay untested.`;
}

/** How often a walk of the planned length ends in met at the expected rate; empty if no number of passes is enough. */
export function expectedSentence(finding: PlannedFinding): string {
  const { risk, forChance } = finding;
  const sized = forChance.findLast((one) => one.passes !== null);
  if (risk === null || sized === undefined || sized.reached === null) return "";
  return `If ${expectedPhrase(finding)}, ${chanceText(sized.reached)} of walks of ${counted(risk.passes, "pass", "passes")} end in “met”.`;
}
