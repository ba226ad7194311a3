import { percent, rateFigures, withUnit } from "../../measures/scales.ts";
import { countText, joined, sentenceStart } from "../../model/number-words.ts";
import type { ConcessionResult } from "../../model/result/finding.ts";
import type { ReadPointResult } from "../../model/result/read-point.ts";
import type { Result } from "../../model/result/result.ts";
import type { RoundResult } from "../../model/result/round.ts";
import { statesWorstFirst } from "../../model/state.ts";
import { judgedRound, type Names } from "../parts/names.ts";
import type { PageContext } from "../parts/page.ts";
import { planLetter } from "../parts/paths.ts";
import { countOf } from "../parts/rate-columns.ts";
import { type StateMark, stateMark } from "../parts/state-mark.ts";
import { floorPlanPicture, type PlanPoint } from "../pictures/floor-plan.ts";
import { concededOf } from "../pictures/signs.ts";
import { pictureCopies } from "../record/pictures.ts";
import { stateWord } from "../words/verdicts.ts";

/** A read point in the key of the plan and in the table of read points. */
export interface ReadPointRow {
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
  /** `half, 97.6 %`; or why there is none. */
  weakest: string;
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

export interface FloorPlanView {
  /** SVG. */
  picture: string;
  caption: string;
}

/** The plan with the read points that have a place on it; null where none has, or there is no plan. */
export function floorPlanView({ result, paths, href }: PageContext): FloorPlanView | null {
  const points = result.readPoints.map(
    (point, index): PlanPoint => ({
      letter: planLetter(index),
      href: href(paths.readPoint(point.id)),
      name: point.name,
      state: point.state,
      conceded: concededOf(concessionOf(result, point)),
      at: point.at,
    }),
  );
  const placed = points.filter(({ at }) => at !== null);
  const plan = result.facility.floorPlan;
  // Neither marks without ground nor ground without marks says anything.
  if (placed.length === 0 || plan === null) return null;
  const image = pictureCopies(result).find(({ input }) => input.path === plan.image);
  const unplaced = points.filter(({ at }) => at === null).map(({ letter }) => letter);
  const states = placed.map(({ letter, state }) => `${letter} ${stateWord(state)}`).join(", ");
  const missing =
    unplaced.length === 0
      ? ""
      : ` ${joined(unplaced)} ${unplaced.length === 1 ? "has" : "have"} no place on the plan.`;
  return {
    picture: floorPlanPicture({
      id: "plan",
      title: `Plan of ${result.facility.name} with its read points`,
      description: `Read points by letter and state: ${states}.`,
      plan,
      imageHref: image === undefined ? "" : href(image.path),
      points,
    }),
    caption: `${lettersByState(placed)}${missing}`,
  };
}

/** `Not met at E, untested at C, undecided at B, met at A, D and F.` */
function lettersByState(points: PlanPoint[]): string {
  const parts = statesWorstFirst.flatMap((state) => {
    const letters = points.filter((point) => point.state === state).map(({ letter }) => letter);
    return letters.length === 0 ? [] : [`${stateWord(state)} at ${joined(letters)}`];
  });
  return `${sentenceStart(parts.join(", "))}.`;
}

export function readPointRows({ result, names, paths, href }: PageContext): ReadPointRow[] {
  return result.readPoints.map((point, index) => {
    const round = judgedRound(point);
    const figures = round === null ? null : rateFigures(round.tagReadRate, "at-least");
    return {
      letter: planLetter(index),
      name: point.name,
      href: href(paths.readPoint(point.id)),
      kind: kindBeside(point),
      mark: stateMark(point.state, concessionOf(result, point)),
      ownRound:
        point.signOffRound === result.signOffRound ? "" : `round judged: ${names.round(point.signOffRound)}`,
      passes: countText(round?.passes ?? 0),
      voids: round && round.voidPasses > 0 ? `${countText(round.voidPasses)} void` : "",
      count: countOf({ k: round?.tagsRead ?? 0, n: round?.tagsPresented ?? 0 }),
      lower: figures?.lower ?? "none",
      value: figures?.value ?? "none",
      upper: figures?.upper ?? "none",
      strays: strayText(round),
      weakest: round === null ? "not walked" : weakestCondition(names, round),
    };
  });
}

/** The kind of a read point, unless its name already says it. */
function kindBeside({ kind, name }: ReadPointResult): string {
  return kind === null || name.toLowerCase().includes(kind.toLowerCase()) ? "" : kind;
}

function strayText(round: RoundResult | null): string {
  if (round === null || round.passes === 0) return "not walked";
  return round.strayPassRate.n === 0 ? "not recorded" : countOf(round.strayPassRate);
}

/** The condition value with the lowest read rate, where a tag was missed. */
function weakestCondition(names: Names, round: RoundResult): string {
  if (round.tagsPresented === 0) return "not walked";
  if (round.tagsRead === round.tagsPresented) return "nothing missed";
  const groups = round.byCondition.flatMap(({ column, groups: values }) =>
    values.flatMap(({ value, tagReadRate }) =>
      tagReadRate.value === null ? [] : [{ column, value, estimate: tagReadRate, rate: tagReadRate.value }],
    ),
  );
  const [first] = groups;
  if (!first) return "no condition recorded";
  const weakest = groups.reduce((low, group) => (group.rate < low.rate ? group : low), first);
  const rate = withUnit(rateFigures(weakest.estimate, "at-least").value, percent);
  return `${names.value(weakest.column, weakest.value)}, ${rate}`;
}
