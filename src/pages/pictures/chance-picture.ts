import { limitPhrase, percent } from "../../measures/scales.ts";
import type { Sense } from "../../model/facility.ts";
import { thinSpace } from "../../model/number-words.ts";
import type { RiskCurve, RiskPoint } from "../../model/plan.ts";
import type { State } from "../../model/result.ts";
import { riskText } from "../words/plan-sentence.ts";
import { stateWord } from "../words/states.ts";
import { type Axis, stretchedRateAxis } from "./axis.ts";
import { axisMarks, goodSide, limitRule, type Plot } from "./interval-axis.ts";
import { stateBoxMark } from "./state-box.ts";
import { element, frame, ink, textAt } from "./svg.ts";
import { textWidth } from "./text-fit.ts";

export interface ChancePicture {
  id: string;
  title: string;
  description: string;
  risk: RiskCurve;
  sense: Sense;
}

interface Form {
  name: "wide" | "narrow";
  width: number;
  height: number;
  plot: Plot;
}

/** On a phone the picture is drawn anew, since text that is scaled down cannot be read. */
const forms: Form[] = [
  { name: "wide", width: 720, height: 330, plot: { left: 54, width: 616, top: 62, bottom: 262 } },
  { name: "narrow", width: 360, height: 336, plot: { left: 46, width: 282, top: 64, bottom: 264 } },
];

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
export function chancePicture(picture: ChancePicture): string {
  return forms.map((form) => drawn(picture, form)).join("");
}

function drawn({ id, title, description, risk, sense }: ChancePicture, form: Form): string {
  const { name, width, height, plot } = form;
  const axis = stretchedRateAxis(
    risk.points.map((point) => point.rate),
    sense,
  );
  const limit = risk.wrongSignOff.rate;
  return frame(
    {
      id: name === "wide" ? id : `${id}-${name}`,
      width,
      height,
      title,
      description,
      className: `chances ${name}`,
    },
    [
      goodSide(axis, plot, limit, sense === "at-least"),
      axisMarks(axis, plot, "%", sense === "at-least"),
      chanceScale(plot),
      wrongGround(axis, plot, risk, sense),
      ...curves.map((curve) => curveMark(curve, axis, plot, risk)),
      limitMark(axis, form, limit, limitPhrase(limit, percent, sense)),
      wrongMark(axis, plot, risk, sense),
      legend(form),
      textAt(plot.left, plot.bottom + 38, "true rate", quiet({ "text-anchor": "start" })),
      ...noteLines(axis.note, plot.width - 70).map((line, i) =>
        textAt(plot.left + plot.width, plot.bottom + 38 + 15 * i, line, quiet({ "text-anchor": "end" })),
      ),
    ].join(""),
  );
}

const quiet = (more: Record<string, string | number>) => ({
  "font-size": 12,
  class: "second",
  fill: ink.second,
  ...more,
});

const xOf = (axis: Axis, plot: Plot, rate: number) => plot.left + plot.width * axis.position(rate);
const yOf = (plot: Plot, chance: number) => plot.bottom - (plot.bottom - plot.top) * chance;
const place = (x: number, y: number) => `${x.toFixed(2)},${y.toFixed(2)}`;

/** The note of the axis, broken after a sentence where it does not fit beside the name of the axis. */
function noteLines(note: string, room: number): string[] {
  return textWidth(note, 12) <= room ? [note] : note.split(/(?<=\.) /);
}

function chanceScale(plot: Plot): string {
  return [0, 0.2, 0.4, 0.6, 0.8, 1]
    .map(
      (chance) =>
        element("line", {
          x1: plot.left,
          x2: plot.left + plot.width,
          y1: yOf(plot, chance),
          y2: yOf(plot, chance),
          class: "hair",
          stroke: ink.hair,
          "stroke-width": 0.75,
        }) +
        textAt(
          plot.left - 8,
          yOf(plot, chance) + 4,
          `${(chance * 100).toFixed(0)}${thinSpace}%`,
          quiet({ "text-anchor": "end" }),
        ),
    )
    .join("");
}

function wrongGround(axis: Axis, plot: Plot, risk: RiskCurve, sense: Sense): string {
  const limit = risk.wrongSignOff.rate;
  const wrong = risk.points.filter((point) =>
    sense === "at-least" ? point.rate <= limit : point.rate >= limit,
  );
  const [first] = wrong;
  const last = wrong.at(-1);
  if (first === undefined || last === undefined) return "";
  const edge = wrong.map((point) => place(xOf(axis, plot, point.rate), yOf(plot, point.met)));
  const points = [
    place(xOf(axis, plot, first.rate), yOf(plot, 0)),
    ...edge,
    place(xOf(axis, plot, last.rate), yOf(plot, 0)),
  ];
  const ground = element("polygon", { points: points.join(" "), class: "box-fill", fill: ink["not-met"] });
  return element("g", { class: "not-met" }, ground);
}

function curveMark(
  { state, chanceOf, dashes, stroke }: Curve,
  axis: Axis,
  plot: Plot,
  risk: RiskCurve,
): string {
  const points = risk.points.map((point) => place(xOf(axis, plot, point.rate), yOf(plot, chanceOf(point))));
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

function limitMark(axis: Axis, { width, plot }: Form, limit: number, words: string): string {
  const half = textWidth(words, 12.5) / 2;
  const textX = Math.max(half, Math.min(xOf(axis, plot, limit), width - half));
  const text = textAt(textX, plot.top - 12, words, {
    "text-anchor": "middle",
    "font-size": 12.5,
    "font-weight": 600,
    class: "ink",
    fill: ink.text,
  });
  return limitRule(axis, { ...plot, top: plot.top - 6 }, limit) + text;
}

/** The mark sits on the limit, its words on the wrong side of it where there is room, on paper so that they stay clear. */
function wrongMark(axis: Axis, plot: Plot, risk: RiskCurve, sense: Sense): string {
  const { rate, chance } = risk.wrongSignOff;
  const x = xOf(axis, plot, rate);
  const words = `${riskText(chance)} wrongly met`;
  const wide = textWidth(words, 12.5) + 8;
  const roomLeft = x - wide - 8 >= plot.left;
  const roomRight = x + wide + 9 <= plot.left + plot.width;
  const left = sense === "at-least" ? (roomLeft ? x - wide - 8 : x + 9) : roomRight ? x + 9 : x - wide - 8;
  const baseline = Math.min(yOf(plot, chance), plot.bottom - 12) - 8;
  const dot = element("circle", {
    cx: x,
    cy: yOf(plot, chance),
    r: 4.5,
    class: "box-fill",
    fill: ink["not-met"],
  });
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

function legend({ name, plot }: Form): string {
  let x = plot.left;
  const [line, gap] = name === "wide" ? [30, 28] : [20, 16];
  return curves
    .map(({ state, dashes, stroke }) => {
      const word = stateWord(state);
      const sample = element("line", {
        x1: x + 18,
        x2: x + 18 + line,
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
        textAt(x + line + 24, 22.5, word, { "font-size": 13, class: "ink", fill: ink.text });
      x += line + 24 + textWidth(word, 13) + gap;
      return mark;
    })
    .join("");
}
