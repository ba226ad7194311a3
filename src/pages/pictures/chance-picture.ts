import type { RiskCurve, RiskPoint } from "../../analysis/plan/risk-curve.ts";
import type { State } from "../../analysis/result.ts";
import type { MeasureId, Sense } from "../../intake/facility.ts";
import { thinSpace } from "../words/numbers.ts";
import { riskText } from "../words/plan-sentence.ts";
import { limitPhrase } from "../words/rates.ts";
import { stateWord } from "../words/states.ts";
import { type Axis, stretchedRateAxis } from "./axis.ts";
import { axisMarks, type Plot } from "./interval-axis.ts";
import { stateBoxMark } from "./state-box.ts";
import { element, frame, ink, textAt } from "./svg.ts";
import { textWidth } from "./text-fit.ts";

export interface ChancePicture {
  id: string;
  title: string;
  description: string;
  risk: RiskCurve;
  measure: MeasureId;
  sense: Sense;
}

const width = 720;
const height = 330;
const plot: Plot = { left: 54, width: 616, top: 62, bottom: 262 };

interface Curve {
  state: Exclude<State, "untested">;
  chanceOf: (point: RiskPoint) => number;
  /** The curves are told apart by their strokes where colours are lost. */
  dashes: string | null;
  stroke: number;
}

const curves: Curve[] = [
  { state: "met", chanceOf: (point) => point.met, dashes: null, stroke: 3 },
  { state: "undecided", chanceOf: (point) => point.undecided, dashes: "7 4", stroke: 2 },
  { state: "not-met", chanceOf: (point) => point.notMet, dashes: "2 3.5", stroke: 2.5 },
];

/**
 * What a planned walk risks: the chance of each state against the true rate, with the limit as a full-height rule and
 * the chance of a wrong sign-off marked: the ground below the curve of met on the wrong side of the limit, and its
 * highest point, at the limit itself.
 */
export function chancePicture({ id, title, description, risk, measure, sense }: ChancePicture): string {
  const axis = stretchedRateAxis(
    risk.points.map((point) => point.rate),
    sense,
  );
  const limit = risk.wrongSignOff.rate;
  return frame(
    { id, width, height, title, description, className: "chances" },
    [
      goodSide(axis, limit, sense),
      axisMarks(axis, plot, "%", sense === "at-least"),
      chanceScale(),
      wrongGround(axis, risk, sense),
      ...curves.map((curve) => curveMark(curve, axis, risk)),
      limitRule(axis, limit, limitPhrase(limit, measure, sense)),
      wrongMark(axis, risk, sense),
      legend(),
      textAt(plot.left, plot.bottom + 38, "true rate", quiet({ "text-anchor": "start" })),
      textAt(plot.left + plot.width, plot.bottom + 38, axis.note, quiet({ "text-anchor": "end" })),
    ].join(""),
  );
}

const quiet = (more: Record<string, string | number>) => ({
  "font-size": 12,
  class: "second",
  fill: ink.second,
  ...more,
});

const xOf = (axis: Axis, rate: number) => plot.left + plot.width * axis.position(rate);
const yOf = (chance: number) => plot.bottom - (plot.bottom - plot.top) * chance;
const place = (x: number, y: number) => `${x.toFixed(2)},${y.toFixed(2)}`;

function goodSide(axis: Axis, limit: number, sense: Sense): string {
  const x = xOf(axis, limit);
  const from = sense === "at-least" ? x : plot.left;
  const to = sense === "at-least" ? plot.left + plot.width : x;
  const size = { width: to - from, height: plot.bottom - plot.top };
  return element("rect", { x: from, y: plot.top, ...size, class: "good", fill: ink.good });
}

function chanceScale(): string {
  return [0, 0.2, 0.4, 0.6, 0.8, 1]
    .map(
      (chance) =>
        element("line", {
          x1: plot.left,
          x2: plot.left + plot.width,
          y1: yOf(chance),
          y2: yOf(chance),
          class: "hair",
          stroke: ink.hair,
          "stroke-width": 0.75,
        }) +
        textAt(
          plot.left - 8,
          yOf(chance) + 4,
          `${(chance * 100).toFixed(0)}${thinSpace}%`,
          quiet({ "text-anchor": "end" }),
        ),
    )
    .join("");
}

