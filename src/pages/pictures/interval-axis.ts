import { limitPhrase, percent } from "../../measures/scales.ts";
import { sentenceStart } from "../../model/number-words.ts";
import { type Axis, evenRateAxis, fromZeroAxis, levelAxis, stretchedRateAxis } from "./axis.ts";
import type { IntervalPicture } from "./interval-rows.ts";
import { element, ink, textAt } from "./svg.ts";
import { textWidth } from "./text-fit.ts";

/** The axis that all rows of a picture share. */
export function sharedAxis({ rows, scale }: IntervalPicture): Axis {
  const shown = rows.flatMap((row) => [
    row.limit,
    ...row.lines.flatMap(({ estimate }) => [estimate.value, estimate.lower, estimate.upper]),
  ]);
  const values = shown.filter((value) => value !== null);
  const [first] = rows;
  const unit = first?.scale ?? percent;
  if (unit.axis === "level") return levelAxis(values);
  if (unit.axis === "from-zero")
    return fromZeroAxis(values, unit.hasWordUnit ? `${sentenceStart(unit.unit)}.` : "");
  const sense = first?.sense ?? "at-least";
  return scale === "stretched" ? stretchedRateAxis(values, sense) : evenRateAxis(values, sense);
}

/** What stands behind the ticks; a unit of several words is too long for it, so that the axis's note says it. */
export function axisUnit({ rows: [first] }: IntervalPicture): string {
  const { unit, hasWordUnit } = first?.scale ?? percent;
  return hasWordUnit ? "" : unit;
}

/** A plot's place inside a picture. */
export interface Plot {
  left: number;
  width: number;
  top: number;
  bottom: number;
}

/** Tick labels from the end that matters, leaving out those that would touch. */
export function axisMarks(axis: Axis, plot: Plot, unit: string, keepRight: boolean): string {
  const size = 12;
  const placed = axis.ticks.map((tick) => ({
    ...tick,
    x: plot.left + plot.width * axis.position(tick.value),
    half: textWidth(tick.label, size) / 2,
  }));
  const ordered = keepRight ? [...placed].reverse() : placed;
  const kept: typeof placed = [];
  for (const tick of ordered) {
    if (kept.every((other) => Math.abs(other.x - tick.x) >= other.half + tick.half + 5)) kept.push(tick);
  }
  const lines = placed.map((tick) =>
    element("line", {
      x1: tick.x,
      x2: tick.x,
      y1: plot.top,
      y2: plot.bottom,
      class: "hair",
      stroke: ink.hair,
      "stroke-width": 0.75,
    }),
  );
  const labels = kept.map((tick) =>
    textAt(tick.x, plot.bottom + 15, tick.label, {
      "text-anchor": "middle",
      "font-size": size,
      class: "second",
      fill: ink.second,
    }),
  );
  const unitLabel = textAt(plot.left + plot.width + (unit.length > 1 ? 18 : 14), plot.bottom + 15, unit, {
    "font-size": size,
    class: "second",
    fill: ink.second,
  });
  return lines.join("") + labels.join("") + unitLabel;
}

/** The good side of a row's limit, tinted. */
export function goodSide(axis: Axis, plot: Plot, limit: number, atLeast: boolean): string {
  const x = plot.left + plot.width * axis.position(limit);
  const right = plot.left + plot.width;
  return element("rect", {
    x: atLeast ? x : plot.left,
    y: plot.top,
    width: Math.max(0, atLeast ? right - x : x - plot.left),
    height: plot.bottom - plot.top,
    class: "good",
    fill: ink.good,
  });
}

/** The limit's rule through the whole height of a row. */
export function limitRule(axis: Axis, plot: Plot, limit: number): string {
  const x = plot.left + plot.width * axis.position(limit);
  return element("line", {
    x1: x,
    x2: x,
    y1: plot.top,
    y2: plot.bottom,
    class: "limit",
    stroke: ink.text,
    "stroke-width": 2,
  });
}

/** The values of the limits on top of their rules, raised where two would touch. Returns the markup and its height. */
export function limitLabels(
  picture: IntervalPicture,
  axis: Axis,
  plot: Plot,
): { markup: string; height: number } {
  const size = 12.5;
  const limits = new Map<number, string>();
  const several = new Set(picture.rows.map((row) => row.limit).filter((limit) => limit !== null)).size > 1;
  for (const row of picture.rows) {
    if (row.limit === null) continue;
    const text = several ? row.scale.stated(row.limit) : limitPhrase(row.limit, row.scale, row.sense);
    limits.set(row.limit, text);
  }
  const placed: { x: number; half: number; level: number; text: string }[] = [];
  for (const [limit, text] of [...limits].sort(([a], [b]) => a - b)) {
    const half = textWidth(text, size) / 2;
    const centre = plot.left + plot.width * axis.position(limit);
    const x = Math.min(Math.max(centre, plot.left + half), plot.left + plot.width - half + 24);
    let level = 0;
    while (placed.some((other) => other.level === level && Math.abs(other.x - x) < other.half + half + 8)) {
      level += 1;
    }
    placed.push({ x, half, level, text });
  }
  const first = Math.min(...placed.map(({ x, half }) => x - half));
  const room = plot.left > 100 || first > plot.left - 10 + textWidth("limits", 12) + 6;
  const heading =
    several && room
      ? textAt(plot.left - 10, plot.top - 6, "limits", {
          "text-anchor": plot.left > 100 ? "end" : "start",
          "font-size": 12,
          class: "second",
          fill: ink.second,
        })
      : "";
  const levels = placed.length === 0 ? 0 : Math.max(...placed.map((label) => label.level)) + 1;
  const markup = placed
    .map((label) =>
      textAt(label.x, plot.top - 6 - 15 * label.level, label.text, {
        "text-anchor": "middle",
        "font-size": size,
        "font-weight": 600,
        class: "ink",
      }),
    )
    .join("");
  return { markup: markup + heading, height: levels * 15 + 6 };
}
