import { countText, decimalText, statedNumber } from "../../model/number-words.ts";
import type { RssiSummary } from "../../model/result/round.ts";
import { barInk, formFrame, frame, horizontal, ink, rectangle, smaller, textAt, vertical } from "./svg.ts";
import { textWidth } from "./text-fit.ts";

const toTheLeft = { ...smaller, "text-anchor": "end" };
const centred = { ...smaller, "text-anchor": "middle" };

/** A bar that stands on the baseline. */
function bar(x: number, width: number, { height, bottom }: { height: number; bottom: number }): string {
  return rectangle({ x, y: bottom - height, width, height }, { class: "bar", fill: barInk });
}

function baseline(left: number, right: number, y: number): string {
  return horizontal(left, right, y, { class: "leader", stroke: ink.second, "stroke-width": 1 });
}

/** 0 and the highest count beside the bars, and below it what is counted. */
function countScale(x: number, most: number, at: { bottom: number; most: number; unit: number }): string {
  return (
    textAt(x, at.bottom, "0", toTheLeft) +
    textAt(x, at.most, countText(most), toTheLeft) +
    textAt(x, at.unit, "tags", toTheLeft)
  );
}

export interface RssiPicture {
  id: string;
  title: string;
  description: string;
  rssi: RssiSummary;
  /** Limits of RSSI criteria at this read point, dBm. */
  limitsDbm: number[];
}

const histogram = { width: 720, left: 46, right: 704, plotHeight: 170 };

/** The strongest RSSI of the tags read, in equal steps, with its 5 % point, median and 95 % point, and any limit asked. */
export function rssiHistogramPicture({ id, title, description, rssi, limitsDbm }: RssiPicture): string {
  const { width, left, right, plotHeight } = histogram;
  const { bins, binWidthDb } = rssi;
  const firstBin = bins[0]?.fromDbm ?? rssi.minDbm;
  const lastBin = (bins[bins.length - 1]?.fromDbm ?? rssi.maxDbm) + binWidthDb;
  const from = Math.min(firstBin, ...limitsDbm) - binWidthDb / 2;
  const to = Math.max(lastBin, ...limitsDbm) + binWidthDb / 2;
  const x = (dbm: number) => left + ((right - left) * (dbm - from)) / (to - from);
  const most = Math.max(1, ...bins.map((bin) => bin.count));
  const rules = placedRules(rssiRules(rssi, limitsDbm), x);
  const top = 15 * (Math.max(0, ...rules.map(({ level }) => level)) + 1) + 6;
  const bottom = top + plotHeight;
  const bars = bins.map(({ fromDbm, count }) =>
    bar(x(fromDbm) + 0.75, Math.max(0.5, x(fromDbm + binWidthDb) - x(fromDbm) - 1.5), {
      height: ((plotHeight - 8) * count) / most,
      bottom,
    }),
  );
  return frame(
    { id, width, height: bottom + 38, title, description, className: "histogram" },
    [
      ...bars,
      baseline(left, right, bottom),
      ...rules.map((rule) => ruleLine(rule, x(rule.dbm), { top, bottom })),
      ...rules.map((rule) => ruleText(rule, top)),
      ...dbmTicks(from, to).map((dbm) => textAt(x(dbm), bottom + 16, statedNumber(dbm), centred)),
      countScale(left - 6, most, { bottom, most: top + 14, unit: top + 28 }),
      textAt(right, bottom + 33, "strongest RSSI of each tag read, dBm", toTheLeft),
    ].join(""),
  );
}

/** A labelled upright through the histogram. */
interface Rule {
  dbm: number;
  text: string;
  /** Of a limit, not of the data. */
  heavy: boolean;
}

interface PlacedRule extends Rule {
  textX: number;
  end: number;
  /** 0 next to the plot. */
  level: number;
}

function rssiRules({ q05Dbm, medianDbm, q95Dbm }: RssiSummary, limitsDbm: number[]): Rule[] {
  return [
    { dbm: q05Dbm, text: `5 % at or below ${decimalText(q05Dbm, 1)}`, heavy: false },
    { dbm: medianDbm, text: `median ${decimalText(medianDbm, 1)}`, heavy: false },
    { dbm: q95Dbm, text: `95 % at or below ${decimalText(q95Dbm, 1)}`, heavy: false },
    ...limitsDbm.map((dbm) => ({ dbm, text: `${statedNumber(dbm)} dBm required`, heavy: true })),
  ];
}

