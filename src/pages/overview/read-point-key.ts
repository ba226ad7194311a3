import { percent, rateFigures, withUnit } from "../../measures/scales.ts";
import { countText } from "../../model/number-words.ts";
import type { ConcessionResult, ReadPointResult, Result, RoundResult } from "../../model/result.ts";
import { facilityPaths, planLetter, relativeLink } from "../paths.ts";
import type { PlanPoint } from "../pictures/floor-plan.ts";
import { concededOf } from "../pictures/signs.ts";
import { type StateMark, stateMark } from "../state-mark.ts";
import { columnLabel, valueText } from "../words/labels.ts";

/** One row of the table of read points, which is the key of the plan. */
export interface ReadPointKey {
  letter: string;
  name: string;
  href: string;
  kind: string;
  mark: StateMark;
  /** Empty where the read point is judged on the facility's round. */
  ownRound: string;
  passes: string;
  voids: string;
  count: string;
  lower: string;
  value: string;
  upper: string;
  strays: string;
  weakest: string;
  /** What kind of condition the weakest is; empty where there is none. */
  weakestOf: string;
}

/** The round that a read point is judged on. */
export function judgedRound(point: ReadPointResult): RoundResult | null {
  return point.rounds.find((round) => round.id === point.signOffRound) ?? null;
}

/** The concession of a read point's worst findings, so that its box can carry the corner; null without one. */
function concessionOf(result: Result, point: ReadPointResult): ConcessionResult | null {
  const worst = result.findings.filter(
    (finding) => finding.readPoint === point.id && finding.state === point.state,
  );
  const conceded = worst.map((finding) => finding.concession);
  const [first] = conceded;
  // One finding without a concession is enough to leave the read point without one.
  return first && conceded.every((entry) => entry !== null && !entry.expired) ? first : null;
}

export function planPoints(result: Result): PlanPoint[] {
  return result.readPoints.map((point, index) => ({
    letter: planLetter(index),
    state: point.state,
    conceded: concededOf(concessionOf(result, point)),
    at: point.at,
  }));
}

export function readPointKeys(result: Result, path: string): ReadPointKey[] {
  const paths = facilityPaths(result);
  return result.readPoints.map((point, index) => {
    const round = judgedRound(point);
    const title = result.rounds.find((entry) => entry.id === point.signOffRound)?.title ?? point.signOffRound;
    const figures = round === null ? null : rateFigures(round.tagReadRate, "at-least");
    return {
      letter: planLetter(index),
      name: point.name,
      href: relativeLink(path, paths.readPoints.get(point.id) ?? paths.overview),
      kind: kindBeside(point),
      mark: stateMark(point.state, concessionOf(result, point)),
      ownRound: point.signOffRound === result.signOffRound ? "" : `round judged: ${title}`,
      passes: countText(round?.passes ?? 0),
      voids: round && round.voidPasses > 0 ? `${countText(round.voidPasses)} void` : "",
      count: `${countText(round?.tagsRead ?? 0)} of ${countText(round?.tagsPresented ?? 0)}`,
      lower: figures?.lower ?? "none",
      value: figures?.value ?? "none",
      upper: figures?.upper ?? "none",
      strays: strayText(round),
      ...(round === null ? { weakest: "not walked", weakestOf: "" } : weakestCondition(result, round)),
    };
  });
}

/** The kind of a read point, where its name does not say it already. */
function kindBeside({ kind, name }: ReadPointResult): string {
  return kind === null || kind.toLowerCase() === name.toLowerCase() ? "" : kind;
}

function strayText(round: RoundResult | null): string {
  if (round === null || round.passes === 0) return "not walked";
  const { k, n } = round.strayPassRate;
  if (n === 0) return "not recorded";
  return `${countText(k)} of ${countText(n)}`;
}

/** The condition value with the lowest share read, where something was missed at all. */
function weakestCondition(result: Result, round: RoundResult): Pick<ReadPointKey, "weakest" | "weakestOf"> {
  if (round.tagsPresented === 0) return { weakest: "not walked", weakestOf: "" };
  if (round.tagsRead === round.tagsPresented) return { weakest: "nothing missed", weakestOf: "" };
  const groups = round.byCondition.flatMap(({ column, groups: values }) =>
    values
      .filter((group) => group.tagReadRate.value !== null)
      .map((group) => ({ column, value: group.value, estimate: group.tagReadRate })),
  );
  const [first] = groups;
  if (!first) return { weakest: "no condition recorded", weakestOf: "" };
  let weakest = first;
  for (const group of groups) {
    if ((group.estimate.value ?? 1) < (weakest.estimate.value ?? 1)) weakest = group;
  }
  const condition = result.conditions.find((entry) => entry.column === weakest.column);
  const rate = withUnit(rateFigures(weakest.estimate, "at-least").value, percent);
  return {
    weakest: `${valueText(weakest.value, condition)}, ${rate}`,
    weakestOf: columnLabel(weakest.column, result.conditions),
  };
}
