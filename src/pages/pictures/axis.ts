import type { Sense } from "../../model/facility.ts";
import { statedNumber, thinSpace } from "../../model/number-words.ts";

export interface Axis {
  from: number;
  to: number;
  /** 0 at the left end, 1 at the right; what lies outside is held at the end. */
  position: (value: number) => number;
  ticks: { value: number; label: string }[];
  /** What a reader must know of the scale; empty where it runs evenly from 0 to 100 %. */
  note: string;
}

function scaled(from: number, to: number, stretch: (value: number) => number): Axis["position"] {
  const low = stretch(from);
  const span = stretch(to) - low;
  return (value) => Math.min(1, Math.max(0, (stretch(value) - low) / span));
}

/** Where the stretched scale stops stretching: keeps 100 % at a finite place, a third of a decade beyond 99.9 %. */
const softening = 0.0005;

const shares = [0, 0.2, 0.5, 0.8, 0.9, 0.95, 0.98, 0.99, 0.995, 0.999, 1];

const percent = (rate: number) => statedNumber(rate * 100);

/** Rates crowd near the end that is asked for: the scale is drawn out towards 100 %, or towards 0 where little is allowed. */
export function stretchedRateAxis(values: number[], sense: Sense): Axis {
  if (sense === "at-least") {
    const lowest = Math.min(...values, 0.99);
    const from = shares.filter((share) => share <= lowest).pop() ?? 0;
    const start = from === 0 ? "" : `The axis starts at ${percent(from)}${thinSpace}%, not at 0. `;
    return {
      from,
      to: 1,
      position: scaled(from, 1, (rate) => -Math.log10(1 - rate + softening)),
      ticks: shares.filter((share) => share >= from).map((value) => ({ value, label: percent(value) })),
      note: `${start}The scale is drawn out towards 100${thinSpace}%.`,
    };
  }
  const mirrored = shares.map((share) => Number((1 - share).toFixed(3))).reverse();
  const highest = Math.max(...values, 0.01);
  const to = mirrored.find((share) => share >= highest) ?? 1;
  const end = to === 1 ? "" : `The axis ends at ${percent(to)}${thinSpace}%. `;
  return {
    from: 0,
    to,
    position: scaled(0, to, (rate) => Math.log10(rate + softening)),
    ticks: mirrored.filter((share) => share <= to).map((value) => ({ value, label: percent(value) })),
    note: `${end}The scale is drawn out towards 0.`,
  };
}

/** Equal steps from the lowest thing shown, rounded down, to 100 %; or from 0 to the highest where little is allowed. */
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
    position: scaled(from, to, (rate) => rate),
    ticks: Array.from({ length: count + 1 }, (_, i) => {
      const value = Math.min(1, from + i * step);
      return { value, label: percent(value) };
    }),
    note: notes.filter((note) => note !== "").join(" "),
  };
}

/** Equal steps around what is shown. */
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
    position: scaled(from, to, (level) => level),
    ticks: Array.from({ length: Math.round((to - from) / step) + 1 }, (_, i) => ({
      value: from + i * step,
      label: statedNumber(from + i * step),
    })),
    note: "",
  };
}

/** Equal steps from 0 to the highest thing shown, up to a round number. */
export function fromZeroAxis(values: number[], note = ""): Axis {
  const highest = Math.max(0, ...values) || 1;
  const decade = 10 ** Math.floor(Math.log10(highest / 6));
  const step = decade * ([1, 2, 5].find((size) => highest / (size * decade) <= 6) ?? 10);
  const count = Math.ceil(highest / step - 1e-9);
  const to = count * step;
  return {
    from: 0,
    to,
    position: scaled(0, to, (value) => value),
    ticks: Array.from({ length: count + 1 }, (_, i) => ({ value: i * step, label: statedNumber(i * step) })),
    note,
  };
}
