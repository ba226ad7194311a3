import { statedNumber, thinSpace } from "../../model/number-words.ts";
import type { PowerCurve, PowerResult } from "../../model/radio/power-curves.ts";
import { axisMarks, levelAxis, type PlotForm, shareTick, xOn, yOn } from "./axis.ts";
import { barInk, element, formFrame, horizontal, ink, smaller, textAt, vertical } from "./svg.ts";
import { textWidth } from "./text-fit.ts";

export interface PowerCurvePicture {
  id: string;
  title: string;
  description: string;
  power: PowerResult;
}

const forms: PlotForm[] = [
  { name: "wide", width: 720, height: 318, plot: { left: 54, width: 616, top: 62, bottom: 254 } },
  { name: "narrow", width: 360, height: 324, plot: { left: 46, width: 268, top: 64, bottom: 258 } },
];

const dashes = { logit: null, probit: "6 4" } as const;

/**
 * The share of tags read over the transmit power: the counts as dots, the logistic curve with its band, the probit dashed, and
 * the power in use as a full-height rule.
 */
export function powerCurvePicture(picture: PowerCurvePicture): string {
  return forms.map((form) => drawn(picture, form)).join("");
}

function drawn({ power, ...named }: PowerCurvePicture, form: PlotForm): string {
  const { plot } = form;
  const { curves, steps, inUseDbm } = power;
  const axis = levelAxis([
    ...steps.map(({ powerDbm }) => powerDbm),
    ...(inUseDbm === null ? [] : [inUseDbm]),
  ]);
  const x = (dbm: number) => xOn(axis, plot, dbm);
  const y = (share: number) => yOn(plot, share);
  const at = (dbm: number, share: number) => `${x(dbm).toFixed(2)},${y(share).toFixed(2)}`;
  const inside = ({ band }: PowerCurve) =>
    band.filter(({ powerDbm }) => powerDbm >= axis.from && powerDbm <= axis.to);
  const shares = [0, 0.5, 0.9, 0.99].map((share) => shareTick(plot, share));
  const bands = curves.slice(0, 1).map((curve) => {
    const points = inside(curve);
    const edge = [
      ...points.map(({ powerDbm, upper }) => at(powerDbm, upper)),
      ...points.toReversed().map(({ powerDbm, lower }) => at(powerDbm, lower)),
    ];
    return edge.length === 0
      ? ""
      : element("polygon", { points: edge.join(" "), class: "good", fill: ink.good });
  });
  const lines = curves.map((curve) => {
    const points = inside(curve).map(({ powerDbm, share }) => at(powerDbm, share));
    return points.length === 0
      ? ""
      : element("path", {
          d: `M${points.join("L")}`,
          class: "curve",
          fill: "none",
          stroke: barInk,
          "stroke-width": curve.link === "logit" ? 2.5 : 1.5,
          "stroke-dasharray": dashes[curve.link],
        });
  });
  const dots = steps.map(({ powerDbm, presented, read }) =>
    element("circle", {
      cx: x(powerDbm),
      cy: y(read / presented),
      r: 4,
      class: "ink",
      fill: ink.text,
    }),
  );
  return formFrame(named, form, [
    ...bands,
    axisMarks(axis, plot, { unit: "dBm", keepRight: true }),
    ...shares,
    inUseDbm === null ? "" : inUseMark(inUseDbm, x(inUseDbm), form),
    ...lines,
    ...dots,
    legend(form, curves),
    textAt(plot.left, plot.bottom + 38, "transmit power", { ...smaller, "text-anchor": "start" }),
  ]);
}

function inUseMark(dbm: number, x: number, { plot, width }: PlotForm): string {
  const words = `in use: ${statedNumber(dbm)}${thinSpace}dBm`;
  const half = textWidth(words, 12.5) / 2;
  const place = Math.max(half, Math.min(x, width - half));
  return (
    vertical(x, plot.top - 6, plot.bottom, { class: "limit", stroke: ink.text, "stroke-width": 1.5 }) +
    textAt(place, plot.top - 12, words, {
      "text-anchor": "middle",
      "font-size": 12.5,
      "font-weight": 600,
      class: "ink",
      fill: ink.text,
    })
  );
}

function legend({ name, plot }: PlotForm, curves: readonly PowerCurve[]): string {
  const line = name === "wide" ? 30 : 20;
  let x = plot.left;
  const word = (text: string, mark: string, width: number) => {
    const at = x;
    x += width + 6 + textWidth(text, 13) + (name === "wide" ? 28 : 14);
    return mark + textAt(at + width + 6, 22.5, text, { "font-size": 13, class: "ink", fill: ink.text });
  };
  const dot = element("circle", { cx: x + 4, cy: 18, r: 4, class: "ink", fill: ink.text });
  const parts = [word("measured", dot, 8)];
  for (const { link, state } of curves) {
    if (state !== "fitted") continue;
    const sample = horizontal(x, x + line, 18, {
      class: "curve",
      stroke: barInk,
      "stroke-width": link === "logit" ? 2.5 : 1.5,
      "stroke-dasharray": dashes[link],
    });
    parts.push(word(link, sample, line));
  }
  return parts.join("");
}
