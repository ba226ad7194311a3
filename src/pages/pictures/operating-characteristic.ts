import { limitPhrase, percent } from "../../measures/scales.ts";
import type { Sense } from "../../model/facility.ts";
import type { RiskCurve, RiskPoint } from "../../model/result/plan.ts";
import type { State } from "../../model/state.ts";
import { riskText } from "../words/figures.ts";
import { stateWord } from "../words/verdicts.ts";
import {
  type Axis,
  axisMarks,
  goodSide,
  limitRule,
  type Plot,
  type PlotForm,
  shareTick,
  stretchedRateAxis,
  xOn,
  yOn,
} from "./axis.ts";
import { stateBoxMark } from "./signs.ts";
import { element, frame, horizontal, ink, rectangle, smaller, textAt } from "./svg.ts";
import { textWidth } from "./text-fit.ts";

export interface OperatingCharacteristicPicture {
  id: string;
  title: string;
  description: string;
  risk: RiskCurve;
  sense: Sense;
}

const forms: PlotForm[] = [
  { name: "wide", width: 720, height: 330, plot: { left: 54, width: 616, top: 62, bottom: 262 } },
  { name: "narrow", width: 360, height: 336, plot: { left: 46, width: 282, top: 64, bottom: 264 } },
];

interface Curve {
  state: Exclude<State, "untested">;
  chanceOf: (point: RiskPoint) => number;
  /** The curves are told apart by their strokes where colours are lost. */
  stroke: { "stroke-width": number; "stroke-dasharray": string | null };
}

const curves: Curve[] = [
  {
    state: "met",
    chanceOf: (point) => point.met,
    stroke: { "stroke-width": 3, "stroke-dasharray": null },
  },
  {
    state: "undecided",
    chanceOf: (point) => point.undecided,
    stroke: { "stroke-width": 2, "stroke-dasharray": "7 4" },
  },
  {
    state: "not-met",
    chanceOf: (point) => point.notMet,
    stroke: { "stroke-width": 2.5, "stroke-dasharray": "2 3.5" },
  },
];

/**
 * The operating characteristic of a planned walk: the chance of each state against the true rate, with the limit as a
 * full-height rule. The consumer's risk is marked: the area below the curve of met on the wrong side of the limit, and its
 * highest point, at the limit itself.
 */
export function operatingCharacteristicPicture(picture: OperatingCharacteristicPicture): string {
  return forms.map((form) => drawn(picture, form)).join("");
}

/** Maps rates and chances to places in the picture. */
interface Places {
  axis: Axis;
  plot: Plot;
  x(rate: number): number;
  y(chance: number): number;
  /** `x,y` of a point on a curve. */
  point(rate: number, chance: number): string;
}

function placesOf(risk: RiskCurve, sense: Sense, plot: Plot): Places {
  const axis = stretchedRateAxis(
    risk.points.map((point) => point.rate),
    sense,
  );
  const x = (rate: number) => xOn(axis, plot, rate);
  const y = (chance: number) => yOn(plot, chance);
  return { axis, plot, x, y, point: (rate, chance) => `${x(rate).toFixed(2)},${y(chance).toFixed(2)}` };
}

function drawn(picture: OperatingCharacteristicPicture, form: PlotForm): string {
  const { id, title, description, risk, sense } = picture;
  const { name, width, height, plot } = form;
  const places = placesOf(risk, sense, plot);
  const { axis } = places;
  const limit = risk.wrongSignOff.rate;
  const atLeast = sense === "at-least";
  const below = plot.bottom + 38;
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
      goodSide(axis, plot, { limit, sense }),
      axisMarks(axis, plot, { unit: "%", keepRight: atLeast }),
      ...[0, 0.2, 0.4, 0.6, 0.8, 1].map((chance) => shareTick(plot, chance)),
      consumersRiskArea(risk, atLeast, places),
      ...curves.map((curve) => curveMark(curve, risk, places)),
      limitMark({ limit, words: limitPhrase(limit, percent, sense) }, places, width),
      consumersRiskMark(risk, atLeast, places),
      legend(form),
      textAt(plot.left, below, "true rate", { ...smaller, "text-anchor": "start" }),
      ...noteLines(axis.note, plot.width - 70).map((line, i) =>
        textAt(plot.left + plot.width, below + 15 * i, line, { ...smaller, "text-anchor": "end" }),
      ),
    ].join(""),
  );
}

