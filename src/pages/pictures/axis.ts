import type { Sense } from "../../model/facility.ts";
import { nonEmpty, powerOfTen, statedNumber, statedPercent, thinSpace } from "../../model/number-words.ts";
import { horizontal, ink, rectangle, smaller, textAt, vertical } from "./svg.ts";
import { textWidth } from "./text-fit.ts";

export interface Axis {
  from: number;
  to: number;
  /** 0 at the left end, 1 at the right; clamped. */
  position: (value: number) => number;
  ticks: { value: number; label: string }[];
  /** A note for the reader; empty where the scale is linear from 0 to 100 %. */
  note: string;
}

function positionOn(from: number, to: number, transform: (value: number) => number): Axis["position"] {
  const low = transform(from);
  const span = transform(to) - low;
  return (value) => Math.min(1, Math.max(0, (transform(value) - low) / span));
}

const linear = (value: number) => value;

/** The smallest 1, 2 or 5 times a power of ten that divides a span into at most six steps. */
function roundStep(span: number): number {
  const decade = powerOfTen(Math.floor(Math.log10(span / 6)));
  return decade * ([1, 2, 5].find((size) => span / (size * decade) <= 6) ?? 10);
}

const percent = (rate: number) => statedNumber(rate * 100);

/** Added before the logarithm: keeps 100 % at a finite place, a third of a decade beyond 99.9 %. */
const rateOffset = 0.0005;

const shares = [0, 0.2, 0.5, 0.8, 0.9, 0.95, 0.98, 0.99, 0.995, 0.999, 1];

/** Rates crowd near the required end: a logarithmic scale near 100 %, or near 0 where at most something is allowed. */
export function stretchedRateAxis(values: number[], sense: Sense): Axis {
  if (sense === "at-least") {
    const lowest = Math.min(...values, 0.99);
    const from = shares.filter((share) => share <= lowest).pop() ?? 0;
    const start = from === 0 ? "" : `The axis starts at ${percent(from)}${thinSpace}%, not at 0. `;
    return {
      from,
      to: 1,
      position: positionOn(from, 1, (rate) => -Math.log10(1 - rate + rateOffset)),
      ticks: shares.filter((share) => share >= from).map((value) => ({ value, label: percent(value) })),
      note: `${start}The scale is stretched near 100${thinSpace}%.`,
    };
  }
  const mirrored = shares.map((share) => Number((1 - share).toFixed(3))).reverse();
  const highest = Math.max(...values, 0.01);
  const to = mirrored.find((share) => share >= highest) ?? 1;
  const end = to === 1 ? "" : `The axis ends at ${percent(to)}${thinSpace}%. `;
  return {
    from: 0,
    to,
    position: positionOn(0, to, (rate) => Math.log10(rate + rateOffset)),
    ticks: mirrored.filter((share) => share <= to).map((value) => ({ value, label: percent(value) })),
    note: `${end}The scale is stretched near 0.`,
  };
}

/** Linear from the lowest value shown, rounded down, to 100 %; or from 0 to the highest where at most something is allowed. */
export function evenRateAxis(values: number[], sense: Sense): Axis {
  const lowest = sense === "at-least" ? Math.min(...values, 0.95) : 0;
  const highest = sense === "at-least" ? 1 : Math.max(...values, 0.05);
  const step = [0.01, 0.02, 0.05, 0.1, 0.2].find((size) => (highest - lowest) / size <= 6) ?? 0.2;
  const from = Math.max(0, Math.floor(lowest / step + 1e-9) * step);
  const to = Math.min(1, Math.ceil(highest / step - 1e-9) * step);
  const count = Math.round((to - from) / step);
  const notes = [
    from > 0 ? `The axis starts at ${percent(from)}${thinSpace}%, not at 0.` : "",
    to < 1 ? `The axis ends at ${percent(to)}${thinSpace}%.` : "",
  ];
  return {
    from,
    to,
    position: positionOn(from, to, linear),
    ticks: Array.from({ length: count + 1 }, (_, i) => {
      const value = Math.min(1, from + i * step);
      return { value, label: percent(value) };
    }),
    note: nonEmpty(notes).join(" "),
  };
}

/** Linear around the values shown. */
export function levelAxis(values: number[]): Axis {
  const lowest = Math.min(...values);
  const highest = Math.max(...values);
  const low = Number.isFinite(lowest) ? lowest : -80;
  const high = Number.isFinite(highest) ? highest : -40;
  const step = [1, 2, 5, 10, 20].find((size) => (high - low) / size <= 6) ?? 20;
  const from = Math.floor(low / step - 0.2) * step;
  const to = Math.ceil(high / step + 0.2) * step;
  return {
    from,
    to,
    position: positionOn(from, to, linear),
    ticks: Array.from({ length: Math.round((to - from) / step) + 1 }, (_, i) => ({
      value: from + i * step,
      label: statedNumber(from + i * step),
    })),
    note: "",
  };
}

/** Linear from 0 to the highest value shown, rounded up. */
export function fromZeroAxis(values: number[], note = ""): Axis {
  const highest = Math.max(0, ...values) || 1;
  const step = roundStep(highest);
  const count = Math.ceil(highest / step - 1e-9);
  const to = count * step;
  return {
    from: 0,
    to,
    position: positionOn(0, to, linear),
    ticks: Array.from({ length: count + 1 }, (_, i) => ({ value: i * step, label: statedNumber(i * step) })),
    note,
  };
}

/** Beyond this a linear scale would make the band of differences that do not matter too narrow to see. */
const furthestEven = 0.1;

/** The axis reaches at least a tenth of a percentage point either way. */
const leastReach = 0.001;

