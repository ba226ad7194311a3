import { statedNumber } from "../../model/number-words.ts";
import type { Axis } from "./axis.ts";

/** What an axis of differences must hold of one row. */
export interface DifferenceReach {
  lower: number;
  upper: number;
}

/** On an even scale that runs further than this, what does not matter would be too narrow a band to see. */
const furthestEven = 0.1;

/** The axis reaches at least a tenth of a point either way, however little is shown. */
const least = 0.001;

/** Where the drawn-out scale stops stretching: half a percentage point. */
const softening = 0.005;

const magnitudes = [0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1];

const points = (fraction: number) => statedNumber(fraction * 100);

/**
 * The axis of differences in percentage points, with 0 and the band that does not matter always on it: in equal steps up to
 * ten points either way, beyond that drawn out towards 0, which its note says.
 */
export function differenceAxis(reaches: DifferenceReach[], smallestThatMatters: number): Axis {
  const lowest = Math.min(...reaches.map(({ lower }) => lower), -smallestThatMatters, -least);
  const highest = Math.max(...reaches.map(({ upper }) => upper), smallestThatMatters, least);
  return Math.max(-lowest, highest) > furthestEven ? drawnOut(lowest, highest) : even(lowest, highest);
}

function even(lowest: number, highest: number): Axis {
  const span = highest - lowest;
  const decade = 10 ** Math.floor(Math.log10(span / 6));
  const step = decade * ([1, 2, 5].find((size) => span / (size * decade) <= 6) ?? 10);
  // A little air, so that nothing ends on the edge.
  const first = Math.floor(lowest / step - 0.15);
  const last = Math.ceil(highest / step + 0.15);
  const from = Math.max(-1, first * step);
  const to = Math.min(1, last * step);
  const ticks = Array.from({ length: last - first + 1 }, (_, i) => (first + i) * step)
    .filter((value) => value >= -1 - 1e-9 && value <= 1 + 1e-9)
    .map((value) => ({ value, label: points(value) }));
  return { from, to, position: placed(from, to, (value) => value), ticks, note: "" };
}

function drawnOut(lowest: number, highest: number): Axis {
  const outside = (reach: number) => magnitudes.find((one) => one >= reach) ?? 1;
  const from = -outside(-lowest);
  const to = outside(highest);
  const values = [...magnitudes.map((one) => -one).reverse(), 0, ...magnitudes];
  return {
    from,
    to,
    position: placed(from, to, (value) => Math.sign(value) * Math.log10(1 + Math.abs(value) / softening)),
    ticks: values
      .filter((value) => value >= from && value <= to)
      .map((value) => ({ value, label: points(value) })),
    note: "The scale is drawn out towards 0.",
  };
}

function placed(from: number, to: number, stretch: (value: number) => number): Axis["position"] {
  const low = stretch(from);
  const span = stretch(to) - low;
  return (value) => Math.min(1, Math.max(0, (stretch(value) - low) / span));
}