/** The note of the axis, broken after a sentence where it does not fit beside the name of the axis. */
function noteLines(note: string, room: number): string[] {
  return textWidth(note, 12) <= room ? [note] : note.split(/(?<=\.) /);
}

function consumersRiskArea(risk: RiskCurve, atLeast: boolean, { point }: Places): string {
  const limit = risk.wrongSignOff.rate;
  const wrong = risk.points.filter(({ rate }) => (atLeast ? rate <= limit : rate >= limit));
  const [first] = wrong;
  const last = wrong.at(-1);
  if (first === undefined || last === undefined) return "";
  const edge = wrong.map(({ rate, met }) => point(rate, met));
  const points = [point(first.rate, 0), ...edge, point(last.rate, 0)].join(" ");
  return element(
    "g",
    { class: "not-met" },
    element("polygon", { points, class: "box-fill", fill: ink["not-met"] }),
  );
}

function curveMark({ state, chanceOf, stroke }: Curve, risk: RiskCurve, { point }: Places): string {
  const points = risk.points.map((one) => point(one.rate, chanceOf(one)));
  const line = element("path", {
    d: `M${points.join("L")}`,
    class: "interval",
    fill: "none",
    stroke: ink[state],
    ...stroke,
  });
  return element("g", { class: state }, line);
}

const strong = { "font-size": 12.5, "font-weight": 600, class: "ink", fill: ink.text };

function limitMark(
  { limit, words }: { limit: number; words: string },
  { axis, plot, x }: Places,
  width: number,
): string {
  const half = textWidth(words, 12.5) / 2;
  const textX = Math.max(half, Math.min(x(limit), width - half));
  const text = textAt(textX, plot.top - 12, words, { "text-anchor": "middle", ...strong });
  return limitRule(axis, { ...plot, top: plot.top - 6 }, limit) + text;
}

/** The mark is on the limit; its words are on the wrong side of it where there is room, on a plate that keeps them legible. */
function consumersRiskMark(risk: RiskCurve, atLeast: boolean, { plot, x, y }: Places): string {
  const { rate, chance } = risk.wrongSignOff;
  const words = `${riskText(chance)} wrongly “met”`;
  const width = textWidth(words, 12.5) + 8;
  const before = x(rate) - width - 8;
  const after = x(rate) + 9;
  const fits = { before: before >= plot.left, after: after + width <= plot.left + plot.width };
  const isBefore = atLeast ? fits.before : !fits.after;
  const left = isBefore ? before : after;
  const baseline = Math.min(y(chance), plot.bottom - 12) - 8;
  const dot = element("circle", {
    cx: x(rate),
    cy: y(chance),
    r: 4.5,
    class: "box-fill",
    fill: ink["not-met"],
  });
  const plate = rectangle(
    { x: left, y: baseline - 13, width, height: 18 },
    { class: "plate", fill: ink.paper },
  );
  return element("g", { class: "not-met" }, dot) + plate + textAt(left + 4, baseline, words, strong);
}

function legend({ name, plot }: PlotForm): string {
  let x = plot.left;
  const [line, gap] = name === "wide" ? [30, 28] : [20, 16];
  return curves
    .map(({ state, stroke }) => {
      const word = stateWord(state);
      const sample = horizontal(x + 18, x + 18 + line, 18, {
        class: "interval",
        stroke: ink[state],
        ...stroke,
      });
      const mark =
        stateBoxMark(state, { x, y: 12, size: 12 }) +
        element("g", { class: state }, sample) +
        textAt(x + line + 24, 22.5, word, { "font-size": 13, class: "ink", fill: ink.text });
      x += line + 24 + textWidth(word, 13) + gap;
      return mark;
    })
    .join("");
}