/** Half a percentage point: the stretched scale is nearly linear within it. */
const differenceOffset = 0.005;

const magnitudes = [0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1];

/**
 * The axis of differences in percentage points. It always holds 0 and the band of differences that do not matter. It is linear
 * up to ten points either way and stretched near 0 beyond that, which its note says.
 */
export function differenceAxis(shown: { lower: number; upper: number }[], smallestThatMatters: number): Axis {
  const lowest = Math.min(...shown.map(({ lower }) => lower), -smallestThatMatters, -leastReach);
  const highest = Math.max(...shown.map(({ upper }) => upper), smallestThatMatters, leastReach);
  return Math.max(-lowest, highest) > furthestEven
    ? stretchedDifferenceAxis(lowest, highest)
    : evenDifferenceAxis(lowest, highest);
}

function evenDifferenceAxis(lowest: number, highest: number): Axis {
  const step = roundStep(highest - lowest);
  // A margin, so that no line ends on the edge.
  const first = Math.floor(lowest / step - 0.15);
  const last = Math.ceil(highest / step + 0.15);
  const from = Math.max(-1, first * step);
  const to = Math.min(1, last * step);
  const ticks = Array.from({ length: last - first + 1 }, (_, i) => (first + i) * step)
    .filter((value) => value >= -1 - 1e-9 && value <= 1 + 1e-9)
    .map((value) => ({ value, label: percent(value) }));
  return { from, to, position: positionOn(from, to, linear), ticks, note: "" };
}

function stretchedDifferenceAxis(lowest: number, highest: number): Axis {
  const outside = (reach: number) => magnitudes.find((one) => one >= reach) ?? 1;
  const from = -outside(-lowest);
  const to = outside(highest);
  const values = [...magnitudes.map((one) => -one).reverse(), 0, ...magnitudes];
  return {
    from,
    to,
    position: positionOn(
      from,
      to,
      (value) => Math.sign(value) * Math.log10(1 + Math.abs(value) / differenceOffset),
    ),
    ticks: values
      .filter((value) => value >= from && value <= to)
      .map((value) => ({ value, label: percent(value) })),
    note: "The scale is stretched near 0.",
  };
}

/** A plot's place inside a picture. */
export interface Plot {
  left: number;
  width: number;
  top: number;
  bottom: number;
}

/** A picture with one plot, as wide as a page or drawn anew for a phone, since text that is scaled down cannot be read. */
export interface PlotForm {
  name: "wide" | "narrow";
  width: number;
  height: number;
  plot: Plot;
}

/** Where a value stands in a plot, from the picture's left edge. */
export function xOn(axis: Axis, plot: Pick<Plot, "left" | "width">, value: number): number {
  return plot.left + plot.width * axis.position(value);
}

/** Where a share, 0 to 1, stands in a plot, from the picture's upper edge. */
export function yOn({ top, bottom }: Plot, share: number): number {
  return bottom - (bottom - top) * share;
}

/** A line across the plot at a share, with its percentage at the left. */
export function shareTick(plot: Plot, share: number): string {
  const { left, width } = plot;
  const y = yOn(plot, share);
  const text = statedPercent(share);
  const line = horizontal(left, left + width, y, { class: "hair", stroke: ink.hair, "stroke-width": 0.75 });
  return line + textAt(left - 8, y + 4, text, { ...smaller, "text-anchor": "end" });
}

/** How the ticks of an axis are labelled. */
interface TickLabels {
  unit: string;
  /** Whether labels that would touch are left out from the left end, not the right. */
  keepRight: boolean;
}

/** Tick lines, and as many of their labels as do not touch. */
export function axisMarks(axis: Axis, plot: Plot, { unit, keepRight }: TickLabels): string {
  const size = 12;
  const ticks = axis.ticks.map((tick) => ({
    ...tick,
    x: xOn(axis, plot, tick.value),
    half: textWidth(tick.label, size) / 2,
  }));
  const labelled: typeof ticks = [];
  for (const tick of keepRight ? ticks.toReversed() : ticks) {
    if (labelled.every((other) => Math.abs(other.x - tick.x) >= other.half + tick.half + 5))
      labelled.push(tick);
  }
  const style = { "font-size": size, class: "second", fill: ink.second };
  const lines = ticks.map(({ x }) =>
    vertical(x, plot.top, plot.bottom, { class: "hair", stroke: ink.hair, "stroke-width": 0.75 }),
  );
  const labels = labelled.map(({ x, label }) =>
    textAt(x, plot.bottom + 15, label, { "text-anchor": "middle", ...style }),
  );
  const unitX = plot.left + plot.width + (unit.length > 1 ? 18 : 14);
  return lines.join("") + labels.join("") + textAt(unitX, plot.bottom + 15, unit, style);
}

/** The good side of a limit, tinted. */
export function goodSide(axis: Axis, plot: Plot, { limit, sense }: { limit: number; sense: Sense }): string {
  const atLeast = sense === "at-least";
  const x = xOn(axis, plot, limit);
  const right = plot.left + plot.width;
  return rectangle(
    {
      x: atLeast ? x : plot.left,
      y: plot.top,
      width: Math.max(0, atLeast ? right - x : x - plot.left),
      height: plot.bottom - plot.top,
    },
    { class: "good", fill: ink.good },
  );
}

/** The limit's rule through the whole height of a row. */
export function limitRule(axis: Axis, plot: Plot, limit: number): string {
  return vertical(xOn(axis, plot, limit), plot.top, plot.bottom, {
    class: "limit",
    stroke: ink.text,
    "stroke-width": 2,
  });
}