/** Labels that would touch are raised; the rightmost stays lowest. */
function placedRules(rules: Rule[], x: (dbm: number) => number): PlacedRule[] {
  const placed: PlacedRule[] = [];
  for (const rule of [...rules].sort((a, b) => b.dbm - a.dbm)) {
    const width = textWidth(rule.text, 12.5);
    const textX = Math.max(0, Math.min(x(rule.dbm) + 4, histogram.width - width));
    let level = 0;
    const clashes = (other: PlacedRule) =>
      other.level === level && textX < other.end + 10 && other.textX < textX + width + 10;
    while (placed.some(clashes)) level += 1;
    placed.push({ ...rule, textX, end: textX + width, level });
  }
  return placed;
}

function ruleLine(
  { level, heavy }: PlacedRule,
  x: number,
  { top, bottom }: { top: number; bottom: number },
): string {
  return vertical(x, top - 3 - 15 * level, bottom, {
    class: heavy ? "limit" : "leader",
    stroke: heavy ? ink.text : ink.second,
    "stroke-width": heavy ? 1.75 : 1,
    "stroke-dasharray": heavy ? null : "4 3",
  });
}

function ruleText({ textX, level, text, heavy }: PlacedRule, top: number): string {
  return textAt(textX, top - 6 - 15 * level, text, {
    "text-anchor": "start",
    "font-size": 12.5,
    "font-weight": heavy ? 600 : null,
    class: heavy ? "ink" : "second",
    fill: heavy ? ink.text : ink.second,
  });
}

function dbmTicks(from: number, to: number): number[] {
  const step = [1, 2, 5, 10, 20].find((size) => (to - from) / size <= 10) ?? 20;
  const first = Math.ceil(from / step) * step;
  return Array.from({ length: Math.floor((to - first) / step) + 1 }, (_, i) => first + i * step);
}

export interface MinuteBars {
  id: string;
  title: string;
  description: string;
  /** The session, in minutes of one clock. */
  from: number;
  to: number;
  /** One bar covers so many minutes. */
  step: number;
  /** Bars that are not 0, by the minute in which they begin. */
  bars: { from: number; count: number }[];
  /** When passes were under way. */
  passes: { from: number; to: number }[];
  ticks: { at: number; label: string }[];
  /** What the axis below is. */
  axisText: string;
}

const clockTick = { "font-size": 12, "text-anchor": "middle", class: "second", fill: ink.second };
const session = { left: 40, top: 12, plotHeight: 96, bottom: 108 };

/** Tags read over a session, minute by minute, with the passes below; for a page and for a phone. */
export function minuteBarsPicture(picture: MinuteBars): string {
  return (
    sessionPicture(picture, { name: "wide", width: 720 }) +
    sessionPicture(picture, { name: "narrow", width: 360 })
  );
}

function sessionPicture(picture: MinuteBars, form: { name: "wide" | "narrow"; width: number }): string {
  const { from, to, step, bars } = picture;
  const { left, top, plotHeight, bottom } = session;
  const right = form.width - 8;
  const x = (minute: number) => left + ((right - left) * (minute - from)) / (to - from);
  const most = Math.max(1, ...bars.map(({ count }) => count));
  return formFrame(picture, { ...form, height: bottom + 54 }, [
    ...bars.map(({ from: start, count }) =>
      bar(x(start), Math.max(1, x(start + step) - x(start) - 0.5), {
        height: (plotHeight * count) / most,
        bottom,
      }),
    ),
    baseline(left, right, bottom),
    passStrip(picture.passes, x),
    clockTicks(picture.ticks, x, right),
    countScale(left - 6, most, { bottom, most: top + 9, unit: top + 24 }),
    textAt(left - 6, bottom + 14, "passes", { ...toTheLeft, "font-size": 11.5 }),
    textAt(right, bottom + 49, picture.axisText, toTheLeft),
  ]);
}

/** Passes less than half a unit apart are drawn as one, so that thousands of passes need few marks. */
function passStrip(passes: MinuteBars["passes"], x: (minute: number) => number): string {
  const merged: { start: number; end: number }[] = [];
  for (const pass of [...passes].sort((a, b) => a.from - b.from)) {
    const start = x(pass.from);
    const end = Math.max(x(pass.to), start + 0.75);
    const last = merged[merged.length - 1];
    if (last !== undefined && start <= last.end + 0.5) last.end = Math.max(last.end, end);
    else merged.push({ start, end });
  }
  return merged
    .map(({ start, end }) =>
      rectangle(
        { x: start, y: session.bottom + 6, width: end - start, height: 8 },
        { class: "pass-time", fill: ink.second },
      ),
    )
    .join("");
}

function clockTicks(ticks: MinuteBars["ticks"], x: (minute: number) => number, right: number): string {
  let taken = Number.NEGATIVE_INFINITY;
  return ticks
    .map(({ at, label }) => {
      const half = textWidth(label, 12) / 2;
      const centre = Math.min(x(at), right - half);
      if (centre - half < taken + 8) return "";
      taken = centre + half;
      return textAt(centre, session.bottom + 31, label, clockTick);
    })
    .join("");
}