function wrongGround(axis: Axis, risk: RiskCurve, sense: Sense): string {
  const limit = risk.wrongSignOff.rate;
  const wrong = risk.points.filter((point) =>
    sense === "at-least" ? point.rate <= limit : point.rate >= limit,
  );
  const [first] = wrong;
  const last = wrong.at(-1);
  if (first === undefined || last === undefined) return "";
  const edge = wrong.map((point) => place(xOf(axis, point.rate), yOf(point.met)));
  const points = [place(xOf(axis, first.rate), yOf(0)), ...edge, place(xOf(axis, last.rate), yOf(0))];
  const ground = element("polygon", { points: points.join(" "), class: "box-fill", fill: ink["not-met"] });
  return element("g", { class: "not-met" }, ground);
}

function curveMark({ state, chanceOf, dashes, stroke }: Curve, axis: Axis, risk: RiskCurve): string {
  const points = risk.points.map((point) => place(xOf(axis, point.rate), yOf(chanceOf(point))));
  const line = element("path", {
    d: `M${points.join("L")}`,
    class: "interval",
    fill: "none",
    stroke: ink[state],
    "stroke-width": stroke,
    "stroke-dasharray": dashes,
  });
  return element("g", { class: state }, line);
}

function limitRule(axis: Axis, limit: number, words: string): string {
  const x = xOf(axis, limit);
  const half = textWidth(words, 12.5) / 2;
  const textX = Math.max(half, Math.min(x, width - half));
  return (
    element("line", {
      x1: x,
      x2: x,
      y1: plot.top - 6,
      y2: plot.bottom,
      class: "limit",
      stroke: ink.text,
      "stroke-width": 1.75,
    }) +
    textAt(textX, plot.top - 12, words, {
      "text-anchor": "middle",
      "font-size": 12.5,
      "font-weight": 600,
      class: "ink",
      fill: ink.text,
    })
  );
}

/** The mark sits on the limit, its words on the wrong side of it where there is room, on paper so that they stay clear. */
function wrongMark(axis: Axis, risk: RiskCurve, sense: Sense): string {
  const { rate, chance } = risk.wrongSignOff;
  const x = xOf(axis, rate);
  const words = `${riskText(chance)} wrongly met`;
  const wide = textWidth(words, 12.5) + 8;
  const roomLeft = x - wide - 14 >= plot.left;
  const roomRight = x + wide + 9 <= plot.left + plot.width;
  const left = sense === "at-least" ? (roomLeft ? x - wide - 14 : x + 9) : roomRight ? x + 9 : x - wide - 14;
  const baseline = Math.min(yOf(chance), plot.bottom - 12) - 8;
  const dot = element("circle", { cx: x, cy: yOf(chance), r: 4.5, class: "box-fill", fill: ink["not-met"] });
  const plate = element("rect", {
    x: left,
    y: baseline - 13,
    width: wide,
    height: 18,
    class: "plate",
    fill: ink.paper,
  });
  const text = textAt(left + 4, baseline, words, {
    "font-size": 12.5,
    "font-weight": 600,
    class: "ink",
    fill: ink.text,
  });
  return element("g", { class: "not-met" }, dot) + plate + text;
}

function legend(): string {
  let x = plot.left;
  return curves
    .map(({ state, dashes, stroke }) => {
      const word = stateWord(state);
      const sample = element("line", {
        x1: x + 18,
        x2: x + 48,
        y1: 18,
        y2: 18,
        class: "interval",
        stroke: ink[state],
        "stroke-width": stroke,
        "stroke-dasharray": dashes,
      });
      const mark =
        stateBoxMark(state, x, 12, 12, "none") +
        element("g", { class: state }, sample) +
        textAt(x + 54, 22.5, word, { "font-size": 13, class: "ink", fill: ink.text });
      x += 54 + textWidth(word, 13) + 28;
      return mark;
    })
    .join("");
}
